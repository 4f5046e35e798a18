//! A part of a clip cut out in the window, by keys and by the mouse: where it goes is asked, what is
//! noted of the clip is asked before it leaves the club, and what came of it can be opened.

use std::fs;

use stillcall::library::SidecarFile;

use crate::{
    clips,
    screens::{assert_says, begin, fresh, put},
};

#[test]
fn a_routine_is_cut_out_with_its_marks_and_opened() {
    let (mut window, clip) = fresh("cut");
    begin(&mut window);
    window.press(&["shift+Right", "["]);
    put(&mut window, "pull");
    window.press(&["ctrl+x"]);
    assert_says(&mut window, "Cut a part out");
    window.press(&["Tab", "ctrl+a"]);
    window.write("30");
    // A dialogue that is closed leaves all as it was.
    window.answer_dialogue(None);
    window.press(&["Return"]);
    assert_says(&mut window, "First frame");
    let out = clip.with_file_name("part.mp4");
    window.answer_dialogue(Some(&out));
    window.press(&["Return"]);
    assert_says(&mut window, "part.mp4");
    assert_says(&mut window, "1 marks file went along.");
    let record = SidecarFile::open(&out).unwrap().sidecar;
    let [first, last] = record.taken_from.unwrap().frames;
    assert!(first <= 10 && (30..clips::numbered().1.frames.len() as u64).contains(&last));
    assert_says(&mut window, &format!("It holds frames {first} to {last} of the clip."));
    window.press(&["Return"]);
    assert!(window.title().starts_with("part.mp4"), "{}", window.title());
    assert_says(&mut window, "Pull-over");
    assert!(clip.exists());
}

#[test]
fn what_leaves_the_club_asks_for_consent_and_leads_to_what_is_noted() {
    let (mut window, clip) = fresh("cut-outside");
    assert!(window.click("Cut"));
    let outside = clips::folder("cut-outside-there");
    let out = outside.join("part.mp4");
    let _ = fs::remove_file(&out);
    let _ = fs::remove_file(format!("{}.clip.json", out.display()));
    window.answer_dialogue(Some(&out));
    assert!(window.click("Cut it out: where to … (Enter)"));
    assert_says(&mut window, "It may not leave the club's folders.");
    assert_says(&mut window, "✗ No consent is noted for this clip");
    assert!(!out.exists());
    assert!(window.click("What is noted (Ctrl E)"));
    assert_says(&mut window, "What is noted of bars.mp4");
    assert!(window.click("Nobody: drawn, or empty"));
    window.press(&["ctrl+s"]);
    assert_says(&mut window, "Cut a part out");
    window.answer_dialogue(Some(&out));
    assert!(window.click("Cut it out: where to … (Enter)"));
    assert_says(&mut window, "✓ ");
    assert!(out.exists());
    assert!(window.click("Close (Esc)"));
    assert_says(&mut window, "Frame 0 of");
    assert!(clip.exists());
}

#[test]
fn what_cannot_be_cut_is_said_and_nothing_is_written_over() {
    let (mut window, clip) = fresh("cut-wrong");
    let last = clips::numbered().1.frames.len() - 1;
    window.press(&["ctrl+x", "ctrl+a"]);
    window.write("soon");
    window.press(&["Return"]);
    assert_says(&mut window, "First frame: write the number of a frame");
    window.press(&["ctrl+a"]);
    window.write("20");
    window.press(&["Tab", "ctrl+a"]);
    window.write("10");
    window.press(&["Return"]);
    assert_says(&mut window, "The first frame comes before the last.");
    window.press(&["ctrl+a"]);
    window.write("99999");
    window.press(&["Return"]);
    assert_says(&mut window, &format!("The clip's last frame is {last}."));
    window.press(&["ctrl+a"]);
    window.write("30");
    window.answer_dialogue(Some(&clip.with_file_name("part.webm")));
    window.press(&["Return"]);
    assert_says(&mut window, "give it a name that ends in .mp4");
    let there = clip.with_file_name("there.mp4");
    fs::write(&there, "somebody's").unwrap();
    window.answer_dialogue(Some(&there));
    window.press(&["Return"]);
    assert_says(&mut window, "is there already");
    assert_eq!(fs::read_to_string(&there).unwrap(), "somebody's");
    window.press(&["Escape"]);
    assert!(!window.says("Cut a part out"));
}
