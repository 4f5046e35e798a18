//! Two computers, one marks file: a share, a sync client, a copy under whatever name.

use std::{
    fs,
    path::{Path, PathBuf},
};

use stillcall::marks::{Desk, DeskError, Edit, Id, Item, Mark, Sheaf, StateFolder, Step, load};
use tempfile::TempDir;

use super::journals::{add, note};

/// A computer with its own folder of clips, its own copy of the marks in it, and its own journals.
struct Computer {
    folder: TempDir,
}

impl Computer {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("clips")).unwrap();
        Self { folder }
    }

    fn state(&self) -> StateFolder {
        StateFolder::at(self.folder.path().join("state"))
    }

    fn beside(&self, name: &str) -> PathBuf {
        self.folder.path().join("clips").join(name)
    }

    fn file(&self) -> PathBuf {
        self.beside("meet.mp4.1.J-2.marks.json")
    }

    fn open(&self) -> Desk {
        Desk::open(&self.file(), &self.state()).unwrap()
    }

    /// Opens the marks, adds a remark and saves.
    fn enters(&self, place: u32) {
        let mut desk = self.open();
        add(&mut desk, place);
        desk.save().unwrap();
    }

    /// What a sync client does: the other's file comes under a name.
    fn gets(&self, other: &Self, name: &Path) {
        fs::copy(other.file(), self.beside(&name.to_string_lossy())).unwrap();
    }

    fn gets_in_place(&self, other: &Self) {
        fs::copy(other.file(), self.file()).unwrap();
    }
}

/// Two computers with a remark that both have.
fn two() -> (Computer, Computer) {
    let (one, other) = (Computer::new(), Computer::new());
    drop(Desk::create(&one.file(), Sheaf::default(), &one.state()).unwrap());
    one.enters(0);
    other.gets_in_place(&one);
    (one, other)
}

fn says(sheaf: &Sheaf) -> Vec<String> {
    let mut says: Vec<String> = sheaf.marks.iter().map(|mark| mark.note.clone()).collect();
    says.sort();
    says
}

fn rewrite(desk: &mut Desk, id: u64, text: &str) {
    let Item::Mark(mark) = note(Id(id), 0) else { panic!("a remark is a mark") };
    let mark = Mark { note: text.to_owned(), ..mark };
    let edit = Edit::change(desk.sheaf(), Item::Mark(mark));
    desk.take(Step::Do(edit)).unwrap();
}

#[test]
fn a_copy_under_whatever_name_is_joined_once() {
    for name in [
        "meet.mp4.1.J-2.marks (1).json",
        "meet.mp4.1.J-2.marks-HALL-PC.json",
        "meet.mp4.1.J-2.marks (conflicted copy 2026-11-24).json",
        "Konfliktkopie.txt",
    ] {
        let (one, other) = two();
        one.enters(1);
        other.enters(2);
        other.enters(3);
        one.gets(&other, name.as_ref());
        let all = ["note 0", "note 1", "note 2", "note 3"];
        let desk = one.open();
        assert_eq!(says(desk.sheaf()), all, "{name}");
        let told = desk.told().concat();
        assert!(told.contains("2 things came in from") && told.contains(name), "{told}");
        // As a kill would end it, before it was saved.
        drop(desk);
        let mut desk = one.open();
        assert_eq!((says(desk.sheaf()), desk.told()), (all.map(str::to_owned).into(), &[][..]));
        desk.save().unwrap();
        drop(desk);
        assert_eq!(says(&load(&one.file(), None).unwrap()), all, "the file alone has it");
        // One step brought it in, which one step takes out; it does not come again by itself.
        let mut desk = one.open();
        assert_eq!(desk.told(), [""; 0]);
        desk.take(Step::Undo).unwrap();
        desk.save().unwrap();
        drop(desk);
        assert_eq!(says(one.open().sheaf()), ["note 0", "note 1"]);
    }
}

#[test]
fn what_was_entered_here_joins_the_file_that_another_computer_wrote() {
    let (one, other) = two();
    one.enters(1);
    other.enters(2);
    one.gets_in_place(&other);
    let all = ["note 0", "note 1", "note 2"];
    assert_eq!(says(&load(&one.file(), Some(&one.state())).unwrap()), all);
    let mut desk = one.open();
    assert_eq!(says(desk.sheaf()), all);
    assert!(desk.told().concat().contains("1 thing came in from this computer's journal"));
    assert!(desk.is_dirty(), "the file does not have it yet");
    desk.save().unwrap();
    drop(desk);
    // And so back to the other, where everything is known.
    other.gets_in_place(&one);
    let desk = other.open();
    assert_eq!((says(desk.sheaf()), desk.told()), (all.map(str::to_owned).into(), &[][..]));
    assert!(!desk.is_dirty());
}

#[test]
fn a_file_that_was_written_elsewhere_while_it_was_open_is_joined_on_saving() {
    let (one, other) = two();
    let mut desk = one.open();
    add(&mut desk, 1);
    other.enters(2);
    one.gets_in_place(&other);
    desk.save().unwrap();
    let all = ["note 0", "note 1", "note 2"];
    assert_eq!(says(desk.sheaf()), all);
    assert_eq!(says(&load(&one.file(), None).unwrap()), all);
    assert!(desk.told().concat().contains("1 thing came in from another computer"));
    // It goes on both ways.
    other.gets_in_place(&one);
    other.enters(3);
    one.gets_in_place(&other);
    add(&mut desk, 4);
    desk.save().unwrap();
    assert_eq!(says(desk.sheaf()), ["note 0", "note 1", "note 2", "note 3", "note 4"]);
}

/// What came in is the same thing on both computers from then on.
#[test]
fn both_go_on_changing_their_own_however_often_they_are_joined() {
    let (one, other) = two();
    let (mut here, mut there) = (one.open(), other.open());
    let (ours, theirs) = (add(&mut here, 1), add(&mut there, 2));
    assert_ne!(ours, theirs, "each computer has ids of its own");
    here.save().unwrap();
    other.gets_in_place(&one);
    there.save().unwrap();
    rewrite(&mut here, ours.0, "note 1 again");
    one.gets_in_place(&other);
    here.save().unwrap();
    assert_eq!(says(here.sheaf()), ["note 0", "note 1 again", "note 2"]);
    rewrite(&mut there, theirs.0, "note 2 again");
    other.gets_in_place(&one);
    there.save().unwrap();
    let all = ["note 0", "note 1 again", "note 2 again"];
    assert_eq!(says(there.sheaf()), all);
    drop(here);
    one.gets_in_place(&other);
    let here = one.open();
    assert_eq!(says(here.sheaf()), all);
    let told = [here.told(), there.told()].concat().concat();
    assert!(!told.contains("differently"), "{told}");
}

#[test]
fn what_both_changed_stays_here_and_theirs_is_kept() {
    let (one, other) = two();
    let mut desk = one.open();
    rewrite(&mut desk, 1, "ours");
    let mut there = other.open();
    rewrite(&mut there, 1, "theirs");
    there.save().unwrap();
    one.gets_in_place(&other);
    let theirs = fs::read(one.file()).unwrap();
    desk.save().unwrap();
    assert_eq!(says(&load(&one.file(), None).unwrap()), ["ours"]);
    let told = desk.told().concat();
    assert!(
        told.contains("1 thing was changed differently here and in another computer"),
        "{told}"
    );
    let kept = fs::read_dir(one.state().path().join("journals")).unwrap().flatten();
    let kept: Vec<Vec<u8>> = kept.map(|entry| fs::read(entry.path()).unwrap()).collect();
    assert!(kept.contains(&theirs), "what is written over is kept aside");
    // Who saw both decided: the other computer takes it as it is.
    other.gets_in_place(&one);
    rewrite(&mut there, 1, "theirs again");
    drop(there);
}

/// A file that was moved to another copy of the clip elsewhere: frames of one mean nothing on the
/// other.
#[test]
fn what_was_entered_on_another_copy_of_the_clip_is_kept_aside() {
    let clip = |quick_id: &str| -> Sheaf {
        let clip = serde_json::json!({
            "name": "a.mp4", "quick_id": quick_id, "time_base": [1, 12800],
            "upright": {
                "coded_width": 64, "coded_height": 48, "pixel": {"width": 1, "height": 1},
                "orientation": {"quarter_turns": 0, "mirrored": false},
            },
        });
        Sheaf { clip: serde_json::from_value(clip).unwrap(), ..Sheaf::default() }
    };
    let (one, other) = (Computer::new(), Computer::new());
    drop(Desk::create(&one.file(), clip("first"), &one.state()).unwrap());
    one.enters(0);
    other.gets_in_place(&one);
    one.enters(1);
    let mut desk = other.open();
    let (before, after) = (desk.sheaf().clone(), clip("second"));
    let after = Sheaf { clip: after.clip, ..before.clone() };
    let edit = Edit::Copy { before: Box::new(before), after: Box::new(after) };
    desk.take(Step::Do(edit)).unwrap();
    desk.save().unwrap();
    // While it is open, it is not written over.
    let mut open = one.open();
    add(&mut open, 2);
    one.gets_in_place(&other);
    let error = open.save().unwrap_err();
    assert!(matches!(error, DeskError::ChangedOutside { .. }), "{error}");
    drop(open);
    let desk = one.open();
    assert_eq!(says(desk.sheaf()), ["note 0"]);
    assert!(desk.told().concat().contains("stillcall attach"), "{:?}", desk.told());
    let aside = desk.aside(&one.state());
    assert_eq!(aside.len(), 1);
    assert!(aside[0].beyond.is_err(), "it is listed, and not taken back onto other frames");
}

#[test]
fn what_was_taken_away_on_one_side_is_gone_on_both() {
    let (one, other) = two();
    let mut desk = one.open();
    let removal = Edit::remove(desk.sheaf(), Id(1)).unwrap();
    desk.take(Step::Do(removal)).unwrap();
    desk.save().unwrap();
    other.enters(2);
    one.gets(&other, "copy.json".as_ref());
    drop(desk);
    assert_eq!(says(one.open().sheaf()), ["note 2"]);
    other.gets_in_place(&one);
    assert_eq!(says(other.open().sheaf()), ["note 2"]);
}

#[test]
fn a_file_copied_for_another_judge_or_a_backup_is_no_version() {
    let (one, _) = two();
    one.enters(1);
    let text = fs::read_to_string(one.file()).unwrap();
    fs::write(one.beside("backup.json"), &text).unwrap();
    one.enters(2);
    let text = text.replacen("\"judge\": \"\"", "\"judge\": \"J-9\"", 1);
    assert!(text.contains("J-9"));
    let their = one.beside("meet.mp4.1.J-9.marks.json");
    fs::write(&their, text).unwrap();
    let mut desk = Desk::open(&their, &one.state()).unwrap();
    add(&mut desk, 9);
    desk.save().unwrap();
    drop(desk);
    let desk = one.open();
    assert_eq!(says(desk.sheaf()), ["note 0", "note 1", "note 2"]);
    assert_eq!(desk.told(), [""; 0]);
}
