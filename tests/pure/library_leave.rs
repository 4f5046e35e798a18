//! The one way out: what is refused leaves nothing behind, on the disk or in the ledger.

use std::{fs, path::PathBuf};

use stillcall::library::{
    FileKind, LeaveError, Leaving, Ledger, Made, Of, Pictures, Purpose, copies, quick_id,
};
use stillcall::marks::{Desk, Edit, Routine, Step};
use stillcall::store::clear_unfinished;

use super::library_club::{Club, Marked};

const MARKS: &str = "clips/a.mp4.1.J-2.marks.json";

fn club() -> Club {
    let club = Club::new();
    club.clip("a.mp4", "a");
    club.mark(&Marked::of("a.mp4", "SC-07"));
    club
}

fn made(club: &Club) -> Vec<Made> {
    Ledger::open(&club.home()).unwrap().lines().unwrap()
}

/// Names of everything in the club's folder but its clips and its state.
fn written(club: &Club) -> Vec<PathBuf> {
    let names = fs::read_dir(club.folder.path()).unwrap().flatten().map(|entry| entry.file_name());
    names
        .map(PathBuf::from)
        .filter(|it| !["clips", "state"].contains(&it.to_str().unwrap()))
        .collect()
}

#[test]
fn a_page_is_entered_with_its_clip_and_athlete_once() {
    let club = club();
    for _ in 0..2 {
        club.says(&["score", MARKS, "--html", "sheet.html"]);
    }
    let [line] = &made(&club)[..] else { panic!("{:?}", made(&club)) };
    let clip = quick_id(&club.clips().join("a.mp4")).unwrap();
    assert_eq!((&line.clip, line.athlete.as_str(), line.kind), (&clip, "SC-07", FileKind::Sheet));
    assert_eq!(line.path.file_name().unwrap(), "sheet.html");
}

#[test]
fn pictures_leave_only_where_the_record_allows_it_and_are_of_everybody_on_the_clip() {
    let club = club();
    club.mark(&Marked { judge: "J-3", ..Marked::of("a.mp4", "SC-08") });
    let (clip, out) = (club.clips().join("a.mp4"), club.folder.path().join("still.png"));
    let leave = || {
        let pictures = Pictures { clip: &clip, purpose: Purpose::Course, athlete: "", routine: "" };
        Leaving::new(&out, FileKind::Picture).showing(pictures).write(b"png", Some(&club.home()))
    };
    let refused = leave().unwrap_err();
    assert!(matches!(refused, LeaveError::Refused(_)), "{refused}");
    assert!(written(&club).is_empty() && made(&club).is_empty());
    for athlete in ["SC-07", "SC-08"] {
        let note = ["library", "note", "clips/a.mp4", "--others", "none", "--athlete", athlete];
        let agreed = ["--consent", "both", "--by", "office", "--for", "course"];
        club.says(&[&note[..], &agreed].concat());
    }
    leave().unwrap();
    assert_eq!(fs::read(&out).unwrap(), b"png");
    let lines = made(&club);
    for athlete in ["SC-07", "SC-08"] {
        assert!(lines.iter().any(|line| line.athlete == athlete && line.path == out), "{lines:?}");
    }
}

#[test]
fn a_sheet_never_leaves_without_its_caution() {
    let club = club();
    let out = club.folder.path().join("sheet.html");
    let leaving = Leaving::new(&out, FileKind::Sheet);
    let refused = leaving.write(b"Score 9.5", Some(&club.home())).unwrap_err();
    assert!(matches!(refused, LeaveError::NoCaution { .. }), "{refused}");
    assert!(written(&club).is_empty() && made(&club).is_empty());
}

#[test]
fn a_page_never_takes_the_place_of_its_clip() {
    let club = club();
    let before = fs::read(club.clips().join("a.mp4")).unwrap();
    let told = club.refuses(&["score", MARKS, "--html", "clips/a.mp4"]);
    assert!(told.contains("a.mp4") && told.contains("is the clip itself"), "{told}");
    assert_eq!(fs::read(club.clips().join("a.mp4")).unwrap(), before);
}

#[test]
fn nothing_is_written_over_but_what_the_program_wrote_there() {
    let club = club();
    let text = |name: &str| fs::read_to_string(club.folder.path().join(name)).unwrap();
    fs::write(club.folder.path().join("own.html"), "a letter").unwrap();
    let told = club.refuses(&["score", MARKS, "--html", "own.html"]);
    assert!(told.contains("own.html") && told.contains("not written by this program"), "{told}");
    assert_eq!(text("own.html"), "a letter");
    club.says(&["score", MARKS, "--html", "own.html", "--force"]);
    club.says(&["score", MARKS, "--html", "own.html"]);
    assert!(text("own.html").contains("SC-07"));
    // A page does not take the place of a sheet.
    let card = ["card", "--rulebook", "saltmarsh", "--event", "bars", "--division", "heron"];
    let told = club.refuses(&[&card[..], &["--html", "own.html"]].concat());
    assert!(told.contains("not written by this program"), "{told}");
    // And nothing ever that of a clip, of marks or of a record.
    club.clip("b.MP4", "b");
    club.says(&["library", "note", "clips/b.MP4", "--nobody"]);
    for kept in ["clips/b.MP4", MARKS, "clips/b.MP4.clip.json"] {
        let before = text(kept);
        let told = club.refuses(&[&card[..], &["--html", kept, "--force"]].concat());
        assert!(told.contains("never written over"), "{told}");
        assert_eq!(text(kept), before);
    }
}

/// A program that is killed while it writes leaves a hidden file; the next start takes it away.
#[test]
fn what_a_kill_left_half_made_goes_at_the_next_start() {
    let club = club();
    let out = club.folder.path().join("sheet.html");
    let half = Leaving::new(&out, FileKind::Page).make(Some(&club.home()), |place| {
        fs::write(place, "half a clip").unwrap();
        // As long as the one who makes it lives, nobody takes it away.
        assert!(clear_unfinished(&club.home().notes()).is_empty());
        assert_eq!(fs::read_to_string(place).unwrap(), "half a clip");
        // A copy of the note without its lock is what a kill leaves.
        let notes = club.home().path().join("unfinished");
        let note = fs::read_dir(&notes).unwrap().flatten().next().unwrap().path();
        fs::copy(&note, notes.join("at-killed")).unwrap();
        Ok(place.to_owned())
    });
    let half = half.unwrap();
    fs::write(&half, "half a clip").unwrap();
    assert!(club.home().path().join("unfinished/at-killed").exists());
    club.says(&["rulebook", "list"]);
    assert!(!half.exists());
    assert_eq!(fs::read_dir(club.home().path().join("unfinished")).unwrap().count(), 0);
}

/// A note says where; whatever it says, nothing is taken away that is not such a file.
#[test]
fn a_note_that_names_something_else_takes_nothing_away() {
    let club = club();
    let notes = club.home().path().join("unfinished");
    fs::create_dir_all(&notes).unwrap();
    let clip = club.clips().join("a.mp4");
    fs::write(notes.join("at-1"), clip.display().to_string()).unwrap();
    club.says(&["rulebook", "list"]);
    assert!(clip.exists());
}

#[test]
fn who_stands_in_a_journal_alone_counts_as_well() {
    let club = club();
    let note = ["library", "note", "clips/a.mp4", "--others", "none", "--athlete", "SC-07"];
    let agreed = ["--consent", "both", "--by", "office", "--for", "course"];
    club.says(&[&note[..], &agreed].concat());
    let says = || club.says(&["library", "info", "clips/a.mp4"]);
    assert!(!says().contains("SC-09"), "{}", says());
    let path = club.folder.path().canonicalize().unwrap().join(MARKS);
    let mut desk = Desk::open(&path, &club.state()).unwrap();
    let routine = Routine { athlete: "SC-09".to_owned(), ..desk.sheaf().routine.clone() };
    desk.take(Step::Do(Edit::routine(desk.sheaf(), routine))).unwrap();
    assert!(!fs::read_to_string(&path).unwrap().contains("SC-09"));
    assert!(says().contains("SC-09 has not agreed to a course"), "{}", says());
}

#[test]
fn marks_that_cannot_be_read_keep_pictures_in() {
    let club = club();
    club.says(&["library", "note", "clips/a.mp4", "--nobody"]);
    let clip = club.clips().join("a.mp4");
    let out = club.folder.path().join("still.png");
    let leave = || {
        let pictures = Pictures { clip: &clip, purpose: Purpose::Course, athlete: "", routine: "" };
        Leaving::new(&out, FileKind::Picture).showing(pictures).write(b"png", Some(&club.home()))
    };
    leave().unwrap();
    fs::write(club.clips().join("a.mp4.1.J-4.marks.json"), "{").unwrap();
    let refused = leave().unwrap_err().to_string();
    assert!(refused.contains("who is judged") && refused.contains("J-4"), "{refused}");
}

/// A sync client renames a record in words of its own; it is found by what it says.
#[test]
fn a_record_that_was_renamed_keeps_pictures_in() {
    let club = club();
    club.says(&["library", "note", "clips/a.mp4", "--nobody"]);
    let clip = club.clips().join("a.mp4");
    let own = club.clips().join("a.mp4.clip.json");
    fs::copy(&own, club.clips().join("Kopie in Konflikt (Büro).json")).unwrap();
    assert_eq!(copies(&clip), [club.clips().join("Kopie in Konflikt (Büro).json")]);
    let out = club.folder.path().join("still.png");
    let pictures = Pictures { clip: &clip, purpose: Purpose::Course, athlete: "", routine: "" };
    let leaving = Leaving::new(&out, FileKind::Picture).showing(pictures);
    let refused = leaving.write(b"png", Some(&club.home())).unwrap_err().to_string();
    assert!(refused.contains("another copy") && refused.contains("Konflikt"), "{refused}");
    // The same clip once more, with a record of its own, is no conflict.
    fs::remove_file(club.clips().join("Kopie in Konflikt (Büro).json")).unwrap();
    club.clip("same.mp4", "a");
    fs::copy(&own, club.clips().join("same.mp4.clip.json")).unwrap();
    assert!(copies(&clip).is_empty());
}

#[test]
fn what_cannot_be_written_down_does_not_leave() {
    let club = club();
    fs::create_dir_all(club.home().path().join("made.jsonl")).unwrap();
    let told = club.refuses(&["score", MARKS, "--html", "sheet.html"]);
    assert!(told.contains("sheet.html") && told.contains("made.jsonl"), "{told}");
    assert_eq!(written(&club), Vec::<PathBuf>::new());
}

#[test]
fn what_cannot_be_made_leaves_what_was_there() {
    let club = club();
    let out = club.folder.path().join("a.zip");
    fs::write(&out, "before").unwrap();
    let failed = Leaving::new(&out, FileKind::Page).over_anything().of(Of::default()).make(
        Some(&club.home()),
        |place| {
            fs::write(place, "half").unwrap();
            Err::<(), _>("no more paper".into())
        },
    );
    assert_eq!(failed.unwrap_err().to_string(), "no more paper");
    assert_eq!(fs::read_to_string(&out).unwrap(), "before");
    assert!(made(&club).is_empty() && written(&club).len() == 1);
    let there = Leaving::new(&out, FileKind::Page).anew().write(b"after", None).unwrap_err();
    assert!(there.to_string().contains("is there already"), "{there}");
    assert_eq!(fs::read_to_string(&out).unwrap(), "before");
}
