//! What is on screen handed over from the window, by keys and by the mouse: a still, a replay that stops
//! on its frame, both as lines; what stands against it, and what a stop leaves.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use iced::Point;
use image::RgbaImage;
use sample_clips_generator::read_strip;
use stillcall::{
    figure::EDGE,
    library::{Home, Ledger, Made},
    window::Harness,
};

use crate::{
    clips,
    oddities::{damaged_clip, damaged_frames, until},
    screens::{assert_says, begin_with_a_leap, fresh, open},
};

const GO: &str = "Hand it over: where to … (Enter)";

/// A clip with the split of a leap measured on its third frame, which is on screen.
fn measured(name: &str) -> (Harness, PathBuf) {
    let (mut window, clip) = fresh(name);
    window.press(&["Right", "Right"]);
    begin_with_a_leap(&mut window);
    window.shot();
    window.press(&["a"]);
    window.shot();
    for (x, y) in [(380.0, 250.0), (260.0, 290.0), (420.0, 250.0), (540.0, 300.0)] {
        window.click_at(Point::new(x, y));
    }
    window.press(&["Return"]);
    (window, clip)
}

/// Notes that nobody is seen on the clip, over the form.
fn note_nobody(window: &mut Harness) {
    window.press(&["ctrl+e"]);
    assert_says(window, "What is noted of");
    assert!(window.click("Nobody: drawn, or empty"));
    window.press(&["ctrl+s"]);
    assert_says(window, "Hand over what is on screen");
}

/// Has the `ffmpeg` program make a PNG of a JPEG.
fn from_jpeg(jpeg: &Path) -> PathBuf {
    let png = jpeg.with_extension("jpg.png");
    let options = "-loglevel error -y -f image2 -c:v mjpeg -i";
    let made = Command::new("ffmpeg").args(options.split(' ')).args([jpeg, &png]).status();
    assert!(made.unwrap().success());
    png
}

fn picture(path: &Path) -> RgbaImage {
    let picture = image::open(path).unwrap().to_rgba8();
    assert_eq!(picture.dimensions(), clips::SIZE);
    picture
}

/// Reads back the number that the generator drew into the picture.
fn number_on(picture: &RgbaImage) -> Option<u64> {
    let luma: Vec<u8> = picture.pixels().map(|pixel| pixel[1]).collect();
    let strip = clips::numbered().1.clip.strip;
    read_strip(strip, &luma, picture.width(), picture.width() as usize).ok()
}

fn names_beside(clip: &Path) -> Vec<String> {
    let beside = fs::read_dir(clip.parent().unwrap()).unwrap();
    let mut names: Vec<String> =
        beside.map(|it| it.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_still_with_its_drawing_takes_two_keys_once_consent_is_noted() {
    let (mut window, clip) = measured("over-still");
    let out = clip.with_file_name("split.png");
    window.answer_dialogue(Some(&out));
    window.press(&["ctrl+h", "Return"]);
    assert_says(&mut window, "It may not be handed over.");
    assert_says(&mut window, "✗ No consent is noted for this clip");
    assert!(!out.exists());
    // What is agreed to for one purpose may not be for another one.
    assert!(window.click("○ publication"));
    assert!(!window.says("It may not be handed over."));
    assert_says(&mut window, "✓ publication");
    note_nobody(&mut window);
    window.press(&["Escape"]);
    assert!(!window.says("Hand over what is on screen"));

    window.answer_dialogue(Some(&out));
    window.press(&["ctrl+h", "Return"]);
    assert_says(&mut window, "split.png");
    assert_says(&mut window, "Frame 2; with what was measured.");
    let drawn = picture(&out);
    assert_eq!(number_on(&drawn), Some(2));
    window.press(&["Return"]);
    assert_says(&mut window, "Frame 2 of");

    // Without the drawing it is the same frame, and not the same picture.
    window.press(&["ctrl+h"]);
    assert!(window.click("○ The picture alone"));
    let bare = clip.with_file_name("bare.jpg");
    window.answer_dialogue(Some(&bare));
    window.press(&["Return"]);
    assert_says(&mut window, "Frame 2; without a drawing.");
    let bare = picture(&from_jpeg(&bare));
    assert_eq!(number_on(&bare), Some(2));
    let far = |a: u8, b: u8| a.abs_diff(b) > 60;
    let differ = drawn.pixels().zip(bare.pixels()).filter(|(a, b)| far(a[1], b[1])).count();
    assert!(differ > 50, "{differ}");
    window.press(&["Return"]);

    // Nobody is seen on lines: their ground is plain.
    window.press(&["ctrl+h"]);
    assert!(window.click("○ Lines instead of the child"));
    let lines = clip.with_file_name("lines.png");
    window.answer_dialogue(Some(&lines));
    assert!(window.click(GO));
    assert_says(&mut window, "Frame 2; as lines, without the picture.");
    let lines = picture(&lines);
    assert_ne!(number_on(&lines), Some(2));
    let plain = lines.pixels().filter(|pixel| pixel.0[..3] == EDGE).count();
    assert!(plain * 2 > (clips::SIZE.0 * clips::SIZE.1) as usize, "{plain}");
    assert!(plain < (clips::SIZE.0 * clips::SIZE.1) as usize);

    if let Some(home) = Home::of_user() {
        let made = Ledger::<Made>::open(&home).unwrap().lines().unwrap();
        assert!(made.iter().any(|line| line.path == out), "a withdrawal would not find it");
    }
}

#[test]
fn a_replay_stops_on_the_frame_and_is_opened() {
    let (mut window, clip) = fresh("over-replay");
    window.press(&["shift+Right"]);
    assert!(window.click("Hand over"));
    assert_says(&mut window, "The picture alone: nothing was measured on this frame.");
    assert!(!window.says("Lines instead of the child"), "there are none");
    assert!(window.click("○ A replay that stops on this frame"));
    assert_says(&mut window, "The picture alone: nothing was measured on these frames.");
    note_nobody(&mut window);
    window.press(&["ctrl+a"]);
    window.write("5");
    window.press(&["Tab", "ctrl+a"]);
    window.write("20");
    window.press(&["Tab"]);
    window.write("hips stay low");
    let out = clip.with_file_name("replay.mp4");
    window.answer_dialogue(Some(&out));
    assert!(window.click(GO));
    assert_says(&mut window, "replay.mp4");
    assert_says(
        &mut window,
        "Frames 5 to 20 at real speed, then at a quarter of it, stopping on frame 10; without a drawing.",
    );
    window.press(&["Return"]);
    assert!(window.title().starts_with("replay.mp4"), "{}", window.title());
    // 16 frames once, each of them four times more, and two seconds of the one that decides.
    let [frames, seconds] = clips::numbered().1.clip.rate;
    let made = 16 + 4 * 16 + 2 * frames / seconds;
    assert_says(&mut window, &format!("Frame 0 of {}", made - 1));
}

#[test]
fn a_replay_that_is_stopped_leaves_nothing() {
    let (mut window, clip) = fresh("over-stopped");
    window.press(&["ctrl+h"]);
    note_nobody(&mut window);
    window.press(&["Down"]);
    let before = names_beside(&clip);
    let out = clip.with_file_name("replay.mp4");
    window.answer_dialogue(Some(&out));
    window.press_once_it_says("Stop (Esc)", "Escape");
    window.press(&["Return"]);
    assert_says(&mut window, "Stopped; nothing was kept.");
    assert_eq!(names_beside(&clip), before);
    // What was filled in is still there.
    assert_says(&mut window, "First frame");
}

#[test]
fn what_cannot_be_handed_over_is_said_and_nothing_is_written_over() {
    let (mut window, clip) = fresh("over-wrong");
    window.press(&["shift+Right", "ctrl+h"]);
    note_nobody(&mut window);
    let refused = |window: &mut Harness, name: &str, why: &str| {
        let out = clip.with_file_name(name);
        let _ = fs::write(&out, "somebody's");
        window.answer_dialogue(Some(&out));
        window.press(&["Return"]);
        assert_says(window, why);
        assert_eq!(fs::read_to_string(&out).unwrap(), "somebody's");
    };
    refused(&mut window, "still.gif", "give it a name that ends in .png or .jpg");
    refused(&mut window, "there.png", "is there already");
    window.press(&["Down"]);
    refused(&mut window, "replay.webm", "give it a name that ends in .mp4");
    refused(&mut window, "there.mp4", "is there already");
    // It stops on the frame on screen, so that this has to be one of them.
    window.press(&["ctrl+a"]);
    window.write("11");
    window.press(&["Return"]);
    assert_says(&mut window, "It stops on frame 10, which has to be one of them.");
    window.press(&["ctrl+a"]);
    window.write("soon");
    window.press(&["Return"]);
    assert_says(&mut window, "First frame: write the number of a frame");
    assert!(window.click("Frame on screen, 10"));
    assert!(!window.says("write the number of a frame"));
    window.press(&["Escape"]);
    assert!(!window.says("Hand over what is on screen"));
}

#[test]
fn a_damaged_frame_says_so_before_and_after_it_is_handed_over() {
    let clip = damaged_clip("over-damaged");
    let hurt = *damaged_frames(&clip).first().unwrap();
    let out = clip.with_file_name("hurt.png");
    let _ = (fs::remove_file(&out), fs::remove_file(format!("{}.clip.json", clip.display())));
    let mut window = open(&clip);
    until(&mut window, "damaged");
    window.press(&vec!["Right"; hurt]);
    window.press(&["ctrl+h"]);
    assert_says(&mut window, &format!("Frame {hurt}, picture: damaged"));
    note_nobody(&mut window);
    window.answer_dialogue(Some(&out));
    window.press(&["Return"]);
    assert_says(&mut window, "1 frame damaged, or may be");
    assert!(out.exists());
}

#[test]
fn the_button_stands_beside_measure_on_a_small_screen() {
    let clip = clips::fresh("over-small");
    let mut window = Harness::open(Some(&clip), [1366, 768], "tiny-skia").unwrap();
    window.shot();
    let texts = window.texts();
    let place = |says: &str| texts.iter().find(|(text, _)| text.starts_with(says)).unwrap().1;
    let all = ["Frame 0 of", "▶ Play", "Measure", "Hand over", "Beside", "Commands ?"];
    let all = all.map(place);
    for pair in all.windows(2) {
        assert!(pair[0].x + pair[0].width <= pair[1].x, "{texts:?}");
    }
    assert!((all[1].y - all[5].y).abs() < 1.0, "one row: {texts:?}");
}
