//! What is damaged in a journal is told and kept, and what could not be written spoils nothing.

use std::{fs, path::PathBuf};

use stillcall::{
    marks::{
        At, Damage, Desk, DeskError, Edit, Id, Item, Mark, Seen, Sheaf, StateFolder, Step, What,
        file, load_and_tell,
    },
    store::{Begin, Keeping, Lock, Log, Readers, whole_lines},
};
use tempfile::TempDir;

const KEEPING: Keeping =
    Keeping { checked: true, lock: Lock::Refused, synced: false, readers: Readers::User };

pub(crate) struct Place {
    pub folder: TempDir,
    pub state: StateFolder,
}

impl Place {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let state = StateFolder::at(folder.path().join("state"));
        Self { folder, state }
    }

    pub(crate) fn file(&self) -> PathBuf {
        self.folder.path().join("meet.mp4.1.J-2.marks.json")
    }

    pub(crate) fn journal(&self) -> PathBuf {
        self.state.journal_of(&self.file())
    }

    /// Marks with so many steps, and the lines of their journal.
    fn steps(&self, count: u32) -> (Sheaf, Vec<String>) {
        let mut desk = Desk::create(&self.file(), Sheaf::default(), &self.state).unwrap();
        for place in 0..count {
            add(&mut desk, place);
        }
        let sheaf = desk.sheaf().clone();
        drop(desk);
        let text = fs::read_to_string(self.journal()).unwrap();
        (sheaf, text.split_inclusive('\n').map(str::to_owned).collect())
    }

    /// Puts these lines in the place of the journal, and returns what is told on opening, and how
    /// many marks there are.
    fn opens_with(&self, lines: &[String]) -> (Vec<String>, usize) {
        let text = lines.concat();
        fs::write(self.journal(), &text).unwrap();
        let (loaded, told) = load_and_tell(&self.file(), Some(&self.state)).unwrap();
        let desk = Desk::open(&self.file(), &self.state).unwrap();
        assert_eq!(&loaded, desk.sheaf());
        assert_eq!(told.is_some(), !desk.told().is_empty(), "{told:?}, {:?}", desk.told());
        let mut kept = fs::read_dir(self.state.path().join("journals")).unwrap().flatten();
        let is_kept = |entry: fs::DirEntry| fs::read_to_string(entry.path()).unwrap() == text;
        assert!(kept.any(is_kept), "all of it is kept somewhere");
        (desk.told().to_vec(), desk.sheaf().marks.len())
    }
}

pub(crate) fn note(id: Id, place: u32) -> Item {
    let (what, seen, of, note) = (What::Note, Seen::Yes, None, format!("note {place}"));
    Item::Mark(Mark { id, at: At::Place(place), what, seen, of, note })
}

pub(crate) fn add(desk: &mut Desk, place: u32) -> Id {
    let id = desk.fresh_id();
    desk.take(Step::Do(Edit::add(note(id, place)))).unwrap();
    id
}

#[test]
fn each_damage_is_told_and_the_steps_before_it_count() {
    let place = Place::new();
    let (_, lines) = place.steps(6);
    // Line 1 says whose journal it is, line 2 which ids are its own; line n + 2 is step n.
    assert_eq!(place.opens_with(&lines), (Vec::new(), 6));
    let says = |lines: &[String], damage: &Damage, marks: usize| {
        let (told, left) = place.opens_with(lines);
        assert_eq!(left, marks, "{told:?}");
        let said = told.concat();
        assert!(said.contains(&damage.to_string()) && said.contains("kept in"), "{said}");
        assert!(said.starts_with("meet.mp4.1.J-2.marks.json: "), "{said}");
    };
    let mut torn = lines.clone();
    torn[7].truncate(30);
    says(&torn, &Damage::TornEnd, 5);
    let mut spoilt = lines.clone();
    spoilt[4] = spoilt[4].replacen("note 2", "note 9", 1);
    says(&spoilt, &Damage::Spoilt { line: 5, after: 3 }, 2);
    let mut gap = lines.clone();
    gap.remove(4);
    says(&gap, &Damage::Gap { expected: 3, found: 4, after: 2 }, 2);
    let mut twice = lines.clone();
    twice.insert(4, twice[3].clone());
    says(&twice, &Damage::Gap { expected: 3, found: 2, after: 4 }, 2);
    let mut strange = lines.clone();
    strange[5] = line("{\"of_a_later_version\":1}");
    says(&strange, &Damage::Strange { line: 6, after: 2 }, 3);
    let mut other = lines.clone();
    other[0] = line("{\"document\":\"another\"}");
    says(&other, &Damage::OtherDocument, 0);
}

/// A whole line of a log with checksums: how one is written says docs/architecture.md.
fn line(json: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.log");
    let value: serde_json::Value = serde_json::from_str(json).unwrap();
    Log::open(&path, Begin::New, KEEPING).unwrap().append(&value).unwrap();
    fs::read_to_string(path).unwrap()
}

#[test]
fn a_journal_that_cannot_be_read_is_told() {
    let place = Place::new();
    place.steps(2);
    fs::remove_file(place.journal()).unwrap();
    fs::create_dir(place.journal()).unwrap();
    let name = place.journal().file_name().unwrap().to_string_lossy().into_owned();
    let error = load_and_tell(&place.file(), Some(&place.state)).unwrap_err().to_string();
    assert!(error.contains(&name), "{error}");
    let error = Desk::open(&place.file(), &place.state).unwrap_err();
    assert!(matches!(error, DeskError::Journal(_)) && error.to_string().contains(&name), "{error}");
}

#[test]
fn the_last_number_is_refused_and_not_swallowed() {
    let place = Place::new();
    let included = file::Included { sequence: u64::MAX, checksum: "0123456789abcdef".to_owned() };
    let stored = file::Stored { included, ..file::Stored::anew("d".to_owned(), Sheaf::default()) };
    fs::write(place.file(), file::text(&stored)).unwrap();
    for _ in 0..2 {
        let mut desk = Desk::open(&place.file(), &place.state).unwrap();
        let id = desk.fresh_id();
        let error = desk.take(Step::Do(Edit::add(note(id, 1)))).unwrap_err().to_string();
        assert!(error.contains(".journal") && error.contains("new file"), "{error}");
        assert!(desk.sheaf().marks.is_empty(), "what is not in the journal is not shown");
    }
}

#[test]
fn the_last_id_is_refused_too() {
    let place = Place::new();
    let mut sheaf = Sheaf::default();
    Edit::add(note(Id(u64::MAX), 0)).apply(&mut sheaf);
    fs::write(place.file(), file::text(&file::Stored::anew("d".to_owned(), sheaf))).unwrap();
    let error = Desk::open(&place.file(), &place.state).unwrap_err().to_string();
    assert!(error.contains("18446744073709551615 is too high"), "{error}");
}

/// Half a line that could not be taken off when its writing failed, as a share does that goes away.
#[test]
fn a_line_follows_the_last_whole_one_whatever_a_failed_write_left() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.log");
    let mut log = Log::open(&path, Begin::New, KEEPING).unwrap();
    log.append(&1).unwrap();
    let whole = fs::read_to_string(&path).unwrap();
    fs::write(&path, format!("{whole}0123456789ab")).unwrap();
    log.append(&2).unwrap();
    let bytes = log.bytes().unwrap();
    let lines: Vec<&str> = whole_lines(&bytes).map(|line| line.json).collect();
    assert_eq!(lines, ["1", "2"]);
}

#[cfg(unix)]
mod full_disk {
    use std::{
        env,
        path::{Path, PathBuf},
        process::Command,
    };

    use super::*;

    const FOLDER: &str = "STILLCALL_FULL_DISK_FOLDER";

    fn open(folder: &Path) -> Desk {
        let state = StateFolder::at(folder.join("state"));
        Desk::open(&folder.join("meet.mp4.1.J-2.marks.json"), &state).unwrap()
    }

    /// Runs where no file may grow beyond 8 KiB.
    #[test]
    #[ignore = "the child of the test below"]
    fn child() {
        let Some(folder) = env::var_os(FOLDER).map(PathBuf::from) else { return };
        let mut desk = open(&folder);
        add(&mut desk, 1);
        let id = desk.fresh_id();
        let Item::Mark(long) = note(id, 2) else { return };
        let long = Item::Mark(Mark { note: "long ".repeat(4000), ..long });
        let error = desk.take(Step::Do(Edit::add(long))).unwrap_err().to_string();
        assert!(error.contains("Free some space"), "{error}");
        add(&mut desk, 3);
        // As a kill would end it: without saving.
    }

    #[test]
    fn what_did_not_fit_spoils_nothing_that_is_written_later() {
        let place = Place::new();
        drop(Desk::create(&place.file(), Sheaf::default(), &place.state).unwrap());
        // The signal that would end it is ignored, so that the write fails half done.
        let limited = "trap '' XFSZ; ulimit -f 16; exec \"$@\"";
        // Its output must be no file, or it could not be written to either.
        let output = Command::new("sh")
            .args(["-c", limited, "sh"])
            .arg(env::current_exe().unwrap())
            .args(["journals::full_disk::child", "--exact", "--ignored"])
            .env(FOLDER, place.folder.path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{output:?}");
        let desk = open(place.folder.path());
        let notes: Vec<&str> = desk.sheaf().marks.iter().map(|mark| mark.note.as_str()).collect();
        assert_eq!(notes, ["note 1", "note 3"]);
        assert!(desk.told().is_empty(), "{:?}", desk.told());
    }
}
