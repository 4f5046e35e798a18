//! What becomes of marks that cannot be saved, and of those that somebody else saved meanwhile.

use std::{fs, path::Path};

use stillcall::{
    marks::{self, At, Desk, Edit, Item, Mark, Seen, StateFolder, Step, What},
    window::Harness,
};

use crate::{
    mounted::Mounted,
    screens::{assert_says, begin, fresh, marks_of, open, put},
};

#[test]
fn a_share_that_goes_away_is_said_until_it_is_back_and_everything_is_saved() {
    let (mut window, clip) = fresh("hiccup");
    begin(&mut window);
    window.save();
    let folder = clip.parent().unwrap().to_owned();
    let away = folder.with_extension("away");
    fs::rename(&folder, &away).unwrap();
    put(&mut window, "pull");
    for _ in 0..3 {
        window.save();
        assert_says(&mut window, "Not saved since");
        assert!(!window.says("cannot write"), "it begins as a sentence: {:?}", window.texts());
        // The complaint can be closed, the sign stays.
        window.press(&["Escape"]);
        assert_says(&mut window, "kept on this computer");
    }
    put(&mut window, "fall");
    fs::rename(&away, &folder).unwrap();
    window.save();
    assert!(!window.says("Not saved"), "{:?}", window.texts());
    assert!(!window.says("annot write"), "{:?}", window.texts());
    let saved = marks::load(&marks_of(&clip, "1"), None).unwrap();
    assert_eq!(saved.marks.len(), 2);
}

/// Enters marks while nothing can be written, and once more when it can; the sign stands between.
fn enters_meanwhile(clip: &Path, window: &mut Harness, mut can_write: impl FnMut(bool)) {
    can_write(false);
    put(window, "pull");
    for _ in 0..3 {
        window.save();
        assert_says(window, "Not saved since");
        window.press(&["Escape"]);
        assert_says(window, "kept on this computer");
    }
    put(window, "fall");
    can_write(true);
    window.save();
    assert!(!window.says("Not saved"), "{:?}", window.texts());
    let saved = marks::load(&marks_of(clip, "1"), None).unwrap();
    assert_eq!(saved.marks.len(), 2);
    let beside = fs::read_dir(clip.parent().unwrap()).unwrap().flatten();
    let hidden = beside.filter(|entry| entry.file_name().to_string_lossy().starts_with('.'));
    assert_eq!(hidden.count(), 0, "something half made is left over");
}

#[test]
#[ignore = "mounts; make kills"]
fn a_window_on_a_share_that_is_read_only_for_a_while_says_so_and_saves() {
    let (mut window, clip) = fresh("read-only");
    begin(&mut window);
    window.save();
    let Some(share) = Mounted::itself(clip.parent().unwrap()) else { return };
    enters_meanwhile(&clip, &mut window, |can| share.read_only(!can));
}

#[test]
#[ignore = "mounts; make kills"]
fn a_window_on_a_disk_that_is_full_for_a_while_says_so_and_saves() {
    let (drawn, folder) = (fresh("full").1, tempfile::tempdir().unwrap());
    let Some(disk) = Mounted::memory(folder.path(), "32m") else { return };
    let clip = folder.path().join(drawn.file_name().unwrap());
    fs::copy(&drawn, &clip).unwrap();
    let mut window = open(&clip);
    begin(&mut window);
    window.save();
    enters_meanwhile(&clip, &mut window, |can| {
        let filler = disk.fill();
        if can {
            fs::remove_file(filler).unwrap();
        }
    });
}

#[test]
fn what_was_set_aside_is_shown_as_long_as_it_holds_something_more() {
    let (mut window, clip) = fresh("aside");
    begin(&mut window);
    put(&mut window, "pull");
    put(&mut window, "fall");
    window.save();
    assert!(!window.says("Set aside"), "{:?}", window.texts());
    drop(window);
    let (file, state) = (marks_of(&clip, "1"), StateFolder::of_user().unwrap());
    // What is in the journal alone is damaged.
    let mut desk = Desk::open(&file, &state).unwrap();
    let (id, at) = (desk.fresh_id(), desk.sheaf().marks[0].at);
    for note in ["first", "second"] {
        let (id, what, note) = (marks::Id(id.0 + note.len() as u64), What::Note, note.to_owned());
        let remark = Item::Mark(Mark { id, at, what, seen: Seen::Yes, of: None, note });
        desk.take(Step::Do(Edit::add(remark))).unwrap();
    }
    drop(desk);
    let journal = state.journal_of(&file);
    let text = fs::read_to_string(&journal).unwrap();
    fs::write(&journal, text.replacen("first", "worst", 1)).unwrap();
    let mut window = open(&clip);
    assert_says(&mut window, "of the journal is damaged");
    assert_says(&mut window, "Set aside of these marks: 1.");
    drop(window);
    let mut desk = Desk::open(&file, &state).unwrap();
    let aside = desk.aside(&state);
    assert!(desk.take_back(&aside[0], &[]).unwrap());
    desk.save().unwrap();
    drop(desk);
    assert!(!open(&clip).says("Set aside"));
}

#[test]
fn what_another_computer_saved_meanwhile_is_joined_and_told() {
    let (mut window, clip) = fresh("joined");
    begin(&mut window);
    put(&mut window, "pull");
    window.save();
    let file = marks_of(&clip, "1");
    // The share's copy on another computer, with journals of its own.
    let there = tempfile::tempdir().unwrap();
    let copy = there.path().join(file.file_name().unwrap());
    fs::copy(&file, &copy).unwrap();
    let state = StateFolder::at(there.path().join("state"));
    let mut desk = Desk::open(&copy, &state).unwrap();
    let at: At = desk.sheaf().marks[0].at;
    let (id, what, note) = (desk.fresh_id(), What::Note, "from the other side".to_owned());
    let remark = Item::Mark(Mark { id, at, what, seen: Seen::Yes, of: None, note });
    desk.take(Step::Do(Edit::add(remark))).unwrap();
    desk.save().unwrap();
    put(&mut window, "fall");
    fs::copy(&copy, &file).unwrap();
    window.save();
    window.save();
    assert_says(&mut window, "came in from another computer");
    assert!(!window.says("Not saved"), "{:?}", window.texts());
    let saved = marks::load(&file, None).unwrap();
    assert_eq!(saved.marks.len(), 3);
    window.press(&["Escape", "ctrl+z"]);
    window.save();
    assert_eq!(marks::load(&file, None).unwrap().marks.len(), 2, "Undo takes it out again");
}

#[test]
fn another_routine_waits_for_marks_that_cannot_be_saved_and_says_what_to_do() {
    let (mut window, clip) = fresh("waits");
    begin(&mut window);
    put(&mut window, "pull");
    window.save();
    window.press(&["shift+Right", "ctrl+n", "Return"]);
    put(&mut window, "bhc");
    window.save();
    put(&mut window, "fall");
    let second = marks_of(&clip, "2");
    fs::write(&second, "no marks").unwrap();
    window.press(&["ctrl+Page_Up"]);
    assert_says(&mut window, "So routine 2 stays open. Nothing of it is lost");
    assert_says(&mut window, "Open the other routine once it is saved");
    assert_says(&mut window, "Back hip circle");
    assert_eq!(fs::read_to_string(&second).unwrap(), "no marks", "it is not written over");
}
