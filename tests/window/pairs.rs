//! Two clips side by side: opening the second one, tying, stepping by time, and what goes wrong.

use std::path::{Path, PathBuf};

use stillcall::window::Harness;

use crate::{
    clips,
    screens::{assert_says, begin, fresh, marks_of, open, put, saved},
};

/// One second at 12.5 frames a second: one of its frames lasts as long as two of 25 a second.
fn slow() -> PathBuf {
    clips::coded("slow.mp4", "-vf fps=12.5 -c:v libx264 -pix_fmt yuv420p")
}

/// One second at 25 frames a second.
fn fast() -> PathBuf {
    clips::coded("420.mp4", "-c:v libx264 -pix_fmt yuv420p")
}

fn lay_beside(window: &mut Harness, second: &Path) {
    window.press(&["ctrl+b"]);
    window.write(&second.to_string_lossy());
    window.press(&["Return"]);
}

/// Returns how often a text is on screen.
fn count(window: &mut Harness, part: &str) -> usize {
    window.texts().iter().filter(|(text, _)| text.contains(part)).count()
}

#[test]
fn clips_of_different_rates_are_stepped_by_time() {
    let (mut window, _) = own(&fast(), "rates");
    lay_beside(&mut window, &slow());
    assert_says(&mut window, "Step each to the same moment");
    // Untied, each goes alone.
    window.press(&["Right", "Right", "Right", "Right"]);
    assert_says(&mut window, "Frame 4 of 24");
    assert_says(&mut window, "Frame 0 of 12");
    window.press(&["l", "Right", "t"]);
    assert_says(&mut window, "Tied");
    assert_eq!(count(&mut window, "0 ms from where the two meet"), 2);
    // 80 ms are one frame here and two there.
    window.press(&["Right"]);
    assert_says(&mut window, "Frame 2 of 12");
    assert_says(&mut window, "Frame 6 of 24");
    assert_eq!(count(&mut window, "+80 ms from where the two meet"), 2);
    window.press(&["l", "Left", "Left", "Left", "Left"]);
    assert_says(&mut window, "Frame 2 of 24");
    assert_says(&mut window, "Frame 0 of 12");
    assert_eq!(count(&mut window, "−80 ms from where the two meet"), 2);
}

/// Frames 0 to 4 stand 0.2 s each, and from frame 5, at 1 s, on 0.08 s each.
fn uneven() -> PathBuf {
    let times = "-vf settb=1/90000,setpts='if(lt(N\\,5)\\,N*18000\\,90000+(N-5)*7200)' \
                 -fps_mode passthrough -enc_time_base 1:90000 -video_track_timescale 90000";
    clips::coded("uneven.mp4", &format!("{times} -c:v libx264 -pix_fmt yuv420p"))
}

#[test]
fn a_second_is_a_second_however_long_its_frames_stand() {
    let (mut window, _) = own(&uneven(), "seconds");
    let mut goes = |key: &str, frame: u8| {
        window.press(&[key]);
        assert_says(&mut window, &format!("Frame {frame} of 24"));
    };
    goes("ctrl+shift+Right", 5);
    // 2 s lie 12.5 frames of 0.08 s further on: frame 17 is on screen since 1.96 s.
    goes("ctrl+shift+Right", 17);
    // At 0.96 s it was frame 4, and a second before 0.8 s there is nothing.
    goes("ctrl+shift+Left", 4);
    goes("ctrl+shift+Left", 0);
    goes("End", 24);
    goes("ctrl+shift+Right", 24);
    goes("Home", 0);
    // Beside it, the other clip goes to its frame at 0.96 s, the nearest to 1 s, and back.
    lay_beside(&mut window, &slow());
    window.press(&["t", "ctrl+shift+Right"]);
    assert_says(&mut window, "Frame 5 of 24");
    assert_says(&mut window, "Frame 12 of 12");
    window.press(&["l", "ctrl+shift+Left"]);
    assert_says(&mut window, "Frame 0 of 24");
    assert_says(&mut window, "Frame 0 of 12");
}

#[test]
fn a_clip_without_a_frame_at_that_instant_says_so() {
    let (mut window, _) = own(&fast(), "ends");
    lay_beside(&mut window, &slow());
    // The first frame of the one beside the last of the other.
    window.press(&["End", "l", "t"]);
    assert_says(&mut window, "Frame 24 of 24");
    window.press(&["End"]);
    assert_says(&mut window, "Frame 12 of 12");
    assert_says(&mut window, "no frame here");
    assert_says(&mut window, "this clip ended");
    // The other way, the second one has not begun.
    window.press(&["l", "Home"]);
    assert_says(&mut window, "Frame 0 of 24");
    assert_says(&mut window, "this clip begins 0.96 s later");
    window.press(&["t"]);
    assert!(!window.says("no frame here"), "untied, each shows its own");
}

#[test]
fn the_same_element_ties_two_routines_and_their_sheets_lie_under_them() {
    let (mut before, old) = fresh("pair-old");
    begin(&mut before);
    before.press(&["shift+Right"]);
    put(&mut before, "pull");
    before.press(&["Right", "Right"]);
    put(&mut before, "cast");
    before.save();
    drop(before);
    let (mut window, clip) = fresh("pair-new");
    begin(&mut window);
    window.press(&["Right", "Right", "Right"]);
    put(&mut window, "cast");
    lay_beside(&mut window, &old);
    assert_says(&mut window, "Tied");
    assert_says(&mut window, "Frame 3 of");
    assert_says(&mut window, "Frame 12 of");
    assert_eq!(count(&mut window, "Start value"), 2);
    window.press(&["Right"]);
    assert_says(&mut window, "Frame 4 of");
    assert_says(&mut window, "Frame 13 of");
    // A line of either paper leads both there; no frame of the newer one is so early.
    assert!(window.click("Pull-over"));
    assert_says(&mut window, "Frame 10 of");
    assert_says(&mut window, "Frame 1 of");
    // Either goes on alone where it stands, and its marks can be written on.
    window.press(&["Return"]);
    assert_says(&mut window, "Frame 10 of");
    assert!(window.title().starts_with("bars.mp4 · "));
    put(&mut window, "fall");
    assert_eq!(saved(&marks_of(&old, "1")).marks.len(), 3);
    assert_eq!(saved(&marks_of(&clip, "1")).marks.len(), 1);
}

#[test]
fn a_second_clip_that_cannot_be_opened_is_told_and_the_first_one_stays() {
    let (mut window, _) = fresh("pair-wrong");
    window.press(&["Right", "ctrl+b"]);
    assert_says(&mut window, "Which clip beside this one?");
    window.write("/nowhere/at all.mp4");
    window.press(&["Return"]);
    assert_says(&mut window, "✗");
    assert_says(&mut window, "/nowhere/at all.mp4");
    assert_says(&mut window, "Frame 1 of");
    // A file that is dropped is taken instead.
    window.drop_file(slow());
    assert_says(&mut window, "No marks lie beside this clip");
    assert!(window.title().starts_with("bars.mp4 beside slow.mp4"));
    window.press(&["Escape"]);
    assert_says(&mut window, "Nothing is written yet");
    assert_says(&mut window, "Frame 1 of");
}

/// The same marks have one writer: beside themselves they are told, not opened twice.
#[test]
fn a_clip_beside_itself_does_not_open_its_marks_twice() {
    let (mut window, clip) = fresh("pair-self");
    begin(&mut window);
    put(&mut window, "pull");
    lay_beside(&mut window, &clip);
    assert_says(&mut window, "No marks lie beside this clip");
    assert_says(&mut window, "✗");
    window.press(&["Escape"]);
    assert_says(&mut window, "Pull-over");
}

fn own(clip: &Path, name: &str) -> (Harness, PathBuf) {
    clips::own_state();
    let folder = clips::folder(&format!("pair-{name}"));
    let copy = folder.join("clip.mp4");
    std::fs::copy(clip, &copy).unwrap();
    (open(&copy), copy)
}
