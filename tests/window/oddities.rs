//! What is unusual about a clip is said beside its frames.

use std::{
    fs,
    path::{Path, PathBuf},
    time::Duration,
};

use stillcall::{
    footage::{Footage, Soundness},
    window::Harness,
};

use crate::{
    clips,
    screens::{assert_says, open},
};

/// Waits until the window says something that it finds out when nobody waits for it.
pub(crate) fn until(window: &mut Harness, words: &str) {
    for _ in 0..600 {
        window.settle();
        if window.says(words) {
            return;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    assert_says(window, words);
}

#[test]
fn interlacing_is_said() {
    let options = "-vf scale=480:272,interlace=scan=tff -c:v libx264 -flags +ildct+ilme -x264-params tff=1 \
                   -pix_fmt yuv420p";
    let mut window = open(&clips::coded("interlaced.mp4", options));
    until(&mut window, "interlaced: each frame holds two instants");
}

/// Every picture three times, as phones pad a slow camera's.
#[test]
fn a_repeated_picture_names_the_first_of_its_kind() {
    let mut window = open(&clips::coded("padded.mkv", "-vf fps=75 -c:v ffv1"));
    until(&mut window, "repeat the picture before them");
    assert!(!window.says("same picture as"), "nothing comes before the first");
    for k in 1..6 {
        window.press(&["Right"]);
        // Pictures begin at whole twenty-fifths, which are every third seventy-fifth.
        let same = format!("Frame {k} of 74, same picture as frame {}", k / 3 * 3);
        assert_eq!(window.says(&same), k % 3 != 0, "frame {k}");
    }
}

/// A stream of one second at 25 frames a second, twice: its clock starts anew in between.
#[test]
fn where_clips_are_joined_is_said_and_where_times_are_assumed() {
    let coding = "-c:v libx264 -g 12 -bf 0 -pix_fmt yuv420p";
    let piece = fs::read(clips::coded("piece.ts", coding)).unwrap();
    let clip = clips::folder("joined").join("joined.ts");
    fs::write(&clip, piece.repeat(2)).unwrap();
    let mut window = open(&clip);
    until(&mut window, "joined at frame 25");
    window.press(&["Right"; 24]);
    assert_says(&mut window, "Frame 24 of 49");
    assert!(!window.says("joined here"));
    window.press(&["Right"]);
    assert_says(&mut window, "Frame 25 of 49");
    assert_says(&mut window, "joined here");
    window.press(&["Right"]);
    assert_says(&mut window, "Frame 26 of 49");
    assert!(!window.says("joined here") && !window.says("time assumed"));

    let mut window = open(&clips::coded("bare.h264", coding));
    until(&mut window, "gives 25 frames no time");
    window.press(&["Right"]);
    assert_says(&mut window, "time assumed");
}

/// Returns a clip whose middle was overwritten with zeros.
pub(crate) fn damaged_clip(name: &str) -> PathBuf {
    let whole = clips::coded("whole.mp4", "-c:v libx264 -g 5 -bf 0 -crf 18 -pix_fmt yuv420p");
    let clip = clips::folder(name).join("damaged.mp4");
    let mut bytes = fs::read(whole).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle..middle + 400].fill(0);
    fs::write(&clip, bytes).unwrap();
    clip
}

#[test]
fn a_damaged_frame_says_so_and_can_be_stepped_past() {
    let clip = damaged_clip("damaged");
    let damaged = damaged_frames(&clip);
    let hurt = *damaged.first().unwrap();
    let after = (hurt..25).find(|frame| !damaged.contains(frame)).unwrap();

    let mut window = open(&clip);
    until(&mut window, "damaged");
    assert!(window.says("Frame 0 of 24") && !window.says("picture: damaged"));
    window.press(&vec!["Right"; hurt]);
    assert_says(&mut window, &format!("Frame {hurt} of 24"));
    assert_says(&mut window, "picture: damaged");
    window.press(&vec!["Right"; after - hurt]);
    assert_says(&mut window, &format!("Frame {after} of 24"));
    assert!(!window.says("picture: damaged"));
}

pub(crate) fn damaged_frames(clip: &Path) -> Vec<usize> {
    let footage = Footage::open(clip).unwrap().proved(&|| false).unwrap();
    let entries = footage.table().entries().iter().enumerate();
    entries
        .filter(|(_, entry)| entry.soundness == Soundness::Damaged)
        .map(|(frame, _)| frame)
        .collect()
}

/// Draws the window five times a second, as a slow machine would, until `is_done` says so of the
/// frame that it names; returns the frames named.
fn slowly(window: &mut Harness, is_done: impl Fn(&mut Harness, u64) -> bool) -> Vec<u64> {
    let mut frames = Vec::new();
    for _ in 0..100 {
        std::thread::sleep(Duration::from_millis(200));
        window.shot();
        let texts = window.texts();
        let place = texts.iter().find_map(|(text, _)| text.strip_prefix("Frame ")).unwrap();
        let frame = place.split(' ').next().unwrap().parse().unwrap();
        frames.push(frame);
        if is_done(window, frame) {
            break;
        }
    }
    frames
}

/// 25 pictures a second: at half speed every one is shown for 80 ms or longer.
#[test]
fn a_slow_machine_drops_pictures_at_real_speed_and_says_so_and_none_at_half_speed() {
    let mut window = open(&clips::coded("slowly.mkv", "-c:v ffv1"));
    window.press_at_once("2");
    window.press_at_once("space");
    let frames = slowly(&mut window, |_, frame| frame > 4);
    assert!(frames.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{frames:?}");
    assert_eq!(frames.last(), Some(&5), "{frames:?}");
    assert!(!window.says("dropped"));
    window.press_at_once("space");
    window.press(&["Home"]);
    window.press_at_once("1");
    window.press_at_once("space");
    // It stays said when the clip is over, and until one goes elsewhere.
    slowly(&mut window, |window, _| window.says("Play"));
    assert_says(&mut window, "dropped");
    window.press(&["Home"]);
    assert!(!window.says("dropped"), "that was an earlier look");
    // Also where not one was drawn before the clip was over.
    window.press_at_once("space");
    std::thread::sleep(Duration::from_millis(1_500));
    slowly(&mut window, |window, _| window.says("Play"));
    assert_says(&mut window, "dropped");
}
