//! The one way out: what is refused leaves nothing behind, on the disk or in the ledger.

use std::{fs, path::PathBuf};

use stillcall::library::{
    FileKind, LeaveError, Leaving, Ledger, Made, Of, Pictures, Purpose, quick_id,
};

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
    let failed =
        Leaving::new(&out, FileKind::Page).of(Of::default()).make(Some(&club.home()), |place| {
            fs::write(place, "half").unwrap();
            Err::<(), _>("no more paper".into())
        });
    assert_eq!(failed.unwrap_err().to_string(), "no more paper");
    assert_eq!(fs::read_to_string(&out).unwrap(), "before");
    assert!(made(&club).is_empty() && written(&club).len() == 1);
    let there = Leaving::new(&out, FileKind::Page).anew().write(b"after", None).unwrap_err();
    assert!(there.to_string().contains("is there already"), "{there}");
    assert_eq!(fs::read_to_string(&out).unwrap(), "before");
}
