//! Frame `k` is the k-th picture of a linear decode, whatever was asked before.

use std::{
    cell::Cell,
    path::{Path, PathBuf},
};

use stillcall::footage::{DecodeError, Decoder, Footage, Soundness};

use crate::{
    boxes,
    clips::{H264, HEVC, base, changed, derived, made, source, usual},
    oracle,
};

/// Compares every kind of access with `ffmpeg`'s own linear decode.
pub(crate) fn check(clip: &Path) -> Footage {
    let footage = Footage::open(clip).unwrap_or_else(|error| panic!("{error}"));
    let expected = oracle::linear(clip, &footage);
    assert_eq!(footage.table().len(), expected.len(), "{}: number of frames", clip.display());
    assert!(!expected.is_empty());
    let orders = [shuffled(expected.len()), backward(expected.len()), around_keys(&footage)];
    // Large pictures are slow in a debug build: without a cache only some are asked for.
    let few = if footage.facts().width * footage.facts().height > 500_000 { 8 } else { 60 };
    for (threads, budget) in [(1, 0), (2, 1 << 30), (4, 0), (2, 1 << 20)] {
        let mut decoder = Decoder::with_budget(&footage, threads, budget);
        let most = if budget < 1 << 30 { few } else { usize::MAX };
        for order in &orders {
            for &k in order.iter().take(most) {
                let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{error}"));
                assert_eq!(picture.frame, k);
                assert_eq!(
                    picture.hash(),
                    expected[k],
                    "{}: frame {k}, {threads} threads, {budget} bytes",
                    clip.display(),
                );
            }
        }
    }
    let proved = footage.proved(&|| false).expect("the clip can be read");
    let ticks = |footage: &Footage| -> Vec<i64> {
        footage.table().entries().iter().map(|entry| entry.ticks.0).collect()
    };
    assert_eq!(ticks(&proved), ticks(&footage), "{}: a full decode agrees", clip.display());
    footage
}

/// Likewise with a clip that is not damaged: none of its frames is said to be.
pub(crate) fn check_sound(clip: &Path) -> Footage {
    is_sound(clip);
    check(clip)
}

/// A full decode finds no damage.
pub(crate) fn is_sound(clip: &Path) {
    let proved =
        Footage::open_proved(clip, None, &|_| ()).unwrap_or_else(|error| panic!("{error}"));
    let entries = proved.table().entries().iter().enumerate();
    let accused: Vec<usize> =
        entries.filter(|(_, it)| it.soundness != Soundness::Sound).map(|(k, _)| k).collect();
    assert!(accused.is_empty(), "{}: said to be damaged: {accused:?}", clip.display());
}

/// Reads the numbers in the pixels, frame by frame.
pub(crate) fn bars(footage: &Footage) -> Vec<u32> {
    let mut decoder = Decoder::new(footage, 1);
    let frames = 0..footage.table().len();
    frames.map(|k| oracle::bars(&decoder.picture(k).expect("a picture"))).collect()
}

/// A fixed shuffle of up to forty frames: steps of a prime's length, which visits each once.
fn shuffled(frames: usize) -> Vec<usize> {
    let step = [37, 41, 43].into_iter().find(|&step| !frames.is_multiple_of(step)).unwrap_or(1);
    (0..frames.min(40)).map(|k| (k * step + 7) % frames).collect()
}

fn backward(frames: usize) -> Vec<usize> {
    (0..frames).rev().take(60).collect()
}

/// Every frame from four before to four after each of the first key pictures: faults sit there.
fn around_keys(footage: &Footage) -> Vec<usize> {
    let entries = footage.table().entries();
    let keys = entries.iter().enumerate().filter(|(_, entry)| entry.key).map(|(k, _)| k).take(6);
    let around = keys.flat_map(|key| (key + 4).saturating_sub(8)..=key + 4);
    let mut around: Vec<usize> = around.filter(|&k| k < entries.len()).collect();
    around.reverse();
    around
}

fn check_bars(clip: &Path, expected: impl IntoIterator<Item = u32>) {
    let footage = check_sound(clip);
    assert_eq!(bars(&footage), expected.into_iter().collect::<Vec<_>>(), "{}", clip.display());
}

#[test]
fn plain_h264_in_each_container() {
    check_bars(&base(), 0..120);
    for name in ["cues.mkv", "quicktime.mov", "plain.ts", "avchd.mts"] {
        let packets = if name.ends_with("mts") { "-c copy -mpegts_m2ts_mode 1" } else { "-c copy" };
        check_bars(&derived(name, &base(), packets), 0..120);
    }
    let fragments = "-c copy -movflags frag_keyframe+empty_moov+default_base_moof";
    check_bars(&derived("fragmented.mp4", &base(), fragments), 0..120);
    check_bars(&derived("faststart.mp4", &base(), "-c copy -movflags +faststart"), 0..120);
}

#[test]
fn pyramids_and_one_long_run() {
    let pyramid = "-c:v libx264 -preset veryfast -threads 1 -crf 18 -g 48 -bf 8 -b_strategy 0 \
                   -x264-params b-pyramid=normal:ref=8";
    check_bars(&made("pyramid.mp4", &format!("{} {pyramid}", usual())), 0..120);
    let one_key = "-c:v libx264 -preset veryfast -threads 1 -crf 18 -g 9999 -keyint_min 9999 \
                   -sc_threshold 0 -bf 3";
    check_bars(&made("one_key.mp4", &format!("{} {one_key}", usual())), 0..120);
    let none = "-c:v libx264 -preset veryfast -threads 1 -crf 18 -g 24 -bf 0";
    check_bars(&made("no_b.mp4", &format!("{} {none}", usual())), 0..120);
}

#[test]
fn open_runs_of_h264() {
    let options = format!("{} {H264} -x264-params open-gop=1", usual());
    let clip = made("open_h264.mp4", &options);
    check_bars(&clip, 0..120);
    check_bars(&derived("open_h264.ts", &clip, "-c copy"), 0..120);
}

#[test]
fn hevc_with_closed_and_open_runs() {
    check_bars(&made("closed_hevc.mp4", &format!("{} {HEVC}:open-gop=0", usual())), 0..120);
    let open = made("open_hevc.mp4", &format!("{} {HEVC}:open-gop=1", usual()));
    check_bars(&open, 0..120);
    for name in ["open_hevc.mkv", "open_hevc.mov", "open_hevc.ts"] {
        check_bars(&derived(name, &open, "-c copy"), 0..120);
    }
}

#[test]
fn a_clip_that_begins_with_undecodable_hevc_pictures() {
    let open = made("open_hevc.mp4", &format!("{} {HEVC}:open-gop=1", usual()));
    let stream = derived("open_hevc.ts", &open, "-c copy");
    let cut = derived("cra_start.ts", &stream, "-ss 1.7 {} -c copy -avoid_negative_ts disabled");
    // 51 packets, of which the three leading ones of the first key picture show nothing.
    check_bars(&cut, 72..120);
}

#[test]
fn uneven_times() {
    let gaps = "-vf select='not(between(mod(n\\,20)\\,5\\,9))',settb=1/90000,\
                setpts='PTS+0.003*sin(N)/TB' -fps_mode passthrough -enc_time_base 1:90000 \
                -video_track_timescale 90000";
    let clip = made("gaps.mp4", &format!("{} {gaps} {H264}", usual()));
    check_bars(&clip, (0..120).filter(|n| !(5..=9).contains(&(n % 20))));
    let slow = "-vf settb=1/90000,setpts='if(lt(N\\,40)\\,N/30\\,if(lt(N\\,80)\\,40/30+(N-40)/240\\,\
                40/30+40/240+(N-80)/30))/TB' -fps_mode passthrough -enc_time_base 1:90000 \
                -video_track_timescale 90000";
    check_bars(&made("slow_motion.mp4", &format!("{} {slow} {H264}", usual())), 0..120);
    let coarse = format!("{} {H264}", source(4, "256x144", "60000/1001"));
    check_bars(&made("coarse_clock.mkv", &coarse), 0..240);
}

#[test]
fn first_time_stamps_that_are_not_zero() {
    check_bars(&derived("late_start.mp4", &base(), "-c copy -use_editlist 0"), 0..120);
    let negative = "-c copy -movflags +negative_cts_offsets";
    check_bars(&derived("negative_offsets.mp4", &base(), negative), 0..120);
    let wrapping = "-c copy -output_ts_offset 95442 -muxdelay 0 -muxpreload 0 -mpegts_copyts 1";
    check_bars(&derived("wrapping_clock.ts", &base(), wrapping), 0..120);
}

#[test]
fn edit_lists() {
    let mid = derived("starts_inside_a_run.mp4", &base(), "-ss 1.0 {} -c copy");
    check_bars(&mid, 30..120);
    // The clip's ticks are 1/15360 s, its first picture lies at tick 1024.
    let edit = |name: &str, edits: &'static [(u32, i32)]| {
        changed(name, &base(), move |bytes| boxes::set_edits(bytes, edits))
    };
    check_bars(&edit("cut_tail.mp4", &[(2000, 1024)]), 0..60);
    check_bars(&edit("media_time_zero.mp4", &[(4000, 0)]), 0..118);
    let two = edit("two_parts.mp4", &[(1000, 1024), (1000, 31744)]);
    check_bars(&two, (0..30).chain(60..90));
}

/// Packets that an edit list hides come before the first frame; a fifth of the clip is gone. The codec
/// tells no order of its own, so that stamps are believed of packets that show nothing.
#[test]
fn frames_that_never_come_behind_a_hidden_beginning_are_not_tried_for_ever() {
    let part_2 = made("part_2.mp4", &format!("{} -c:v mpeg4 -q:v 3 -g 24 -bf 2", usual()));
    let mid = derived("starts_inside_a_run_of_part_2.mp4", &part_2, "-ss 1.0 {} -c copy");
    let gone = changed("starts_inside_and_torn.mp4", &mid, |bytes| {
        let tenth = bytes.len() / 10;
        bytes[tenth..3 * tenth].fill(0);
    });
    let footage = Footage::open(&gone).expect("it opens");
    let mut lost = 0;
    for k in (0..footage.table().len()).rev() {
        let looks = Cell::new(0);
        let stop = || looks.replace(looks.get() + 1) > 10_000;
        let found = Decoder::new(&footage, 2).picture_unless(k, &stop);
        assert!(!matches!(found, Err(DecodeError::Abandoned)), "frame {k}");
        lost += usize::from(found.is_err());
    }
    assert!(lost > 0, "nothing was torn out");
}

#[test]
fn key_tables_that_lie() {
    check_bars(&changed("all_keys.mp4", &base(), |bytes| boxes::drop_key_table(bytes)), 0..120);
    check_bars(&changed("one_key_said.mp4", &base(), |bytes| boxes::keep_first_key(bytes)), 0..120);
    let refresh = "-c:v libx264 -preset veryfast -threads 1 -crf 18 -g 24 -bf 0 -x264-params \
                   intra-refresh=1";
    check_bars(&made("intra_refresh.mp4", &format!("{} {refresh}", usual())), 0..120);
}

/// Every seventh frame has the time of the one before it.
fn doubled() -> PathBuf {
    let none = made(
        "no_b.mp4",
        &format!("{} -c:v libx264 -preset veryfast -threads 1 -crf 18 -g 24 -bf 0", usual()),
    );
    let doubled =
        "-c copy -bsf:v setts=pts='if(eq(mod(N\\,7)\\,3)\\,PREV_INPTS\\,PTS)':dts=DTS-2*512";
    derived("doubled.mkv", &none, doubled)
}

#[test]
fn doubled_and_missing_time_stamps() {
    check_bars(&doubled(), 0..120);
    let annex_b = "-c copy -bsf:v h264_mp4toannexb";
    for name in ["no_stamps.avi", "raw.h264"] {
        let clip = derived(name, &base(), annex_b);
        check_bars(&clip, 0..120);
        let footage = Footage::open(&clip).expect("it opens");
        assert!(footage.facts().has_assumed_times());
        // 30 frames a second: the last of 120 begins at 119/30 s.
        let last = footage.table().entry(119).expect("a last frame").ticks;
        let seconds = footage.facts().time_base.seconds(last);
        assert!((seconds - 119.0 / 30.0).abs() < 0.05, "{name}: {seconds}");
    }
    check_bars(&made("raw.hevc", &format!("{} {HEVC}", usual())), 0..120);
}

#[test]
fn a_recording_that_begins_in_the_middle() {
    let stream = derived("plain.ts", &base(), "-c copy");
    let cut = changed("middle.ts", &stream, |bytes| {
        let packets = bytes.len() / 188;
        bytes.drain(188 * 3..188 * (packets * 3 / 10));
    });
    check_bars(&cut, 48..120);
}

#[test]
fn other_codecs() {
    let part_2 = "-c:v mpeg2video -q:v 3 -g 12 -bf 2";
    let at_25 = source(4, "256x144", "25");
    check_bars(&made("mpeg2.mpg", &format!("{at_25} {part_2}")), 0..100);
    check_bars(&made("mpeg4.avi", &format!("{at_25} -c:v mpeg4 -q:v 3 -g 24 -bf 2")), 0..100);
    check_bars(
        &made("motion.avi", &format!("{} -c:v mjpeg -q:v 3 -pix_fmt yuvj420p", usual())),
        0..120,
    );
    let vp9 = "-c:v libvpx-vp9 -deadline realtime -cpu-used 8 -crf 20 -b:v 0 -auto-alt-ref 1 \
               -lag-in-frames 16 -g 30";
    check_bars(&made("vp9.webm", &format!("{} {vp9}", source(2, "256x144", "30"))), 0..60);
    let ten = "-c:v prores_ks -profile:v 2 -pix_fmt yuv422p10le -timecode 01:00:00:00";
    check_bars(&made("prores.mov", &format!("{} {ten}", source(2, "256x144", "30"))), 0..60);
}

#[test]
fn one_and_two_frames() {
    check_bars(&made("one.mp4", &format!("{} {H264} -frames:v 1", usual())), 0..1);
    check_bars(&made("two.mp4", &format!("{} {H264} -frames:v 2", usual())), 0..2);
}

#[test]
fn odd_sizes_keep_their_last_column_and_row() {
    let small = source(2, "320x180", "30");
    let odd = "-vf scale=321:181:flags=neighbor,setsar=1";
    let vp9 = "-c:v libvpx-vp9 -deadline realtime -cpu-used 8";
    let clip = made("odd.webm", &format!("{small} {odd} {vp9}"));
    let footage = check_sound(&clip);
    assert_eq!([footage.facts().width, footage.facts().height], [321, 181]);
    let picture = Decoder::new(&footage, 1).picture(0).expect("a picture");
    assert_eq!(picture.plane_size(1), [161, 91]);
    check_sound(&made("odd_444.mp4", &format!("{small} {odd},format=yuv444p {H264}")));
}

#[test]
fn interlaced_frames_are_one_step_each_and_reported() {
    let options = format!(
        "{} -vf interlace=scan=tff {H264} -flags +ildct+ilme -x264-params tff=1",
        source(2, "256x128", "50"),
    );
    let footage = check_sound(&made("interlaced.mp4", &options));
    assert_eq!(footage.table().len(), 50);
    assert!(footage.facts().interlaced);
}

#[test]
fn times_come_from_the_file_and_count_from_the_first_frame() {
    let footage = Footage::open(&derived("late_start.mp4", &base(), "-c copy -use_editlist 0"))
        .expect("it opens");
    let table = footage.table();
    assert_eq!(footage.facts().time_base.parts(), [1, 15360]);
    let ticks: Vec<i64> = table.entries().iter().map(|entry| entry.ticks.0).collect();
    assert_eq!(ticks, (0..120).map(|k| k * 512).collect::<Vec<_>>());
    let middle = table.frame_ref(60).expect("a frame");
    assert_eq!([middle.lo.0, middle.ticks.0, middle.hi.0], [59 * 512, 60 * 512, 61 * 512]);
    let [first, last] = [0, 119].map(|k| table.frame_ref(k).expect("a frame"));
    assert_eq!([first.lo.0, last.hi.0], [0, 119 * 512]);
    for (ticks, frame) in [(-5, 0), (0, 0), (511, 0), (512, 1), (1_000_000, 119)] {
        assert_eq!(table.at(stillcall::units::Ticks(ticks)), frame);
    }
    assert_eq!(table.end().0, 120 * 512);
}

/// The cover is larger than the film, and the stream that is marked as the default is smaller than
/// the other: neither size nor place decides. Without a mark the larger one is meant.
#[test]
fn the_video_that_is_meant_is_chosen() {
    let cover = made("large_cover.png", "-f lavfi -i color=red:s=1920x1080:d=0.04 -frames:v 1");
    let cover = cover.display();
    let options = format!(
        "-i {} -i {cover} -map 1 -map 0 -c:v:0 png -c:v:1 copy -disposition:v:0 attached_pic",
        base().display(),
    );
    check_bars(&made("large_cover.mp4", &options), 0..120);
    for (name, other, marks) in [
        ("small_default.mkv", "640x360", "-disposition:v:1 default -disposition:v:0 0"),
        ("no_default.mkv", "64x64", "-disposition:v:1 0 -disposition:v:0 0"),
    ] {
        let options = format!(
            "-f lavfi -i color=gray:s={other}:r=30:d=4 -i {} -map 0 -map 1 -c:v:0 libx264 \
             -c:v:1 copy {marks}",
            base().display(),
        );
        let footage = Footage::open(&made(name, &options)).expect("it opens");
        assert_eq!(bars(&footage), (0..120).collect::<Vec<_>>(), "{name}");
    }
}

/// An instant falls into the frame that is on screen then. In Matroska's thousandths, 60000/1001
/// frames a second begin at 0, 17, 33, 50: what is rounded decides, not the rate. Where two frames
/// share a time, an instant means the last of them: it is the one that stays.
#[test]
fn an_instant_finds_its_frame_on_a_coarse_clock() {
    let coarse = format!("{} {H264}", source(4, "256x144", "60000/1001"));
    let footage = Footage::open(&made("coarse_clock.mkv", &coarse)).expect("it opens");
    let at = |ticks: i64| footage.table().at(stillcall::units::Ticks(ticks));
    assert_eq!(footage.facts().time_base.parts(), [1, 1000]);
    let expected = [(0, 0), (16, 0), (17, 1), (32, 1), (33, 2), (49, 2), (50, 3)];
    for (ticks, frame) in expected {
        assert_eq!(at(ticks), frame, "{ticks} ms");
    }
    for k in 0..240_i64 {
        let begins = (k * 1001 * 1000 + 30_000) / 60_000;
        assert_eq!(at(begins), k as usize, "{begins} ms");
    }
    let footage = Footage::open(&doubled()).expect("it opens");
    let entries = footage.table().entries();
    let pairs: Vec<usize> =
        (1..120).filter(|&k| entries[k].ticks == entries[k - 1].ticks).collect();
    assert!(pairs.len() > 10, "{pairs:?}");
    for k in pairs {
        assert_eq!(footage.table().at(entries[k].ticks), k);
    }
}
