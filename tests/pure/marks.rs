//! The marks file, its journal and its history.

use std::{fs, path::PathBuf};

use proptest::prelude::*;
use stillcall::{
    marks::{
        At, Desk, DeskError, Edit, History, Id, Item, Mark, Seen, Sheaf, StateFolder, Step, What,
        file, load, path_for,
    },
    store::DocumentError,
    units::{FrameIndex, FrameRef, Ticks},
};
use tempfile::TempDir;

struct Place {
    folder: TempDir,
    state: StateFolder,
}

impl Place {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let state = StateFolder::at(folder.path().join("state"));
        Self { folder, state }
    }

    fn file(&self) -> PathBuf {
        path_for(&self.folder.path().join("meet.mp4"), "1", "J-2")
    }

    fn journal(&self) -> PathBuf {
        self.state.journal_of(&self.file())
    }

    fn desk(&self) -> Desk {
        Desk::create(&self.file(), Sheaf::default(), &self.state).unwrap()
    }
}

fn frame(index: u64) -> At {
    let ticks = Ticks(index as i64 * 512);
    At::Frame(FrameRef { ticks, index: FrameIndex(index), field: None, lo: ticks, hi: ticks })
}

fn mark(id: u64, index: u64) -> Item {
    let what = What::Element { element: "cast".to_owned() };
    Item::Mark(Mark {
        id: Id(id),
        at: frame(index),
        what,
        seen: Seen::Yes,
        of: None,
        note: String::new(),
    })
}

fn add(desk: &mut Desk, index: u64) -> Id {
    let id = desk.fresh_id();
    desk.take(Step::Do(Edit::add(mark(id.0, index)))).unwrap();
    id
}

#[test]
fn is_named_by_clip_routine_and_judge() {
    let named = path_for("clips/SC 07.mp4".as_ref(), "2", "J-2");
    assert_eq!(named, PathBuf::from("clips/SC 07.mp4.2.J-2.marks.json"));
    let odd = path_for("a.mp4".as_ref(), "../x", "");
    assert_eq!(odd, PathBuf::from("a.mp4.---x.J.marks.json"));
}

#[test]
fn what_was_saved_is_read_again() {
    let place = Place::new();
    let mut desk = place.desk();
    add(&mut desk, 30);
    add(&mut desk, 12);
    desk.save().unwrap();
    let read = load(&place.file(), None).unwrap();
    assert_eq!(&read, desk.sheaf());
    assert_eq!(read.in_order().iter().map(|mark| mark.id.0).collect::<Vec<_>>(), [2, 1]);
}

#[test]
fn a_crash_before_saving_loses_nothing() {
    let place = Place::new();
    let mut desk = place.desk();
    add(&mut desk, 30);
    let shown = desk.sheaf().clone();
    drop(desk); // as a kill would: without saving
    assert_eq!(load(&place.file(), Some(&place.state)).unwrap(), shown);
    assert_eq!(Desk::open(&place.file(), &place.state).unwrap().sheaf(), &shown);
}

#[test]
fn undo_and_redo_survive_a_restart() {
    let place = Place::new();
    let mut desk = place.desk();
    add(&mut desk, 30);
    let one = desk.sheaf().clone();
    add(&mut desk, 40);
    let two = desk.sheaf().clone();
    desk.save().unwrap();
    drop(desk);

    let mut desk = Desk::open(&place.file(), &place.state).unwrap();
    assert!(desk.take(Step::Undo).unwrap());
    assert_eq!(desk.sheaf(), &one);
    drop(desk);

    let mut desk = Desk::open(&place.file(), &place.state).unwrap();
    assert_eq!(desk.sheaf(), &one);
    assert!(desk.take(Step::Redo).unwrap());
    assert_eq!(desk.sheaf(), &two);
    assert!(!desk.take(Step::Redo).unwrap());
    assert_eq!(add(&mut desk, 50), Id(3), "ids are never used twice");
}

#[test]
fn removing_a_mark_takes_what_hangs_under_it_and_gives_it_back() {
    let place = Place::new();
    let mut desk = place.desk();
    let element = add(&mut desk, 30);
    let release = desk.fresh_id();
    let hanging = Item::Mark(Mark {
        id: release,
        at: frame(33),
        what: What::HandRelease,
        seen: Seen::CantTell,
        of: Some(element),
        note: "thumb?".to_owned(),
    });
    desk.take(Step::Do(Edit::add(hanging))).unwrap();
    let before = desk.sheaf().clone();
    let removal = Edit::remove(desk.sheaf(), element).unwrap();
    desk.take(Step::Do(removal)).unwrap();
    assert!(desk.sheaf().marks.is_empty());
    desk.take(Step::Undo).unwrap();
    assert_eq!(desk.sheaf(), &before);
}

#[test]
fn a_torn_tail_is_dropped_and_kept_aside() {
    let place = Place::new();
    let mut desk = place.desk();
    add(&mut desk, 30);
    let whole = desk.sheaf().clone();
    add(&mut desk, 40);
    drop(desk);
    let bytes = fs::read(place.journal()).unwrap();
    fs::write(place.journal(), &bytes[..bytes.len() - 5]).unwrap();

    let mut desk = Desk::open(&place.file(), &place.state).unwrap();
    assert_eq!(desk.sheaf(), &whole);
    let aside = place.journal().with_extension("torn-1");
    assert_eq!(fs::read(aside).unwrap(), &bytes[..bytes.len() - 5]);
    add(&mut desk, 50);
    let after = desk.sheaf().clone();
    drop(desk);
    assert_eq!(Desk::open(&place.file(), &place.state).unwrap().sheaf(), &after);
}

#[test]
fn a_journal_of_another_document_is_set_aside() {
    let place = Place::new();
    let mut desk = place.desk();
    add(&mut desk, 30);
    drop(desk);
    fs::remove_file(place.file()).unwrap();
    let desk = place.desk();
    assert!(desk.sheaf().marks.is_empty(), "a new file has nothing of the old one");
    assert!(place.journal().with_extension("other-1").exists());
}

/// Marks go to another computer, or into another folder, where no journal knows them: what is
/// entered there is saved, survives a crash, and comes home again.
#[test]
fn marks_go_on_where_no_journal_knows_them() {
    let place = Place::new();
    let mut desk = place.desk();
    for index in 30..35 {
        add(&mut desk, index);
    }
    desk.save().unwrap();
    drop(desk);
    let elsewhere = StateFolder::at(place.folder.path().join("another computer"));
    let mut desk = Desk::open(&place.file(), &elsewhere).unwrap();
    assert!(!desk.is_dirty(), "there is nothing to save yet");
    add(&mut desk, 50);
    assert!(desk.is_dirty());
    let there = desk.sheaf().clone();
    // Killed before it was saved.
    drop(desk);
    let mut desk = Desk::open(&place.file(), &elsewhere).unwrap();
    assert_eq!(desk.sheaf(), &there);
    assert!(desk.can_undo());
    desk.save().unwrap();
    assert!(!desk.is_dirty());
    add(&mut desk, 60);
    desk.save().unwrap();
    let there = desk.sheaf().clone();
    drop(desk);
    // The file alone has it, also without any journal.
    assert_eq!(load(&place.file(), None).unwrap(), there);
    for state in [&place.state, &elsewhere] {
        assert_eq!(Desk::open(&place.file(), state).unwrap().sheaf(), &there);
    }
}

#[test]
fn a_newer_version_is_refused_and_left_alone() {
    let place = Place::new();
    let mut desk = place.desk();
    desk.save().unwrap();
    drop(desk);
    let newer =
        fs::read_to_string(place.file()).unwrap().replace("\"version\": 1", "\"version\": 9");
    fs::write(place.file(), &newer).unwrap();
    let error = Desk::open(&place.file(), &place.state).unwrap_err();
    assert!(matches!(error, DeskError::File(DocumentError::Newer { found: 9, .. })), "{error}");
    assert!(error.to_string().contains("meet.mp4.1.J-2.marks.json"), "names the file: {error}");
    assert_eq!(fs::read_to_string(place.file()).unwrap(), newer);
}

#[test]
fn damaged_text_is_told_with_its_place() {
    let place = Place::new();
    for text in ["", "[]", "{", "{\"format\":\"stillcall marks\"}", "\u{0}\u{1}", "{\"format\":3}"]
    {
        fs::write(place.file(), text).unwrap();
        let error = Desk::open(&place.file(), &place.state).unwrap_err();
        assert!(
            matches!(error, DeskError::File(DocumentError::Malformed { .. })),
            "{text}: {error}"
        );
        assert_eq!(fs::read_to_string(place.file()).unwrap(), text, "left as it was");
    }
}

#[test]
fn one_id_for_two_things_is_refused() {
    let place = Place::new();
    let mut desk = place.desk();
    add(&mut desk, 30);
    add(&mut desk, 40);
    desk.save().unwrap();
    let text = fs::read_to_string(place.file()).unwrap().replace("\"id\": 2", "\"id\": 1");
    let error = file::parse(text.as_bytes(), &place.file()).unwrap_err();
    assert!(error.to_string().contains("id 1 is used twice"), "{error}");
}

#[test]
fn keys_of_a_later_version_are_kept() {
    let place = Place::new();
    let mut desk = place.desk();
    desk.save().unwrap();
    drop(desk);
    let text = fs::read_to_string(place.file()).unwrap();
    let text =
        text.replacen("\"marks\":", "\"cameras\": [{\"name\": \"tripod\"}],\n  \"marks\":", 1);
    let text = text.replacen("\"event\":", "\"panel\": 4,\n    \"event\":", 1);
    fs::write(place.file(), &text).unwrap();
    let mut desk = Desk::open(&place.file(), &place.state).unwrap();
    add(&mut desk, 3);
    desk.save().unwrap();
    let kept: serde_json::Value = serde_json::from_slice(&fs::read(place.file()).unwrap()).unwrap();
    assert_eq!(kept["cameras"][0]["name"], "tripod");
    assert_eq!(kept["routine"]["panel"], 4);
}

#[test]
fn a_file_changed_underneath_is_not_overwritten() {
    let place = Place::new();
    let mut desk = place.desk();
    add(&mut desk, 30);
    fs::write(place.file(), "from a sync").unwrap();
    let error = desk.save().unwrap_err();
    assert!(matches!(error, DeskError::ChangedOutside { .. }), "{error}");
    assert_eq!(fs::read_to_string(place.file()).unwrap(), "from a sync");
}

#[test]
fn a_second_window_is_told() {
    let place = Place::new();
    let _first = place.desk();
    let error = Desk::open(&place.file(), &place.state).unwrap_err();
    assert!(error.to_string().contains("another window"), "{error}");
}

#[test]
fn an_existing_file_is_not_begun_anew() {
    let place = Place::new();
    let desk = place.desk();
    let error = Desk::create(desk.path(), Sheaf::default(), &place.state).unwrap_err();
    assert!(matches!(error, DeskError::Exists { .. }), "{error}");
}

#[test]
fn a_missing_folder_is_told() {
    let place = Place::new();
    let path = place.folder.path().join("gone/meet.mp4.1.J-2.marks.json");
    let error = Desk::create(&path, Sheaf::default(), &place.state).unwrap_err();
    assert!(matches!(error, DeskError::File(DocumentError::Unwritable { .. })), "{error}");
}

fn step() -> impl Strategy<Value = u8> {
    0..10u8
}

proptest! {
    /// However somebody edits, undoing all of it gives the beginning back and redoing all of it
    /// the end.
    #[test]
    fn undoing_everything_and_redoing_it_comes_back(steps in prop::collection::vec(step(), 1..60)) {
        let (mut sheaf, mut history) = (Sheaf::default(), History::default());
        let mut next = 0;
        for choice in steps {
            let some = sheaf.marks.get(usize::from(choice) / 2).map(|mark| mark.id);
            let edit = match (choice, some) {
                (8, _) => { history.take(Step::Undo, &mut sheaf); continue }
                (9, _) => { history.take(Step::Redo, &mut sheaf); continue }
                (0..3, Some(id)) => Edit::remove(&sheaf, id).unwrap(),
                (3..5, Some(id)) => Edit::change(&sheaf, mark(id.0, u64::from(choice))),
                _ => { next += 1; Edit::add(mark(next, next * 7 % 13)) }
            };
            history.take(Step::Do(edit), &mut sheaf);
        }
        while history.take(Step::Redo, &mut sheaf) {}
        let end = sheaf.clone();
        while history.take(Step::Undo, &mut sheaf) {}
        prop_assert_eq!(&sheaf, &Sheaf::default());
        while history.take(Step::Redo, &mut sheaf) {}
        prop_assert_eq!(sheaf, end);
    }

    /// Whatever bytes a file holds, it is read or refused, never a panic.
    #[test]
    fn any_bytes_are_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = file::parse(&bytes, "x.marks.json".as_ref());
    }
}
