//! What was set aside of marks is listed, shown and taken back by the command.

use std::{
    fs,
    process::{Command, Output},
};

use stillcall::marks::{Desk, Edit, Id, Item, Mark, Sheaf, StateFolder, Step, load};

use super::journals::{Place, add, note};

impl Place {
    fn run(&self, arguments: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stillcall"));
        command.arg("aside").arg(self.file()).args(arguments);
        command.env("STILLCALL_STATE", self.state.path()).env("TZ", "UTC").output().unwrap()
    }

    fn says(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert!(output.status.success(), "{arguments:?}: {output:?}");
        String::from_utf8(output.stdout).unwrap()
    }

    fn open(&self) -> Desk {
        Desk::open(&self.file(), &self.state).unwrap()
    }

    fn notes(&self) -> Vec<String> {
        let sheaf = load(&self.file(), Some(&self.state)).unwrap();
        sheaf.marks.iter().map(|mark| mark.note.clone()).collect()
    }

    /// Marks with so many remarks, saved.
    fn saved(&self, count: u32) -> Desk {
        let mut desk = Desk::create(&self.file(), Sheaf::default(), &self.state).unwrap();
        for place in 0..count {
            add(&mut desk, place);
        }
        desk.save().unwrap();
        desk
    }
}

fn rewrite(desk: &mut Desk, id: u64, text: &str) {
    let Item::Mark(mark) = note(Id(id), 0) else { panic!("a remark is a mark") };
    let edit = Edit::change(desk.sheaf(), Item::Mark(Mark { note: text.to_owned(), ..mark }));
    desk.take(Step::Do(edit)).unwrap();
}

#[test]
fn nothing_set_aside_is_said() {
    let place = Place::new();
    drop(place.saved(1));
    assert!(place.says(&[]).contains("nothing was ever set aside"));
    let output = place.run(&["--show", "1"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("there is no 1 in the list"));
}

#[test]
fn steps_behind_a_damaged_line_are_taken_back_as_one_step() {
    let place = Place::new();
    let mut desk = place.saved(2);
    for number in 2..6 {
        add(&mut desk, number);
    }
    drop(desk);
    // The step of "note 2" is damaged; the three after it are whole and do not count.
    let text = fs::read_to_string(place.journal()).unwrap();
    fs::write(place.journal(), text.replacen("\"note 2\"", "\"note X\"", 1)).unwrap();
    drop(place.open());
    assert_eq!(place.notes(), ["note 0", "note 1"]);
    let list = place.says(&[]);
    assert!(list.contains("journal with a damaged end, 5 steps: 3 not in the marks"), "{list}");
    assert!(list.contains(".torn-1"), "{list}");
    let shown = place.says(&["--show", "1"]);
    assert!(shown.contains("only there: remark in place 5, \"note 4\""), "{shown}");
    assert!(place.says(&["--take", "1"]).contains("taken back"));
    assert_eq!(place.notes(), ["note 0", "note 1", "note 3", "note 4", "note 5"]);
    assert!(place.says(&[]).contains("all of it is in the marks"));
    let mut desk = place.open();
    desk.take(Step::Undo).unwrap();
    assert_eq!(desk.sheaf().marks.len(), 2, "one step");
}

#[test]
fn a_journal_is_listed_whose_first_line_is_damaged() {
    let place = Place::new();
    let mut desk = Desk::create(&place.file(), Sheaf::default(), &place.state).unwrap();
    add(&mut desk, 0);
    drop(desk);
    let text = fs::read_to_string(place.journal()).unwrap();
    fs::write(place.journal(), text.replacen("document", "decument", 1)).unwrap();
    drop(place.open());
    let list = place.says(&[]);
    assert!(list.contains("1 step: 1 not in the marks"), "{list}");
    place.says(&["--take", "1"]);
    assert_eq!(place.notes(), ["note 0"]);
}

#[test]
fn what_differs_is_shown_side_by_side_and_chosen() {
    let place = Place::new();
    drop(place.saved(3));
    // The same marks on another computer, which a sync client brings back under another name.
    let there = tempfile::tempdir().unwrap();
    let copy = there.path().join("meet.json");
    fs::copy(place.file(), &copy).unwrap();
    let mut desk = Desk::open(&copy, &StateFolder::at(there.path().join("state"))).unwrap();
    rewrite(&mut desk, 1, "first there");
    rewrite(&mut desk, 2, "second there");
    desk.save().unwrap();
    let mut desk = place.open();
    rewrite(&mut desk, 1, "first here");
    rewrite(&mut desk, 2, "second here");
    desk.save().unwrap();
    drop(desk);
    fs::copy(&copy, place.file().with_file_name("meet (1).json")).unwrap();
    let list = place.says(&[]);
    assert!(list.contains("copy beside the marks, 3 marks, 0 readings: 2 different"), "{list}");
    let shown = place.says(&["--show", "1"]);
    for line in [
        "  here:   remark in place 1, \"first here\"",
        "  there:  remark in place 1, \"first there\"",
        "  before: remark in place 1, \"note 0\"",
    ] {
        assert!(shown.contains(line), "{line} is not in {shown}");
    }
    let output = place.run(&["--take", "1", "--only", "7"]);
    assert!(String::from_utf8_lossy(&output.stderr).contains("not among what differs there: 1, 2"));
    place.says(&["--take", "1", "--only", "2"]);
    assert_eq!(place.notes(), ["first here", "second there", "note 2"]);
    assert!(place.says(&[]).contains("1 different from the marks"));
}

#[test]
fn a_journal_of_where_the_marks_lay_before_is_found() {
    let place = Place::new();
    let mut desk = place.saved(1);
    add(&mut desk, 1);
    // Killed before it was saved, and then the folder is renamed by hand.
    drop(desk);
    let moved = place.file().with_file_name("moved.mp4.1.J-2.marks.json");
    fs::rename(place.file(), &moved).unwrap();
    let desk = Desk::open(&moved, &place.state).unwrap();
    assert_eq!(desk.sheaf().marks.len(), 1);
    let all = desk.aside(&place.state);
    assert_eq!(all.len(), 1);
    assert_eq!(all[0].beyond.as_ref().unwrap().joined.len(), 1);
}

/// Marks with a copy beside them from another computer, of which one thing differs.
fn parted(place: &Place) -> Desk {
    drop(place.saved(2));
    let there = tempfile::tempdir().unwrap();
    let copy = there.path().join("meet.json");
    fs::copy(place.file(), &copy).unwrap();
    let mut desk = Desk::open(&copy, &StateFolder::at(there.path().join("state"))).unwrap();
    rewrite(&mut desk, 1, "there");
    desk.save().unwrap();
    let mut desk = place.open();
    rewrite(&mut desk, 1, "here");
    desk.save().unwrap();
    drop(desk);
    fs::copy(&copy, place.file().with_file_name("meet (1).json")).unwrap();
    let desk = place.open();
    assert_eq!(open_ones(place, &desk), 1);
    desk
}

fn open_ones(place: &Place, desk: &Desk) -> usize {
    desk.aside(&place.state).iter().filter(|aside| aside.has_more()).count()
}

#[test]
fn what_was_settled_by_writing_it_anew_no_longer_counts() {
    let place = Place::new();
    let mut desk = parted(&place);
    rewrite(&mut desk, 1, "what both meant");
    assert_eq!(open_ones(&place, &desk), 0, "somebody has written what it is to be");
    desk.take(Step::Undo).unwrap();
    assert_eq!(open_ones(&place, &desk), 1, "not any more");
    desk.take(Step::Redo).unwrap();
    assert_eq!(open_ones(&place, &desk), 0);
    desk.save().unwrap();
    drop(desk);
    assert_eq!(open_ones(&place, &place.open()), 0, "the next time too");
    assert!(place.says(&[]).contains("1 different from the marks; settled"), "it stays listed");
}

#[test]
fn what_was_taken_back_and_then_changed_no_longer_counts() {
    let place = Place::new();
    let mut desk = parted(&place);
    let all = desk.aside(&place.state);
    assert!(desk.take_back(&all[0], &[]).unwrap());
    rewrite(&mut desk, 1, "better still");
    assert_eq!(open_ones(&place, &desk), 0);
    // What was changed before they parted settles nothing.
    desk.take(Step::Undo).unwrap();
    desk.take(Step::Undo).unwrap();
    assert_eq!(open_ones(&place, &desk), 1);
}

#[test]
fn what_stays_as_it_is_here_is_settled_by_saying_so() {
    let place = Place::new();
    drop(parted(&place));
    assert!(place.says(&["--keep", "1"]).contains("1 counts as settled"));
    let desk = place.open();
    assert_eq!(open_ones(&place, &desk), 0);
    assert_eq!(place.notes(), ["here", "note 1"]);
    drop(desk);
    // Another version under the same name is another matter.
    let copy = place.file().with_file_name("meet (1).json");
    let text = fs::read_to_string(&copy).unwrap();
    fs::write(&copy, text.replace("\"there\"", "\"elsewhere\"")).unwrap();
    assert_eq!(open_ones(&place, &place.open()), 1);
}
