//! What `frames` says about a clip.

use serde_json::json;
use stillcall::footage::{Footage, frames_json, frames_text};

use crate::clips::{H264, base, changed, derived, made, source, turned};

#[test]
fn frames_are_listed_for_other_programs() {
    let clip = turned("turned_90.mp4", [0.0, 1.0, -1.0, 0.0]);
    let footage = Footage::open(&clip).expect("it opens");
    let list = json!(frames_json(&footage, "turned_90.mp4"));
    let keys: Vec<&str> = list.as_object().expect("an object").keys().map(String::as_str).collect();
    assert_eq!(keys, ["clip", "width", "height", "time_base", "frame_count", "frames"]);
    assert_eq!(list["clip"], "turned_90.mp4");
    assert_eq!([&list["width"], &list["height"]], [&json!(144), &json!(256)]);
    assert_eq!(list["time_base"], json!([1, 15360]));
    assert_eq!(list["frame_count"], 120);
    let frames = list["frames"].as_array().expect("a list");
    assert_eq!(
        frames[0],
        json!({"frame": 0, "ticks": 0, "time_s": 0.0, "time_source": "given", "key": true})
    );
    assert_eq!(
        frames[3],
        json!({"frame": 3, "ticks": 1536, "time_s": 0.1, "time_source": "given", "key": false})
    );
    let keys: Vec<usize> = (0..120).filter(|&k| frames[k]["key"] == true).collect();
    assert_eq!(keys, [0, 24, 48, 72, 96]);
}

#[test]
fn a_clip_is_described_in_plain_words() {
    let text = frames_text(&Footage::open(&base()).expect("it opens"));
    for expected in [
        "256 x 144 pixels",
        "h264, yuv420p",
        "120",
        "4.000 s",
        "30 frames a second; 30 on average",
        "even, 33.33 ms",
        "5; longest run from one to the next 24 frames",
        "not turned",
        "BT.601, limited range (assumed",
        "33.33 ms; at 450 degrees a second that is 15 degrees",
    ] {
        assert!(text.contains(expected), "{expected:?} is missing in:\n{text}");
    }
}

#[test]
fn what_is_unusual_is_said() {
    let says = |clip: &std::path::Path, expected: &str| {
        let text = frames_text(&Footage::open(clip).expect("it opens"));
        assert!(text.contains(expected), "{expected:?} is missing in:\n{text}");
    };
    says(&turned("mirrored.mp4", [-1.0, 0.0, 0.0, 1.0]), "mirrored, not turned");
    says(&turned("turned_90.mp4", [0.0, 1.0, -1.0, 0.0]), "144 x 256 pixels (stored as 256 x 144)");
    let options = format!(
        "{} -vf interlace=scan=tff {H264} -flags +ildct+ilme -x264-params tff=1",
        source(2, "256x128", "50"),
    );
    says(&made("interlaced.mp4", &options), "interlaced: each frame holds two instants");
    // Of 2, one second at 30 and one at 240 frames a second: 270 frames in two seconds.
    let two_rates = "-vf settb=1/90000,setpts='if(lt(N\\,30)\\,N/30\\,1+(N-30)/240)/TB' \
                     -fps_mode passthrough -enc_time_base 1:90000 -video_track_timescale 90000";
    let clip = format!("{} {two_rates} {H264}", source(9, "256x144", "30"));
    let clip = made("two_rates.mp4", &clip);
    says(&clip, "135 on average");
    says(&clip, "uneven");
    let raw = derived("raw.h264", &base(), "-c copy -bsf:v h264_mp4toannexb");
    says(&raw, "such times are assumed");
}

/// A full decode names the places that a judge must know of.
#[test]
fn repeated_and_damaged_frames_are_named() {
    let proved = |clip: &std::path::Path| {
        let footage = Footage::open(clip).expect("it opens");
        frames_text(&footage.proved(&|| false).expect("it can be read"))
    };
    let padded = format!("{} -vf fps=30 -c:v ffv1", source(1, "256x144", "10"));
    let clip = made("padded.mkv", &padded);
    let text = proved(&clip);
    let repeated = "Repeated       1 to 2, 4 to 5, 7 to 8, 10 to 11, 13 to 14, 16 to 17, 19 to 20, \
                    22 to 23 and 2 more places\n";
    assert!(text.contains(repeated), "{text}");
    assert!(!text.contains("Damaged"), "{text}");
    let footage = Footage::open(&clip).expect("it opens");
    let footage = footage.proved(&|| false).expect("it can be read");
    let list = json!(frames_json(&footage, "padded.mkv"));
    let first = |k: usize| list["frames"][k]["same_as"].as_u64();
    assert_eq!([4, 5, 6].map(first), [Some(3), Some(3), None]);
    let damaged = changed("damaged.mp4", &base(), |bytes| {
        let middle = bytes.len() / 2;
        bytes[middle..middle + 400].fill(0);
    });
    let text = proved(&damaged);
    let line = text.lines().find(|line| line.starts_with("Damaged ")).unwrap_or_default();
    let first: Option<usize> =
        line.split_whitespace().nth(1).and_then(|k| k.trim_matches(',').parse().ok());
    // The middle of the bytes lies near the middle of the frames.
    assert!(first.is_some_and(|first| (48..72).contains(&first)), "{text}");
}
