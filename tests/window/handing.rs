//! Bundles handed out and taken in, in the window.

use std::{
    fs,
    path::{Path, PathBuf},
};

use stillcall::{
    library::{HandedOut, Ledger, quick_id},
    window::Harness,
};

use crate::{
    clips,
    library::{Club, consent},
    screens::assert_says,
};

/// A place for a bundle, with nothing there.
fn bundle(name: &str) -> PathBuf {
    let path = clips::folder("bundles").join(name);
    let _ = fs::remove_file(&path);
    path
}

/// Hands the chosen clip out with its pictures for the club's library.
fn hand_out(window: &mut Harness, out: &Path) {
    window.press(&["Down", "ctrl+b"]);
    window.write("Dunlin club");
    assert!(window.click("○ clips too, for the club library"));
    window.press(&["Return"]);
    assert_says(window, "1 marks file and 1 clip would go. Nothing is handed out yet.");
    window.answer_dialogue(Some(out));
    window.press(&["Return"]);
    assert_says(window, "1 marks file, 1 record and 1 clip; written down as handed out to Dunlin");
}

#[test]
fn a_clip_is_handed_out_and_taken_in_by_another_club() {
    let club = Club::with("hand-from", 3);
    consent(&club.clip("a-real.mp4"));
    let (mut window, out) = (club.wall(), bundle("dunlin.zip"));
    hand_out(&mut window, &out);
    let given = Ledger::<HandedOut>::open(&club.home()).unwrap().lines().unwrap();
    assert_eq!(given.len(), 1);
    assert_eq!((given[0].to.as_str(), given[0].pictures), ("Dunlin club", true));
    assert_eq!(given[0].athletes, ["SC-07"]);
    window.press(&["Return"]);
    assert_says(&mut window, "3 routines found");
    // The other club drops it on its library.
    let other = Club::new("hand-to");
    other.take_in();
    let mut window = other.wall();
    window.drop_file(out.clone());
    assert_says(&mut window, "Take a bundle in");
    assert_says(&mut window, &out.display().to_string());
    window.press(&["Escape"]);
    window.answer_dialogue(Some(&out));
    assert!(window.click("Take a bundle in (Ctrl I)"));
    assert!(window.click("Take it in (Enter)"));
    assert_says(&mut window, "3 files taken in.");
    window.press(&["Return"]);
    assert_says(&mut window, "1 routine found");
    assert_says(&mut window, "SC-07");
    // Once more there is nothing new, and what is not noted any more is asked about.
    window.drop_file(out.clone());
    window.press(&["Return"]);
    assert_says(&mut window, "All of it was here already.");
    window.press(&["Return"]);
    let files = fs::read_dir(other.clip("")).unwrap().flatten().map(|it| it.path());
    let record = files.into_iter().find(|it| it.display().to_string().ends_with(".clip.json"));
    fs::remove_file(record.as_ref().unwrap()).unwrap();
    window.drop_file(out);
    window.press(&["Return"]);
    assert_says(&mut window, "SC-07 agreed to the club library");
    window.press(&["Escape"]);
    assert!(!record.as_ref().unwrap().exists());
    window.press(&["ctrl+i"]);
}

#[test]
fn the_clip_of_a_bundle_is_one_press_away() {
    let club = Club::with("hand-open", 1);
    consent(&club.clip("a-real.mp4"));
    let out = bundle("open.zip");
    hand_out(&mut club.wall(), &out);
    let other = Club::new("hand-opened");
    other.take_in();
    let mut window = other.wall();
    window.drop_file(out);
    window.press(&["Return"]);
    let texts = window.texts();
    let (open, _) = texts.iter().find(|(text, _)| text.starts_with("Open ")).unwrap();
    let name = open.trim_start_matches("Open ").to_owned();
    assert!(window.click(&format!("Open {name}")));
    assert!(window.title().starts_with(&name), "{}", window.title());
    let id = quick_id(&other.clip(&name)).unwrap();
    assert_eq!(name, format!("{id}.mp4"), "files are named by the hash of their clip");
}

#[test]
fn what_may_not_go_stays_behind_and_its_record_is_one_press_away() {
    let club = Club::with("hand-stays", 2);
    let mut window = club.wall();
    window.press(&["Down", "ctrl+b", "Return"]);
    assert_says(&mut window, "✗ Write for whom it is: a club or a role, no person's name.");
    window.write("Dunlin club");
    // Up from marks alone is the last purpose, publication.
    window.press(&["Up", "Return"]);
    assert_says(&mut window, "1 marks file and no clip would go.");
    assert_says(&mut window, "1 clip would stay behind; their marks go all the same:");
    assert_says(&mut window, "a-real.mp4: SC-07 has not agreed to publication");
    assert!(window.click("What is noted (Ctrl E)"));
    assert_says(&mut window, "What is noted of a-real.mp4");
    assert!(window.click("Nobody: drawn, or empty"));
    window.press(&["ctrl+s"]);
    assert_says(&mut window, "Hand out");
    window.press(&["Return"]);
    assert_says(&mut window, "1 marks file and 1 clip would go.");
    // Nothing is written over, and a dialogue that is closed leaves all as it was.
    window.answer_dialogue(None);
    window.press(&["Return"]);
    assert_says(&mut window, "would go. Nothing is handed out yet.");
    let there = bundle("there.zip");
    fs::write(&there, "somebody's").unwrap();
    window.answer_dialogue(Some(&there));
    window.press(&["Return"]);
    assert_says(&mut window, "is there already");
    assert_eq!(fs::read_to_string(&there).unwrap(), "somebody's");
    window.press(&["Escape"]);
    assert_says(&mut window, "2 routines found");
}

#[test]
fn all_that_is_found_is_handed_out_without_pictures() {
    let club = Club::with("hand-all", 5);
    let mut window = club.wall();
    window.press(&["ctrl+b"]);
    assert_says(&mut window, "Choose a clip first.");
    window.write("event beam");
    window.press(&["Return"]);
    let out = bundle("beam.zip");
    window.press(&["ctrl+shift+b"]);
    assert_says(&mut window, "All that \"event beam\" finds: 2 routines.");
    window.write("judges' course");
    window.press(&["Return"]);
    assert_says(&mut window, "2 marks files and no pictures would go.");
    window.answer_dialogue(Some(&out));
    assert!(window.click("Hand it out: where to … (Enter)"));
    assert_says(&mut window, "2 marks files, 0 records and no pictures;");
    assert!(out.exists());
    assert!(window.click("Close (Esc)"));
    window.press(&["ctrl+a"]);
    window.write("event vault");
    window.press(&["Return", "ctrl+shift+b"]);
    assert_says(&mut window, "There is nothing to hand out.");
}

#[test]
fn what_is_no_bundle_is_said() {
    let empty = Club::new("take-empty");
    let mut window = empty.wall();
    let wrong = bundle("wrong.zip");
    fs::write(&wrong, "no archive").unwrap();
    window.drop_file(wrong.clone());
    assert_says(&mut window, "Take a folder of your own in first: it goes into one.");
    let club = Club::with("take-wrong", 1);
    let mut window = club.wall();
    window.answer_dialogue(None);
    window.press(&["ctrl+i"]);
    assert_says(&mut window, "1 routine found");
    window.drop_file(wrong);
    window.press(&["Return"]);
    assert_says(&mut window, "wrong.zip is no bundle of this program");
    assert!(window.click("Cancel (Esc)"));
    assert_says(&mut window, "1 routine found");
}
