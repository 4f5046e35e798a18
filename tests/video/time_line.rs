//! When frames are shown in files whose stamps fail: clocks that start anew or begin again, stamps
//! that are wrong or missing, gaps. What is expected follows from how each file was made: from its
//! rate and the time that was added, as ratios of whole numbers.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use serde_json::{Value, json};
use stillcall::{
    footage::{Footage, TimeSource, frames_json, frames_text},
    units::Ticks,
};

use crate::{
    clips::{H264, base, changed, derived, made, scratch, source, usual, written},
    exact::{self, bars},
};
use TimeSource::{Assumed, Given, Joined};

/// A time in seconds, as a fraction.
type Seconds = (i64, i64);

/// What a frame is: the number in its pixels, its time, and how that is known.
type Frame = (u32, Seconds, TimeSource);

/// Frames of a plain clip at 30 a second; no time is longer by more than a tick.
fn plain(numbers: std::ops::Range<u32>) -> Vec<Frame> {
    (0..).zip(numbers).map(|(k, number)| (number, (k, 30), Given)).collect()
}

/// One frame's time is not the file's.
fn with(mut frames: Vec<Frame>, k: usize, source: TimeSource) -> Vec<Frame> {
    frames[k].2 = source;
    frames
}

/// Every way to open the clip tells these frames; every way to ask for one tells the same.
fn check(clip: &Path, expected: &[Frame]) {
    let name = clip.display();
    let proved = Footage::open_proved(clip, None, &|_| ()).expect("it opens");
    let opened = Footage::open(clip).expect("it opens");
    let beginning = Footage::open_beginning(clip).expect("it opens");
    for footage in [&proved, &opened] {
        let sources: Vec<_> = footage.table().entries().iter().map(|entry| entry.source).collect();
        let numbers: Vec<_> = expected.iter().map(|(number, ..)| *number).collect();
        assert_eq!(bars(footage), numbers, "{name}");
        assert_eq!(sources, expected.iter().map(|it| it.2).collect::<Vec<_>>(), "{name}");
        for (k, (_, seconds, _)) in expected.iter().enumerate() {
            is_at(footage, k, *seconds, &format!("{name}: frame {k}"));
        }
    }
    times_stay(&beginning, &proved, &format!("{name}: its beginning"));
    times_stay(&opened, &proved, &format!("{name}: stamps"));
    every_instant_is_a_frame(&proved);
    programs_agree(clip, &proved);
}

/// A time is exact where the file's clock can tell it, else a tick off at most.
fn is_at(footage: &Footage, k: usize, (over, under): Seconds, place: &str) {
    let [tick, per_second] = footage.facts().time_base.parts().map(i64::from);
    let Ticks(ticks) = footage.table().entry(k).expect("a frame").ticks;
    let (found, expected) = (ticks * tick * under, over * per_second);
    let unit = tick * under;
    let off = if expected % unit == 0 { 0 } else { unit };
    assert!((found - expected).abs() <= off, "{place}: {ticks} ticks of {tick}/{per_second} s");
}

/// A mark that was put down before a clip is proved stands on the same picture afterwards.
fn times_stay(before: &Footage, after: &Footage, place: &str) {
    let times = |footage: &Footage| -> Vec<_> {
        footage.table().entries().iter().map(|entry| (entry.ticks, entry.source)).collect()
    };
    let (before, after) = (times(before), times(after));
    assert!(after.len() >= before.len(), "{place}");
    for (k, (before, after)) in before.iter().zip(after).enumerate() {
        assert_eq!(*before, after, "{place}: frame {k}");
    }
}

fn every_instant_is_a_frame(footage: &Footage) {
    let table = footage.table();
    let ticks: Vec<i64> = table.entries().iter().map(|entry| entry.ticks.0).collect();
    assert_eq!((table.at(Ticks(-1)), table.at(Ticks(i64::MAX))), (0, ticks.len() - 1));
    for (k, pair) in ticks.windows(2).enumerate() {
        let [from, to] = [pair[0], pair[1]];
        assert!(from < to, "frame {k}");
        let third = (to - from) / 3;
        assert_eq!([from, from + third, to - 1].map(|at| table.at(Ticks(at))), [k; 3]);
        let near = [from, from + third, to - third].map(|at| table.nearest(Ticks(at)));
        assert_eq!(near, [k, k, k + 1].map(Some));
    }
    let last = ticks.len() - 1;
    assert_eq!(table.nearest(Ticks(ticks[last])), Some(last));
    assert_eq!(table.nearest(table.end()), None);
}

/// `frames` lists a frame under a time, and `still` gives that frame for this time.
fn programs_agree(clip: &Path, footage: &Footage) {
    let name = clip.file_name().expect("a name").to_str().expect("a plain name");
    let folder = scratch("time-line").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a place for scratch files");
    fs::copy(clip, folder.join(name)).expect("a copy");
    let run = |arguments: &[&str]| {
        let done = Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .current_dir(&folder)
            .env("STILLCALL_STATE", folder.join("state"))
            .args(arguments)
            .output()
            .expect("the program starts");
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        done.stdout
    };
    let list: Value = serde_json::from_slice(&run(&["frames", name, "--json"])).expect("JSON");
    let rows = &list["frames"];
    assert_eq!(*rows, json!(frames_json(footage, name))["frames"]);
    // Nothing leaves of a clip in which somebody may be seen.
    run(&["library", "note", name, "--nobody"]);
    let still = |which: &str, value: &Value| {
        run(&["still", name, which, &value.to_string(), "--out", "still.png"]);
        fs::read(folder.join("still.png")).expect("a picture")
    };
    let frames = footage.table().len();
    for row in [1, frames / 2 - 1, frames / 2, frames - 2].map(|k| &rows[k]) {
        let [by_time, by_number] =
            [still("--time", &row["time_s"]), still("--frame", &row["frame"])];
        assert!(by_time == by_number, "{name}: frame {}", row["frame"]);
    }
}

/// The plain clip as a transport stream whose clock begins so many seconds later than another's; a
/// second at least, for from zero FFmpeg would move what is decoded before it.
fn stream(later: u32) -> PathBuf {
    let options = format!("-c copy -output_ts_offset {}", later + 1);
    derived(&format!("begins-at-{later}.ts"), &base(), &options)
}

/// Recordings one behind the other, as a camera or a person joins transport streams.
fn joined(name: &str, pieces: &[PathBuf]) -> PathBuf {
    let bytes: Vec<u8> =
        pieces.iter().flat_map(|piece| fs::read(piece).expect("it is made")).collect();
    written(name, &bytes)
}

/// The usual clip without pictures that wait for others.
fn no_b() -> PathBuf {
    let options = "-c:v libx264 -preset veryfast -threads 1 -crf 18 -g 24 -bf 0";
    made("no_b.mp4", &format!("{} {options}", usual()))
}

/// The second recording begins one frame, a thirtieth of a second, behind the first one's last.
fn two_pieces() -> Vec<Frame> {
    let numbers = (0..120).chain(0..120);
    let frames: Vec<Frame> = (0..).zip(numbers).map(|(k, n)| (n, (k, 30), Given)).collect();
    with(frames, 120, Joined)
}

#[test]
fn joined_clips_keep_their_frame_rate() {
    let clip = joined("joined.ts", &[stream(0), stream(0)]);
    check(&clip, &two_pieces());
    exact::is_sound(&clip);
    // FFmpeg takes this for a clock that has begun again after its 26.5 hours.
    let clip = joined("joined-back.ts", &[stream(1000), stream(0)]);
    check(&clip, &two_pieces());
    exact::is_sound(&clip);
}

#[test]
fn a_gap_in_a_recording_stays() {
    let second = (0..120).map(|k| (k as u32, (1000 * 30 + i64::from(k), 30), Given));
    let frames: Vec<Frame> = plain(0..120).into_iter().chain(second).collect();
    let clip = joined("gap.ts", &[stream(0), stream(1000)]);
    check(&clip, &frames);
    exact::is_sound(&clip);
}

/// The 33 bits of an MPEG clock (ISO/IEC 13818-1, 2.4.3.7) at 90 kHz last 95443.7 s.
#[test]
fn a_clock_that_begins_again_goes_on() {
    let plainly = "-mpegts_copyts 1 -muxdelay 0 -muxpreload 0";
    // From a moment before, and from so long before that FFmpeg adds a turn instead.
    for start in ["95441.7", "95300"] {
        let options = format!("-c copy -output_ts_offset {start} {plainly}");
        check(&derived(&format!("turns-{start}.ts"), &base(), &options), &plain(0..120));
    }
    // 95443.717 s, less 200, is more than a minute before the turn; a gap leads up to it.
    let late = "-c copy -bsf:v setts=pts=PTS+gte(N\\,60)*90000*198:dts=DTS+gte(N\\,60)*90000*198";
    let options = format!("{late} -output_ts_offset 95243.7 {plainly}");
    let clip = derived("turns-in-a-gap.ts", &derived("no_b.ts", &no_b(), "-c copy"), &options);
    let frames = (0..120).map(|k| (k as u32, (k + if k < 60 { 0 } else { 198 * 30 }, 30), Given));
    check(&clip, &frames.collect::<Vec<_>>());
}

/// `setts` counts packets in the order of decoding: behind the key picture 48 and the picture 52 that
/// leans on it comes the middle one between them, 50.
#[test]
fn one_wrong_stamp_in_mp4_changes_only_its_own_frame() {
    for (name, by) in [("ahead.mp4", 20), ("far-ahead.mp4", 100_000)] {
        let ahead = format!("-c copy -bsf:v setts=pts=PTS+eq(N\\,50)*{by}*512");
        check(&derived(name, &base(), &ahead), &with(plain(0..120), 50, Assumed));
    }
}

/// The bytes of each block of pictures in Matroska (RFC 9559, 10.2): track 1 as 0x81, two bytes of
/// time from the cluster's on, flags.
fn blocks(bytes: &[u8]) -> Vec<usize> {
    let is_start = |at: &usize| {
        let [id, size] = [bytes[*at], bytes[*at + 1]];
        // The length of the size field follows from its leading zeros.
        let header = 1 + size.leading_zeros() as usize + 1;
        id == 0xa3 && size.leading_zeros() < 4 && bytes.get(at + header) == Some(&0x81) && {
            let length =
                (0..header - 1).fold(0, |sum, n| sum << 8 | usize::from(bytes[at + 1 + n]));
            let length = length - (1 << (7 * (header - 1)));
            let next = bytes.get(at + header + length);
            // Another block, another cluster, or what stands behind all.
            next.is_none_or(|&next| [0xa3, 0x1f, 0x1c].contains(&next))
        }
    };
    let starts = (0..bytes.len() - 9).filter(is_start);
    starts.map(|at| at + 1 + bytes[at + 1].leading_zeros() as usize + 1).collect()
}

#[test]
fn one_wrong_stamp_in_matroska_changes_only_its_own_frame() {
    let plain_clip = derived("no_b.mkv", &no_b(), "-c copy");
    for (name, by) in [("back.mkv", -1500_i16), ("a-little-back.mkv", -40), ("far.mkv", 9000)] {
        let clip = changed(name, &plain_clip, |bytes| {
            let blocks = blocks(bytes);
            assert_eq!(blocks.len(), 120);
            let at = blocks[70] + 1;
            let time = i16::from_be_bytes([bytes[at], bytes[at + 1]]) + by;
            bytes[at..at + 2].copy_from_slice(&time.to_be_bytes());
        });
        check(&clip, &with(plain(0..120), 70, Assumed));
    }
}

/// One flipped bit, the highest, of a picture's stamp in a transport stream: the first byte of a
/// stamp alone is 0010, three bits, 1 (ISO/IEC 13818-1, 2.4.3.6).
#[test]
fn one_flipped_bit_in_a_stream_changes_only_its_own_frame() {
    let clip = changed("flipped.ts", &derived("no_b.ts", &no_b(), "-c copy"), |bytes| {
        let starts = bytes.windows(4).enumerate().filter(|(_, code)| *code == [0, 0, 1, 0xe0]);
        let starts: Vec<usize> = starts.map(|(at, _)| at).collect();
        assert_eq!(starts.len(), 120);
        let stamp = starts[33] + 9;
        assert_eq!(bytes[stamp] >> 4, 2);
        bytes[stamp] ^= 8;
    });
    check(&clip, &with(plain(0..120), 33, Assumed));
}

#[test]
fn frames_without_stamps_follow_the_rate() {
    let annex_b = "-c copy -bsf:v h264_mp4toannexb";
    for name in ["no_stamps.avi", "raw.h264"] {
        let frames: Vec<Frame> =
            plain(0..120).into_iter().map(|(number, time, _)| (number, time, Assumed)).collect();
        let clip = derived(name, &base(), annex_b);
        check(&clip, &frames);
        let text = frames_text(&Footage::open(&clip).expect("it opens"));
        for expected in ["Assumed times  0 to 119\n", "gives 120 frames no time", "4.000 s"] {
            assert!(text.contains(expected), "{expected:?} is missing in:\n{text}");
        }
    }
}

/// One second at 30 frames a second, three without any, and 30 frames at 240 a second.
#[test]
fn a_frame_rate_that_changes_is_kept() {
    let times = "-vf settb=1/90000,setpts='if(lt(N\\,30)\\,N*3000\\,360000+(N-30)*375)' \
                 -fps_mode passthrough -enc_time_base 1:90000 -video_track_timescale 90000";
    let clip = made("gap-and-rates.mp4", &format!("{} {times} {H264}", source(2, "256x144", "30")));
    let slow = plain(0..30).into_iter();
    let frames = slow.chain((0..30).map(|k| (30 + k as u32, (4 * 240 + k, 240), Given)));
    check(&clip, &frames.collect::<Vec<_>>());
}

/// Joined beyond what is read while opening: the likely table, its continuation and the proof tell
/// the same of each frame.
#[test]
fn a_long_joined_clip_is_joined_before_it_is_proved() {
    let long = derived("looped.ts", &base(), "-stream_loop 31 {} -c copy");
    let clip = joined("long-joined.ts", &[long, stream(0)]);
    let beginning = Footage::open_beginning(&clip).expect("it opens");
    assert!(!beginning.is_counted() && !beginning.is_whole());
    let counted = beginning.counted(&|| false).expect("nobody stops it").expect("it is read");
    assert!(!counted.is_counted(), "it is numbered by its stamps");
    let proved = counted.proved(&|| false).expect("it can be read");
    let frames = 33 * 120;
    assert_eq!([counted.table().len(), proved.table().len()], [frames; 2]);
    for footage in [&beginning, &counted, &proved] {
        for k in 0..footage.table().len() {
            let source = if k == 32 * 120 { Joined } else { Given };
            is_at(footage, k, (k as i64, 30), &format!("frame {k}"));
            assert_eq!(footage.table().entries()[k].source, source, "frame {k}");
        }
    }
    let text = frames_text(&proved);
    for expected in ["Joined         3840\n", "joined at frame 3840", "even, 33.33 ms"] {
        assert!(text.contains(expected), "{expected:?} is missing in:\n{text}");
    }
}

/// A stream that begins between key pictures: what cannot be decoded is no frame and counts for no
/// time, before the proof too.
#[test]
fn time_begins_with_the_first_picture_that_decodes() {
    let long = derived("looped-a-little.ts", &base(), "-stream_loop 5 {} -c copy");
    let clip = changed("begins-late.ts", &long, |bytes| {
        let packets = bytes.len() / 188;
        bytes.drain(188 * 3..188 * (packets / 20));
    });
    let likely = Footage::open_beginning(&clip).expect("it opens");
    assert!(!likely.is_counted());
    let proved = likely.proved(&|| false).expect("it can be read");
    assert!((600..719).contains(&proved.table().len()), "{}", proved.table().len());
    assert_eq!(bars(&likely), bars(&proved));
    times_stay(&likely, &proved, "begins late");
}
