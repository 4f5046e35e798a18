//! What was set aside of marks: listed in the window, shown beside them, taken back, settled.

use std::{fs, path::Path};

use stillcall::{
    marks::{self, Desk, Edit, Item, Mark, Seen, StateFolder, Step, What},
    window::Harness,
};

use crate::screens::{assert_says, begin, fresh, marks_of, open, put, saved};

fn remark(desk: &mut Desk, note: &str) {
    let (id, at, note) = (desk.fresh_id(), desk.sheaf().marks[0].at, note.to_owned());
    let remark = Mark { id, at, what: What::Note, seen: Seen::Yes, of: None, note };
    desk.take(Step::Do(Edit::add(Item::Mark(remark)))).unwrap();
}

fn rewrite(desk: &mut Desk, note: &str) {
    let mark = desk.sheaf().marks.iter().find(|mark| mark.what == What::Note).unwrap();
    let mark = Mark { note: note.to_owned(), ..mark.clone() };
    let edit = Edit::change(desk.sheaf(), Item::Mark(mark));
    desk.take(Step::Do(edit)).unwrap();
}

/// A routine with a remark that was written differently here and in a copy beside the marks, which
/// has another one besides.
fn parted(name: &str) -> (Harness, std::path::PathBuf) {
    let (mut window, clip) = fresh(name);
    begin(&mut window);
    put(&mut window, "pull");
    window.save();
    drop(window);
    let (file, state) = (marks_of(&clip, "1"), StateFolder::of_user().unwrap());
    let mut desk = Desk::open(&file, &state).unwrap();
    remark(&mut desk, "arms bent");
    desk.save().unwrap();
    let there = tempfile::tempdir().unwrap();
    let copy = there.path().join("there.json");
    fs::copy(&file, &copy).unwrap();
    rewrite(&mut desk, "arms bent here");
    desk.save().unwrap();
    drop(desk);
    let mut desk = Desk::open(&copy, &StateFolder::at(there.path().join("state"))).unwrap();
    rewrite(&mut desk, "arms bent there");
    remark(&mut desk, "toes");
    desk.save().unwrap();
    fs::copy(&copy, file.with_file_name("bars (conflict).json")).unwrap();
    (open(&clip), clip)
}

fn notes(clip: &Path) -> Vec<String> {
    let sheaf = saved(&marks_of(clip, "1"));
    let notes = sheaf.marks.iter().filter(|mark| mark.what == What::Note);
    notes.map(|mark| mark.note.clone()).collect()
}

#[test]
fn a_conflict_is_shown_side_by_side_and_taken_back() {
    let (mut window, clip) = parted("asides-taken");
    // The notice leads there, by the key on its button.
    assert_says(&mut window, "List what was set aside (Ctrl 1)");
    window.press(&["Escape"]);
    assert!(window.click("Set aside of these marks: 1. List (J)"), "{:?}", window.texts());
    assert_says(&mut window, "A copy beside the marks");
    assert_says(&mut window, "1 thing otherwise than here");
    window.press(&["Return"]);
    assert_says(&mut window, "In the marks");
    assert_says(&mut window, "\"arms bent here\"");
    assert_says(&mut window, "\"arms bent there\"");
    assert_says(&mut window, "before: remark");
    assert_eq!(notes(&clip), ["arms bent here", "toes"], "nothing was done yet");
    assert!(window.click("Take all of it back (T)"));
    assert_says(&mut window, "✓ All of it is in the marks");
    window.press(&["Escape"]);
    assert!(!window.says("Set aside of these marks: 1"), "{:?}", window.texts());
    assert_eq!(notes(&clip), ["arms bent there", "toes"]);
    window.press(&["ctrl+z"]);
    assert_eq!(notes(&clip), ["arms bent here", "toes"], "one step");
    assert_says(&mut window, "Set aside of these marks: 1");
    // The chosen line alone, by keys.
    window.press(&["j", "Return", "Return", "Escape"]);
    assert_eq!(notes(&clip), ["arms bent there", "toes"]);
}

#[test]
fn a_conflict_that_is_settled_no_longer_counts() {
    let (mut window, clip) = parted("asides-kept");
    window.press(&["Escape"]);
    assert_says(&mut window, "Set aside of these marks: 1");
    // In the list itself nothing is decided: what is meant has to be seen first.
    window.press(&["j", "k", "Escape"]);
    assert_says(&mut window, "Set aside of these marks: 1");
    window.press(&["j", "Return", "k"]);
    assert_says(&mut window, "✓ Settled: 1 thing otherwise than here");
    window.press(&["Escape"]);
    assert!(!window.says("Set aside of these marks"), "{:?}", window.texts());
    assert_eq!(notes(&clip), ["arms bent here", "toes"]);
    drop(window);
    let mut window = open(&clip);
    window.press(&["Escape"]);
    assert!(!window.says("Set aside of these marks"), "the next time too: {:?}", window.texts());
}

#[test]
fn nothing_set_aside_is_said_in_the_list() {
    let (mut window, _) = fresh("asides-none");
    begin(&mut window);
    put(&mut window, "pull");
    window.press(&["j"]);
    assert_says(&mut window, "Nothing was ever set aside of these marks.");
    window.press(&["Down", "Return", "t"]);
    assert_says(&mut window, "Nothing was ever set aside of these marks.");
    assert!(window.click("Close (Esc)"));
    assert!(!window.says("Nothing was ever set aside"));
}

/// The list is as the disk is: a version that comes while the marks are open is in it.
#[test]
fn what_is_set_aside_meanwhile_is_counted_after_the_save() {
    let (mut window, clip) = fresh("asides-meanwhile");
    begin(&mut window);
    put(&mut window, "pull");
    window.save();
    let file = marks_of(&clip, "1");
    let there = tempfile::tempdir().unwrap();
    let copy = there.path().join(file.file_name().unwrap());
    fs::copy(&file, &copy).unwrap();
    let mut desk = Desk::open(&copy, &StateFolder::at(there.path().join("state"))).unwrap();
    let mark = Mark { seen: Seen::No, ..desk.sheaf().marks[0].clone() };
    let edit = Edit::change(desk.sheaf(), Item::Mark(mark));
    desk.take(Step::Do(edit)).unwrap();
    desk.save().unwrap();
    // Here the same line is taken away.
    window.press(&["Up", "Delete"]);
    assert!(marks::load(&file, StateFolder::of_user().as_ref()).unwrap().marks.is_empty());
    fs::copy(&copy, &file).unwrap();
    for _ in 0..3 {
        window.save();
    }
    window.press(&["Escape"]);
    assert_says(&mut window, "Set aside of these marks: 1. List (J)");
    window.press(&["j", "Return"]);
    assert_says(&mut window, ", did not happen");
}
