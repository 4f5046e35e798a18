//! A deletion or withdrawal reaches every picture, is finished whatever cuts it short, and says what
//! it cannot reach.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use stillcall::{
    library::{
        Copies, Deletion, EraseError, EraseHands, EraseWish, Erased, Excerpts, FileKind, HandedOut,
        Index, Leaving, Ledger, Made, Marks, Of, OwnHands, Places, Shared, Shelf, SidecarFile,
        TakenFrom, Withdrawn, Witnessed, erase, finish_erasing, is_erasing_unfinished,
        plan_erasing, quick_id, sidecar_path, thumb_path,
    },
    units::content_hash,
};

use super::library_club::{Club, Marked};

pub(crate) const WITNESSED: [&str; 4] = ["--by", "J-2", "--witness", "welfare officer"];

/// A clip of SC-07 with everything that can be made of it, and one of SC-08.
pub(crate) fn club() -> Club {
    let club = Club::new();
    for (clip, athlete) in [("a.mp4", "SC-07"), ("b.mp4", "SC-08")] {
        club.clip(clip, clip);
        club.mark(&Marked::of(clip, athlete));
        let note = ["library", "note", &format!("clips/{clip}"), "--others", "none"];
        let by = ["--athlete", athlete, "--consent", "both", "--by", "office"];
        club.says(&[&note[..], &by, &["--for", "training,library,course"]].concat());
    }
    club
}

/// What her clip's bytes are, wherever they lie.
const HERS: &str = "a.mp4a.mp4a.mp4";

/// Returns every file below the club's folder.
fn files(club: &Club) -> Vec<PathBuf> {
    fn below(folder: &Path, found: &mut Vec<PathBuf>) {
        for path in fs::read_dir(folder).unwrap().flatten().map(|entry| entry.path()) {
            if path.is_dir() && !path.is_symlink() { below(&path, found) } else { found.push(path) }
        }
    }
    let mut found = Vec::new();
    below(club.folder.path(), &mut found);
    found.sort();
    found
}

/// Returns files below the club's folder in whose name or bytes `text` occurs.
fn occurs(club: &Club, text: &str) -> Vec<PathBuf> {
    let has = |bytes: &[u8]| bytes.windows(text.len()).any(|window| window == text.as_bytes());
    let mut found = files(club);
    let named = |path: &Path| has(path.file_name().unwrap().as_encoded_bytes());
    found.retain(|path| named(path) || fs::read(path).is_ok_and(|bytes| has(&bytes)));
    found
}

pub(crate) fn nothing_is_left_of_her(club: &Club) {
    assert_eq!(occurs(club, HERS), [] as [PathBuf; 0], "her clip's content");
    assert_eq!(occurs(club, "SC-07"), [] as [PathBuf; 0], "her code");
    let unfinished = fs::read_dir(club.home().path().join("erasing"));
    assert_eq!(unfinished.map_or(0, Iterator::count), 0, "every plan is finished");
}

/// Writes everything of her that a library can hold.
pub(crate) fn fill(club: &Club) {
    let (home, clips) = (club.home(), club.clips());
    let clip = clips.join("a.mp4");
    let copy = |to: &str| {
        let to = club.folder.path().join(to);
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        fs::copy(&clip, to).unwrap();
    };
    // Copies without marks, also under a name that is no clip's, and one behind a link.
    copy("clips/old/copy.mp4");
    copy("clips/old/a.mp4.bak");
    copy("elsewhere/far.mp4");
    link(&club.folder.path().join("elsewhere/far.mp4"), &clips.join("linked.mp4"));
    copy("clips/.stillcall-cut/part.mp4");
    fs::write(clips.join(".stillcall-half.mp4"), "half of an excerpt").unwrap();
    club.says(&["library", "scan"]);
    // An excerpt in the library, and one outside of it that the list of what was made knows.
    let excerpt = club.clip("part.mp4", "an excerpt of it");
    let hash = content_hash(&mut &fs::read(&clip).unwrap()[..]).unwrap();
    let mut noted = SidecarFile::begin(&excerpt).unwrap();
    noted.sidecar.taken_from = Some(TakenFrom { content_hash: hash, frames: [0, 9] });
    noted.save().unwrap();
    let far = club.folder.path().join("elsewhere/cut.mp4");
    let leaving = Leaving::new(&far, FileKind::Clip).of(Of::clip(&clip));
    leaving.write(b"another excerpt of it", Some(&home)).unwrap();
    let mut record = SidecarFile::begin(&far).unwrap();
    record.sidecar.athletes = SidecarFile::open(&clip).unwrap().sidecar.athletes;
    record.sidecar.taken_from.clone_from(&noted.sidecar.taken_from);
    record.save().unwrap();
    // Pictures and pages.
    let still = club.folder.path().join("still.png");
    Leaving::new(&still, FileKind::Picture)
        .of(Of::clip(&clip))
        .write(b"a still", Some(&home))
        .unwrap();
    let thumb = thumb_path(&home, &quick_id(&clip).unwrap());
    fs::create_dir_all(thumb.parent().unwrap()).unwrap();
    fs::write(thumb, "a small picture").unwrap();
    club.mark(&Marked { judge: "J-5", ..Marked::of("a.mp4", "SC-07") });
    let marks = ["J-2", "J-5"].map(|judge| format!("clips/a.mp4.1.{judge}.marks.json"));
    club.says(&["score", &marks[0], "--html", "sheet.html", "--csv", "clips/sheet.csv"]);
    fs::copy(club.folder.path().join("sheet.html"), clips.join("old/sheet.html")).unwrap();
    club.says(&["panel", &marks[0], &marks[1], "--html", "panel.html"]);
    club.says(&["agree", "clips/b.mp4.1.J-2.marks.json", &marks[0], "--html", "agree.html"]);
    fs::write(clips.join("SC-07.skills.toml"), "athlete = \"SC-07\"\nhas = []\n").unwrap();
    // A set with a look at each of the two clips, its slip, a search, a bundle.
    club.says(&["library", "scan"]);
    club.says(&["library", "set", "event bars", "--out", "clips/set.toml"]);
    club.says(&["sitting", "clips/set.toml", "--slip", "slip.html"]);
    club.says(&["library", "find", "athlete SC-07", "--save", "her"]);
    club.says(&["library", "export", "event bars", "--out", "bundle.zip", "--to", "Dunlin club"]);
    let recent = ["a.mp4", "b.mp4"].map(|name| clips.join(name));
    let memory = serde_json::json!({"look": "dark", "recent": recent});
    fs::write(club.state().path().join("window.json"), memory.to_string()).unwrap();
    // As programs that keep folders in step leave it when two people wrote at once.
    fs::write(clips.join("a.mp4.clip (1).json"), fs::read(sidecar_path(&clip)).unwrap()).unwrap();
}

#[cfg(unix)]
fn link(to: &Path, at: &Path) {
    std::os::unix::fs::symlink(to, at).unwrap();
}

#[cfg(not(unix))]
fn link(to: &Path, at: &Path) {
    fs::copy(to, at).unwrap();
}

pub(crate) fn withdraw(club: &Club) -> String {
    club.says(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat())
}

#[test]
fn a_withdrawal_reaches_every_copy_and_everything_that_was_made() {
    let club = club();
    fill(&club);
    let said = withdraw(&club);
    nothing_is_left_of_her(&club);
    let gone = [
        "clips/linked.mp4",
        "elsewhere/far.mp4",
        "elsewhere/cut.mp4",
        "elsewhere/cut.mp4.clip.json",
        "clips/part.mp4",
        "clips/part.mp4.clip.json",
        "still.png",
        "sheet.html",
        "panel.html",
        "agree.html",
        "slip.html",
        "clips/sheet.csv",
        "clips/old/sheet.html",
        "bundle.zip",
        "clips/.stillcall-cut",
        "clips/.stillcall-half.mp4",
        "clips/SC-07.skills.toml",
        "clips/a.mp4.clip (1).json",
    ];
    for gone in gone {
        let path = club.folder.path().join(gone);
        assert!(path.symlink_metadata().is_err(), "{gone} is still there: {said}");
    }
    // Of the set only her look went, and the other athlete's things are all there.
    let set = fs::read_to_string(club.clips().join("set.toml")).unwrap();
    assert!(set.contains("b.mp4") && !set.contains("a.mp4"), "{set}");
    for kept in ["clips/b.mp4", "clips/b.mp4.clip.json", "clips/b.mp4.1.J-2.marks.json"] {
        assert!(club.folder.path().join(kept).exists(), "{kept}");
    }
    let memory = fs::read_to_string(club.state().path().join("window.json")).unwrap();
    assert!(memory.contains("dark") && memory.contains("b.mp4"), "{memory}");
    assert!(!memory.contains("a.mp4"), "{memory}");
    assert!(said.contains("Dunlin club") && said.contains("looked at"), "{said}");
    let [line] = &Ledger::<Deletion>::open(&club.home()).unwrap().lines().unwrap()[..] else {
        panic!("one deletion is written down")
    };
    assert!(line.looked_at > 3 && line.left.is_empty(), "{line:?}");
}

#[test]
fn a_dry_run_names_everything_and_touches_nothing() {
    let club = club();
    fill(&club);
    let outside = || {
        let all = files(&club).into_iter();
        all.filter(|path| !path.starts_with(club.home().path())).collect::<Vec<_>>()
    };
    let before = outside();
    let said =
        club.says(&[&["library", "withdraw", "SC-07", "--dry-run"], &WITNESSED[..]].concat());
    for named in [
        "clip: ",
        "old/a.mp4.bak",
        "elsewhere/far.mp4",
        "elsewhere/cut.mp4",
        "part.mp4",
        "picture: ",
        "still.png",
        "page: ",
        "agree.html",
        "slip.html",
        "bundle: ",
        "set.toml",
        "unfinished file: ",
        "marks: ",
        "record: ",
        "the kept searches",
        "Dunlin club",
    ] {
        assert!(said.contains(named), "{named}: {said}");
    }
    assert_eq!(outside(), before);
    let delete = ["library", "delete", "clips/a.mp4", "--dry-run"];
    assert!(club.says(&[&delete[..], &WITNESSED].concat()).contains("stay"), "copies are named");
}

#[test]
fn a_code_that_stands_nowhere_is_an_error() {
    let club = club();
    for extra in [&[][..], &["--dry-run"]] {
        let error =
            club.refuses(&[&["library", "withdraw", "SC-70"], &WITNESSED[..], extra].concat());
        assert!(error.contains("SC-70") && error.contains("Check the code"), "{error}");
    }
    withdraw(&club);
    let again = club.refuses(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    assert!(again.contains("nothing was deleted"), "{again}");
    let gone = club.refuses(&[&["library", "delete", "clips/a.mp4"], &WITNESSED[..]].concat());
    assert!(gone.contains("a.mp4") && gone.contains("Nothing was deleted"), "{gone}");
    assert!(Withdrawn::known(Some(&club.home()), &[club.clips()]).since("SC-70").is_none());
}

#[test]
fn an_identical_copy_that_stays_keeps_its_pages() {
    let club = club();
    fill(&club);
    // What a decode of the clip showed is kept by its content, and goes with the last copy of it.
    let bytes = fs::read(club.clips().join("a.mp4")).unwrap();
    let proof = club.state().proof_of(&blake3::hash(&bytes).to_hex());
    fs::create_dir_all(proof.parent().unwrap()).unwrap();
    fs::write(&proof, "a proof").unwrap();
    let delete = [&["library", "delete", "clips/old/copy.mp4"], &WITNESSED[..]].concat();
    let said = club.says(&delete);
    assert!(said.contains("stays: ") && said.contains("--copies"), "{said}");
    assert!(!club.clips().join("old/copy.mp4").exists());
    let thumb = thumb_path(&club.home(), &quick_id(&club.clips().join("a.mp4")).unwrap());
    assert!(thumb.exists() && proof.exists());
    for kept in [
        "clips/a.mp4",
        "clips/a.mp4.clip.json",
        "clips/a.mp4.1.J-2.marks.json",
        "sheet.html",
        "still.png",
        "clips/part.mp4",
        "bundle.zip",
    ] {
        assert!(club.folder.path().join(kept).exists(), "{kept}: {said}");
    }
    assert!(fs::read_to_string(club.clips().join("set.toml")).unwrap().contains("a.mp4"));
    club.says(&[&["library", "delete", "clips/a.mp4", "--copies"], &WITNESSED[..]].concat());
    assert!(!proof.exists());
    assert_eq!(occurs(&club, HERS), [] as [PathBuf; 0]);
    assert!(!club.folder.path().join("sheet.html").exists());
}

#[test]
fn an_excerpt_that_the_index_knows_goes_with_its_clip() {
    let club = club();
    fill(&club);
    club.says(&["library", "scan"]);
    club.says(&[&["library", "delete", "clips/a.mp4", "--copies"], &WITNESSED[..]].concat());
    assert!(!club.clips().join("part.mp4").exists());
    assert_eq!(club.who(""), ["SC-08"], "the index knows no row of what is gone");
}

/// The library of a club, open.
struct Opened {
    club: Club,
    home: stillcall::library::Home,
    shelf: Shelf,
    index: Index,
    state: stillcall::marks::StateFolder,
}

impl Opened {
    fn of(club: Club) -> Self {
        let (home, state) = (club.home(), club.state());
        let (shelf, index) = (Shelf::read(&home).unwrap(), Index::open(&home).unwrap());
        Self { club, home, shelf, index, state }
    }

    fn places(&self) -> Places<'_> {
        Places {
            home: &self.home,
            shelf: &self.shelf,
            index: &self.index,
            state: Some(&self.state),
        }
    }

    fn withdraw(&self, hands: &mut dyn EraseHands) -> Result<Erased, EraseError> {
        erase(self.places(), &hers(), &witnessed(), hands)
    }

    fn finish(&self, hands: &mut dyn EraseHands) -> Result<Vec<Erased>, EraseError> {
        for _ in 0..100 {
            let done = finish_erasing(self.places(), hands)?;
            if !done.is_empty() || !is_erasing_unfinished(&self.home) {
                return Ok(done);
            }
            // A program that another test starts at this very moment holds our lock until it runs.
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
        panic!("somebody else is at work for two seconds")
    }
}

fn hers() -> EraseWish {
    EraseWish::Athlete { code: "SC-07".parse().unwrap(), shared: Shared::Close }
}

fn witnessed() -> Witnessed {
    Witnessed { by: "J-2".to_owned(), witness: "welfare officer".to_owned() }
}

/// Hands that can take one file away no more than the system lets them.
struct Locked(PathBuf);

impl EraseHands for Locked {
    fn unlink(&mut self, path: &Path) -> io::Result<()> {
        if path == self.0 {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
        fs::remove_file(path)
    }
}

#[test]
fn a_clip_that_cannot_be_taken_away_keeps_its_record_is_closed_and_named_and_goes_later() {
    let club = Opened::of(club());
    let clip = club.club.clips().join("a.mp4");
    let erased = club.withdraw(&mut Locked(clip.clone())).unwrap();
    assert!(!erased.is_finished());
    let named = erased.unreached.iter().find(|what| what.path == clip).unwrap();
    assert!(named.why.contains("refuses") && named.remedy.contains("has it open"), "{named}");
    let noted = SidecarFile::open(&clip).unwrap();
    assert!(noted.exists() && noted.sidecar.somebody_withdrew, "its record stays and closes it");
    assert!(is_erasing_unfinished(&club.home));
    // It is tried at every start, and said each time, but nothing else is done for it.
    for _ in 0..2 {
        let [again] = &club.finish(&mut Locked(clip.clone())).unwrap()[..] else { panic!() };
        assert!(!again.is_finished() && again.unreached.iter().any(|what| what.path == clip));
    }
    let [done] = &club.finish(&mut OwnHands).unwrap()[..] else { panic!() };
    assert!(done.is_finished(), "{:?}", done.unreached);
    nothing_is_left_of_her(&club.club);
    assert!(club.finish(&mut OwnHands).unwrap().is_empty());
}

#[test]
fn what_is_not_finished_is_told_by_the_command_and_by_every_later_one() {
    let club = club();
    // A page that cannot be taken away: somebody put a folder in its place.
    club.says(&["score", "clips/a.mp4.1.J-2.marks.json", "--html", "sheet.html"]);
    let page = club.folder.path().join("sheet.html");
    fs::remove_file(&page).unwrap();
    fs::create_dir_all(page.join("within")).unwrap();
    let output = club.run(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("out of reach: ") && said.contains("sheet.html"), "{said}");
    assert!(!club.clips().join("a.mp4").exists(), "the rest went");
    let later = club.run(&["library", "find", "event bars"]);
    assert!(later.status.success(), "{later:?}");
    let told = String::from_utf8(later.stderr).unwrap();
    assert!(told.contains("not finished yet") && told.contains("sheet.html"), "{told}");
    fs::remove_dir_all(&page).unwrap();
    let last = club.run(&["library", "find", "event bars"]);
    assert!(String::from_utf8(last.stderr).unwrap().contains("finished: a withdrawal"));
    nothing_is_left_of_her(&club);
}

/// Hands that stop after so many questions whether to go on.
struct Stopping(usize);

impl EraseHands for Stopping {
    fn goes_on(&mut self) -> bool {
        let goes_on = self.0 > 0;
        self.0 = self.0.saturating_sub(1);
        goes_on
    }
}

#[test]
fn stopped_before_or_after_any_step_is_written_down_it_is_finished_later() {
    let plan = {
        let club = Opened::of(club());
        fill(&club.club);
        plan_erasing(club.places(), &hers(), &witnessed()).unwrap()
    };
    assert!(plan.steps.len() > 20, "{plan:?}");
    for stop in (0..plan.steps.len() * 2).step_by(5) {
        let club = Opened::of(club());
        fill(&club.club);
        let stopped = club.withdraw(&mut Stopping(stop)).unwrap_err();
        assert!(matches!(stopped, EraseError::Stopped), "{stop}: {stopped}");
        let [done] = &club.finish(&mut OwnHands).unwrap()[..] else { panic!("{stop}") };
        assert!(done.is_finished(), "{stop}: {:?}", done.unreached);
        nothing_is_left_of_her(&club.club);
    }
}

#[test]
fn pictures_go_first_and_what_tells_of_them_last() {
    let club = Opened::of(club());
    fill(&club.club);
    let plan = plan_erasing(club.places(), &hers(), &witnessed()).unwrap();
    let said: Vec<String> = plan.steps.iter().map(ToString::to_string).collect();
    let last = |what: &str| said.iter().rposition(|step| step.contains(what)).unwrap();
    let first = |what: &str| said.iter().position(|step| step.contains(what)).unwrap();
    let pictures = ["clip: ", "picture: ", "bundle: "].map(last).into_iter().max().unwrap();
    for later in ["page: ", "marks: ", "record: ", "the list of what was made", "the index"] {
        assert!(first(later) > pictures, "{later} before a picture: {said:#?}");
    }
    assert!(first("record: ") > last("marks: ") && first("the index") > last("record: "));
}

#[test]
fn what_lies_on_a_disk_that_is_not_there_goes_when_it_is() {
    let club = club();
    let disk = club.folder.path().canonicalize().unwrap().join("disk");
    fs::create_dir(&disk).unwrap();
    fs::copy(club.clips().join("a.mp4"), disk.join("again.mp4")).unwrap();
    club.says(&["library", "add", "disk"]);
    let away = club.folder.path().join("away");
    fs::rename(&disk, &away).unwrap();
    let output = club.run(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("plug the disk in"), "{said}");
    assert!(!club.clips().join("a.mp4").exists());
    fs::rename(&away, &disk).unwrap();
    let output = club.run(&["library", "find", "event bars"]);
    assert!(String::from_utf8(output.stderr).unwrap().contains("finished: "));
    assert!(!disk.join("again.mp4").exists());
    nothing_is_left_of_her(&club);
    assert!(fs::read_dir(&disk).unwrap().count() == 1, "word of it is left there too");
}

#[test]
fn a_set_is_tied_to_its_clips_and_athletes_and_a_bundle_to_its_clips() {
    let club = club();
    fill(&club);
    let id = quick_id(&club.clips().join("a.mp4")).unwrap();
    let made = Ledger::<Made>::open(&club.home()).unwrap().lines().unwrap();
    let of = |kind| made.iter().filter(move |it| it.kind == kind);
    assert!(of(FileKind::Set).any(|it| it.clip == id && it.athlete == "SC-07"), "{made:?}");
    let slip = |it: &&Made| it.path.ends_with("slip.html") && it.athlete == "SC-07";
    assert!(of(FileKind::Page).any(|it| slip(&it)), "{made:?}");
    let bundles = Ledger::<HandedOut>::open(&club.home()).unwrap().lines().unwrap();
    assert!(bundles[0].clips.contains(&id), "{bundles:?}");
}

#[test]
fn a_copy_that_replaces_a_clip_between_plan_and_deed_is_not_taken_for_it() {
    let club = Opened::of(club());
    let clip = club.club.clips().join("a.mp4");
    let wish = EraseWish::Clip {
        path: clip.clone(),
        marks: Marks::Delete,
        excerpts: Excerpts::Delete,
        copies: Copies::Keep,
    };
    assert!(matches!(
        erase(club.places(), &wish, &witnessed(), &mut Stopping(0)),
        Err(EraseError::Stopped)
    ));
    club.club.clip("a.mp4", "somebody else's");
    club.finish(&mut OwnHands).unwrap();
    assert!(fs::read_to_string(&clip).unwrap().contains("somebody else's"));
}

#[test]
fn what_cannot_be_read_goes_with_its_clip_and_is_named_elsewhere() {
    let club = club();
    fs::write(sidecar_path(&club.clips().join("a.mp4")), "{ half a record of SC-07").unwrap();
    let other = club.clips().join("c.mp4.1.J-2.marks.json");
    fs::write(&other, "{ half of the marks of SC-07").unwrap();
    let output = club.run(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    let said = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(!club.clips().join("a.mp4").exists() && !club.clips().join("a.mp4.clip.json").exists());
    assert!(said.contains("c.mp4.1.J-2.marks.json: it cannot be read, and names her"), "{said}");
    fs::remove_file(other).unwrap();
    club.says(&["library", "find", "event bars"]);
    nothing_is_left_of_her(&club);
}

#[test]
fn second_copies_of_a_record_are_closed_with_it() {
    let club = club();
    club.clip("both.mp4", "both");
    for (judge, athlete) in [("J-2", "SC-07"), ("J-3", "SC-08")] {
        club.mark(&Marked { judge, ..Marked::of("both.mp4", athlete) });
        let note = ["library", "note", "clips/both.mp4", "--others", "none"];
        let by = ["--athlete", athlete, "--consent", "both", "--by", "office", "--for", "course"];
        club.says(&[&note[..], &by].concat());
    }
    let record = sidecar_path(&club.clips().join("both.mp4"));
    fs::copy(&record, club.clips().join("both.mp4.clip.sync-conflict.json")).unwrap();
    withdraw(&club);
    nothing_is_left_of_her(&club);
    assert!(fs::read_to_string(record).unwrap().contains("SC-08"));
}

#[test]
fn a_clip_that_took_the_place_of_an_excerpt_is_not_taken_for_it() {
    let club = club();
    fill(&club);
    let far = club.folder.path().join("elsewhere/cut.mp4");
    fs::write(&far, "another clip altogether").unwrap();
    let mut record = SidecarFile::open(&far).unwrap();
    record.sidecar = stillcall::library::Sidecar::default();
    record.tie(&far).unwrap();
    record.save().unwrap();
    withdraw(&club);
    assert!(far.exists());
}

#[cfg(unix)]
#[test]
fn other_names_of_a_file_and_names_that_are_no_text_are_told() {
    use std::os::unix::ffi::OsStrExt as _;
    let club = club();
    let clip = club.clips().join("a.mp4");
    fs::hard_link(&clip, club.folder.path().join("hidden.mp4")).unwrap();
    let odd = club.clips().join(std::ffi::OsStr::from_bytes(b"caf\xe9.mp4"));
    fs::copy(&clip, &odd).unwrap();
    let output = club.run(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    let said = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("another name outside the library's folders"), "{said}");
    assert!(said.contains("its name is not text") && !clip.exists(), "{said}");
    fs::rename(odd, club.clips().join("cafe.mp4")).unwrap();
    let later = club.run(&["library", "find", "event bars"]);
    let told = String::from_utf8(later.stderr).unwrap();
    assert!(told.contains("finished: ") && told.contains("cafe.mp4"), "{told}");
    fs::remove_file(club.folder.path().join("hidden.mp4")).unwrap();
    nothing_is_left_of_her(&club);
    let [line] = &Ledger::<Deletion>::open(&club.home()).unwrap().lines().unwrap()[..] else {
        panic!("one deletion is written down")
    };
    assert!(line.left.iter().any(|left| left.contains("another name")), "{line:?}");
}

#[test]
fn a_table_that_says_the_same_of_another_athlete_stays() {
    let club = club();
    // The rows name nobody, so that two athletes' may be the same.
    for (marks, out) in [("a.mp4.1.J-2", "clips/hers.csv"), ("b.mp4.1.J-2", "clips/others.csv")] {
        club.says(&["score", &format!("clips/{marks}.marks.json"), "--csv", out]);
    }
    let [hers, others] =
        ["hers.csv", "others.csv"].map(|name| fs::read(club.clips().join(name)).unwrap());
    assert_eq!(hers, others, "or there is nothing to tell apart");
    withdraw(&club);
    assert!(!club.clips().join("hers.csv").exists() && club.clips().join("others.csv").exists());
}

#[test]
fn half_a_line_of_a_list_that_names_her_goes_too() {
    let club = club();
    club.says(&["score", "clips/a.mp4.1.J-2.marks.json", "--html", "sheet.html"]);
    club.says(&["score", "clips/b.mp4.1.J-2.marks.json", "--html", "others.html"]);
    let list = club.home().path().join("made.jsonl");
    let text = fs::read_to_string(&list).unwrap();
    fs::write(&list, text + "SC-07\",\"on\":\"2026-11-24\"}\n").unwrap();
    withdraw(&club);
    nothing_is_left_of_her(&club);
    assert_eq!(Ledger::<Made>::open(&club.home()).unwrap().lines().unwrap().len(), 1);
}

/// A save, a page or an excerpt of somebody else is not taken from under the hands of who writes it.
#[test]
fn what_another_program_is_writing_stays_until_it_is_done() {
    let club = club();
    let out = club.clips().join("card.html");
    let made = Leaving::new(&out, FileKind::Page).make(Some(&club.home()), |place| {
        fs::write(place, "half a page").unwrap();
        let output = club.run(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
        let said = [output.stdout, output.stderr].concat();
        let said = String::from_utf8(said).unwrap();
        assert_eq!(fs::read_to_string(place).unwrap(), "half a page");
        assert!(said.contains("another program is writing it just now"), "{said}");
        assert!(is_erasing_unfinished(&club.home()));
        Ok(())
    });
    made.unwrap();
    assert_eq!(fs::read_to_string(&out).unwrap(), "half a page");
    club.says(&["library", "find", "bars"]);
    nothing_is_left_of_her(&club);
}
