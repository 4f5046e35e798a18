//! A part of a clip cut out in the window, by keys and by the mouse: where it goes is asked, what is
//! noted of the clip is asked before it leaves the club, and what came of it can be opened.

use std::{cell::Cell, fs};

use stillcall::{
    copies::{self, CutWish},
    judged::Judging,
    library::{Judges, Purpose, SidecarFile, Standing},
    marks::seal,
    proofs,
};

use crate::{
    clips,
    screens::{assert_says, begin, fresh, marks_of, put, saved},
};

#[test]
fn a_routine_is_cut_out_with_its_marks_and_opened() {
    let (mut window, clip) = fresh("cut");
    begin(&mut window);
    window.press(&["shift+Right", "["]);
    put(&mut window, "pull");
    // What the judge saw is the reference, and stays it in the part.
    window.save();
    let marks = marks_of(&clip, "1");
    let judges = Judges::of(std::slice::from_ref(&marks), &mut Judging::new(None)).unwrap();
    judges.agree_on(&marks, &Judging::new(None)).unwrap();
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
    let seal_of = |name: &str| Some(seal(&saved(&out.with_file_name(name))));
    assert_eq!(record.agreed[0].standing(seal_of), Standing::Holds);
    assert_eq!(record.agreed[0].marks, "part.mp4.1.J-9.marks.json");
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

/// The same as the window does it, stopped before its end.
#[test]
fn a_cut_that_is_stopped_leaves_nothing() {
    let clip = clips::fresh("cut-stopped");
    let footage = proofs::open_proved(&clip, &|_| ()).unwrap();
    let out = clip.with_file_name("part.mp4");
    let span = [10, 30].map(|k| footage.table().entry(k).unwrap().ticks);
    let wish = CutWish { span, sound: false, out: &out, purpose: Purpose::Training };
    // At once, while packets are written, and after that.
    for asked in [0, 10, usize::MAX] {
        let times = Cell::new(0);
        let stop = || times.replace(times.get() + 1) >= asked;
        let done = copies::cut(&footage, &wish, (None, None), &stop);
        match done {
            Err(error) => assert!(error.is_stopped() && asked < usize::MAX, "{error}"),
            Ok(_) => assert_eq!(asked, usize::MAX),
        }
        let there = fs::read_dir(clip.parent().unwrap()).unwrap().count();
        assert_eq!(there, if asked < usize::MAX { 1 } else { 3 }, "the clip; the part, its record");
    }
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
