//! The clips hold the pictures and time stamps that their truth files say.

use std::path::Path;
use std::process::Command;

use sample_clips_generator::truth::EventKind;
use sample_clips_generator::{
    Codec, Groups, Options, Params, Strip, Timing, Truth, generate, read_strip, truth_path,
};

/// A small, short clip: the turn takes 3 s.
fn options(dir: &Path, name: &str) -> Options {
    Options { size: (320, 180), crf: 23, ..Options::new("turn-half", dir.join(name)) }
}

fn run(program: &str, arguments: &[&str]) -> Vec<u8> {
    let out = Command::new(program).args(arguments).output().unwrap();
    assert!(out.status.success(), "{program}: {}", String::from_utf8_lossy(&out.stderr));
    out.stdout
}

/// Decodes a clip as it is coded and returns the number on each frame.
fn numbers(options: &Options, truth: &Truth) -> Vec<u64> {
    let path = options.out.to_str().unwrap();
    let grey = "-map 0:v -fps_mode passthrough -f rawvideo -pix_fmt gray -".split(' ');
    let arguments = ["-v", "error", "-noautorotate", "-i", path].into_iter().chain(grey);
    let pictures = run("ffmpeg", &arguments.collect::<Vec<_>>());
    let (w, h) = (truth.clip.coded_width, truth.clip.coded_height);
    pictures
        .chunks_exact((w * h) as usize)
        .map(|p| read_strip(options.strip, p, w, w as usize).unwrap())
        .collect()
}

/// The time stamps that the ffprobe program reports, in presentation order.
fn stamps(options: &Options) -> Vec<i64> {
    let path = options.out.to_str().unwrap();
    let show =
        ["-v", "error", "-select_streams", "v", "-show_entries", "frame=pts", "-of", "csv=p=0"];
    let text = run("ffprobe", &[&show[..], &[path]].concat());
    let text = String::from_utf8(text).unwrap();
    let lines = text.lines().map(|l| l.trim_end_matches(',')).filter(|l| !l.is_empty());
    lines.map(|l| l.parse().unwrap()).collect()
}

fn check(options: &Options) -> Truth {
    let truth = generate(options).unwrap();
    let expected: Vec<u64> = (0..truth.frames.len() as u64).collect();
    assert_eq!(numbers(options, &truth), expected, "{options:?}");
    let ticks: Vec<i64> = truth.frames.iter().map(|f| f.ticks).collect();
    assert_eq!(stamps(options), ticks, "{options:?}");
    truth
}

#[test]
fn every_frame_carries_its_number_and_time_stamp() {
    let dir = tempfile::tempdir().unwrap();
    let plain = |name| options(dir.path(), name);
    check(&plain("plain.mp4"));
    check(&Options { strip: Strip::Full, rate: (30_000, 1001), ..plain("full.mov") });
    check(&Options { timing: Timing::Uneven, b_frames: 3, ..plain("uneven.mp4") });
    check(&Options { timing: Timing::Uneven, ..plain("uneven.mkv") });
    check(&Options { rate: (60, 1), b_frames: 0, gop: 1, ..plain("keys.mkv") });
    check(&Options { start_at: 7777, ..plain("late.mp4") });
    check(&Options { start_at: 1234, ..plain("late.mkv") });
    let open = Options { groups: Groups::Open, gop: 12, b_frames: 3, ..plain("open.mp4") };
    check(&open);
    check(&Options { codec: Codec::Hevc, out: dir.path().join("open-hevc.mp4"), ..open });
    check(&Options { codec: Codec::Hevc, timing: Timing::Uneven, ..plain("hevc.mkv") });
}

/// Frames last from half to twice the nominal time of 1/30 s.
#[test]
fn uneven_time_stamps_are_uneven() {
    let dir = tempfile::tempdir().unwrap();
    let uneven = Options { timing: Timing::Uneven, ..options(dir.path(), "uneven.mp4") };
    let truth = check(&uneven);
    let steps: Vec<i64> = truth.frames.windows(2).map(|w| w[1].ticks - w[0].ticks).collect();
    assert_eq!((steps.iter().min(), steps.iter().max()), (Some(&1500), Some(&6000)));
}

/// The ffmpeg program turns each clip back: upright, all four are nearly the same picture.
#[test]
fn turned_clips_are_shown_upright() {
    let dir = tempfile::tempdir().unwrap();
    let upright = |rotate: u16| {
        let name = format!("turned-{rotate}.mp4");
        let clip = Options { rotate, strip: Strip::None, ..options(dir.path(), &name) };
        let truth = generate(&clip).unwrap();
        assert_eq!((truth.clip.width, truth.clip.height), (320, 180));
        let path = clip.out.to_str().unwrap();
        let one = "-frames:v 1 -f rawvideo -pix_fmt gray -".split(' ');
        run("ffmpeg", &["-v", "error", "-i", path].into_iter().chain(one).collect::<Vec<_>>())
    };
    let plain = upright(0);
    assert_eq!(plain.len(), 320 * 180);
    for rotate in [90, 180, 270] {
        let turned = upright(rotate);
        assert_eq!(turned.len(), plain.len());
        let off: u64 = plain.iter().zip(&turned).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        let mean = off as f64 / plain.len() as f64;
        assert!(mean < 3.0, "{rotate}: pictures differ by {mean:.1}");
    }
    let strip = Options { rotate: 90, ..options(dir.path(), "strip.mp4") };
    check(&strip);
}

#[test]
fn same_options_give_same_truth_and_same_file() {
    let dir = tempfile::tempdir().unwrap();
    let made = |name: &str| {
        let folder = dir.path().join(name);
        std::fs::create_dir(&folder).unwrap();
        let clip = options(&folder, "clip.mp4");
        generate(&clip).unwrap();
        (std::fs::read(&clip.out).unwrap(), std::fs::read(truth_path(&clip)).unwrap())
    };
    assert!(made("one") == made("two"));
}

#[test]
fn the_truth_file_reads_back() {
    let dir = tempfile::tempdir().unwrap();
    let clip = options(dir.path(), "clip.mp4");
    let truth = generate(&clip).unwrap();
    let text = std::fs::read_to_string(truth_path(&clip)).unwrap();
    let back: Truth = serde_json::from_str(&text).unwrap();
    assert_eq!(back, truth);
}

/// Heel lift to heel drop is the turn asked for, seen in the standing foot's heading.
#[test]
fn a_turn_is_as_large_as_asked_for() {
    let dir = tempfile::tempdir().unwrap();
    for turn in [160.0, 180.0, 360.0] {
        let params = Params { turn: Some(turn), peak: None };
        let clip = Options { params, ..options(dir.path(), "turn.mp4") };
        let truth = generate(&clip).unwrap();
        let frame = |kind| {
            let mut events =
                truth.events.iter().filter(|e| e.kind == kind && e.part == "left_foot");
            let event = events.next().unwrap();
            assert!(events.next().is_none(), "one {kind:?} only");
            event
        };
        let from = &truth.frames[frame(EventKind::HeelLift).frame_before as usize];
        let to = &truth.frames[frame(EventKind::HeelDrop).frame as usize];
        let heading = |f: &sample_clips_generator::truth::FrameTruth| f.angles.heading[0].unwrap();
        let turned = (heading(to) - heading(from)).rem_euclid(360.0);
        let off = (turned - turn + 180.0).rem_euclid(360.0) - 180.0;
        assert!(off.abs() < 0.5, "{turned} for {turn}");
    }
}

fn kinds(motion: &str, wanted: &[EventKind]) -> Vec<(EventKind, String, String)> {
    let dir = tempfile::tempdir().unwrap();
    let clip = Options { size: (128, 128), ..Options::new(motion, dir.path().join("clip.mp4")) };
    let truth = generate(&clip).unwrap();
    let events = truth.events.into_iter().filter(|e| wanted.contains(&e.kind));
    events.map(|e| (e.kind, e.part, e.on)).collect()
}

#[test]
fn vaults_touch_what_their_names_say() {
    use EventKind::{Contact, Fall, Landing};
    let touched = |motion| kinds(motion, &[Contact, Landing, Fall]);
    let landing = (Landing, String::new(), "mat".to_owned());
    let contact = |part: &str| (Contact, part.to_owned(), "stack".to_owned());
    for clean in ["vault-handspring-clean", "vault-half-on", "vault-half-off"] {
        assert_eq!(touched(clean), std::slice::from_ref(&landing), "{clean}");
    }
    assert_eq!(touched("vault-brush"), [contact("hips"), landing.clone()]);
    assert_eq!(touched("vault-head-in-support"), [contact("head"), landing.clone()]);
    assert_eq!(touched("vault-landed-in-support"), [contact("hips")]);
}

#[test]
fn the_bars_routine_holds_its_elements_in_order() {
    use EventKind::{CastPeak, HandContact, HandRelease, Landing, SwingPeak};
    for motion in ["bars-routine", "bars-routine-clean"] {
        let all = kinds(motion, &[HandContact, HandRelease, CastPeak, SwingPeak, Landing]);
        let left = all.into_iter().filter(|(_, part, _)| part != "right_hand");
        let order: Vec<(EventKind, String)> = left.map(|(kind, _, on)| (kind, on)).collect();
        let on = |kind, on: &str| (kind, on.to_owned());
        assert_eq!(
            order,
            [
                on(HandContact, "low bar"),
                on(CastPeak, ""),
                on(HandRelease, "low bar"),
                on(HandContact, "high bar"),
                on(SwingPeak, ""),
                on(SwingPeak, ""),
                on(SwingPeak, ""),
                on(HandRelease, "high bar"),
                on(Landing, "mat"),
            ],
            "{motion}"
        );
    }
}
