//! Deleting and withdrawing. That they leave nothing is searched byte by byte.

use std::{
    fs,
    path::{Path, PathBuf},
};

use serde_json::json;
use stillcall::{
    library::{
        Asked, Deletion, Ledger, Made, Purpose, SidecarFile, Use, ask, quick_id, sidecar_path,
        thumb_path, today,
    },
    marks::{Desk, Edit, Step},
};

use super::library_club::{Club, Marked};

const WITNESSED: [&str; 4] = ["--by", "J-2", "--witness", "welfare officer"];

fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap().flatten() {
        let path = entry.path();
        if path.is_dir() { found.extend(files_below(&path)) } else { found.push(path) }
    }
    found
}

/// Returns every file below a folder in whose name or bytes the text occurs.
fn occurs(folder: &Path, text: &str) -> Vec<PathBuf> {
    let has = |bytes: &[u8]| bytes.windows(text.len()).any(|window| window == text.as_bytes());
    files_below(folder)
        .into_iter()
        .filter(|path| has(path.as_os_str().as_encoded_bytes()) || has(&fs::read(path).unwrap()))
        .collect()
}

/// A clip of SC-07 alone, one of SC-08 alone, one of both.
fn club() -> Club {
    let club = Club::new();
    for (clip, athlete) in [("a.mp4", "SC-07"), ("b.mp4", "SC-08")] {
        club.clip(clip, clip);
        club.mark(&Marked::of(clip, athlete));
    }
    club.clip("both.mp4", "both");
    club.mark(&Marked::of("both.mp4", "SC-07"));
    club.mark(&Marked { judge: "J-3", ..Marked::of("both.mp4", "SC-08") });
    for athlete in ["SC-07", "SC-08"] {
        for clip in
            ["clips/both.mp4", if athlete == "SC-07" { "clips/a.mp4" } else { "clips/b.mp4" }]
        {
            club.says(&[
                "library",
                "note",
                clip,
                "--others",
                "none",
                "--athlete",
                athlete,
                "--consent",
                "both",
                "--by",
                "office",
                "--for",
                "training,course",
            ]);
        }
    }
    club
}

#[test]
fn a_withdrawn_athlete_is_left_nowhere() {
    let club = club();
    let state = club.state();
    // Undo history with her code, also in a file that is no longer hers.
    for (marks, before) in [("a.mp4.1.J-2", "SC-07"), ("b.mp4.1.J-2", "SC-08")] {
        let path = club.clips().join(format!("{marks}.marks.json"));
        let mut desk = Desk::open(&path, &state).unwrap();
        for athlete in ["SC-07", before] {
            let mut routine = desk.sheaf().routine.clone();
            routine.athlete = athlete.to_owned();
            let edit = Edit::routine(desk.sheaf(), routine);
            desk.take(Step::Do(edit)).unwrap();
        }
        desk.save().unwrap();
    }
    club.says(&["score", "clips/a.mp4.1.J-2.marks.json", "--html", "sheet.html"]);
    club.says(&["library", "scan"]);
    club.says(&["library", "find", "athlete SC-07", "--save", "her"]);
    club.says(&["library", "export", "event bars", "--out", "bundle.zip", "--to", "Dunlin club"]);
    assert!(!occurs(club.folder.path(), "SC-07").is_empty());
    // Small pictures, as the wall of clips keeps them.
    let thumbs = ["a.mp4", "both.mp4", "b.mp4"]
        .map(|name| thumb_path(&club.home(), &quick_id(&club.clips().join(name)).unwrap()));
    fs::create_dir_all(thumbs[0].parent().unwrap()).unwrap();
    for thumb in &thumbs {
        fs::write(thumb, "picture").unwrap();
    }

    let said = club.says(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    for words in ["bundle.zip", "Dunlin club", "backups", "trash", "both.mp4", "closed"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(!said.contains("still names"), "{said}");
    assert_eq!(occurs(club.folder.path(), "SC-07"), [] as [PathBuf; 0]);
    for gone in ["sheet.html", "bundle.zip", "clips/a.mp4"] {
        assert!(!club.folder.path().join(gone).exists(), "{gone}");
    }
    assert_eq!(thumbs.map(|thumb| thumb.exists()), [false, false, true]);

    // What is SC-08's is untouched.
    assert_eq!(club.who("event bars"), ["SC-08", "SC-08"]);
    let kept = club.clips().join("b.mp4.1.J-2.marks.json");
    let desk = Desk::open(&kept, &state).unwrap();
    assert_eq!(desk.sheaf().routine.athlete, "SC-08");
    assert_eq!(desk.sheaf().marks.len(), 8);
    let what = Use::Pictures(Purpose::Training);
    let asked = Asked { what, athletes: &[], routine: "", today: today() };
    assert!(ask(&club.clips().join("b.mp4"), &asked).is_allowed());
    for what in [Use::Pictures(Purpose::Training), Use::Set(Purpose::Training)] {
        let ruling = ask(&club.clips().join("both.mp4"), &Asked { what, ..asked });
        assert!(!ruling.is_allowed(), "somebody on it withdrew: {what:?}");
    }
}

#[test]
fn who_deleted_and_who_witnessed_is_written_down_without_naming_her() {
    let club = club();
    club.says(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    let lines = Ledger::<Deletion>::open(&club.home()).unwrap().lines().unwrap();
    assert_eq!(lines.len(), 1);
    assert_eq!((&*lines[0].by, &*lines[0].witness), ("J-2", "welfare officer"));
    assert_eq!(lines[0].clips.len(), 1);
    assert_eq!(lines[0].why, "consent withdrawn");
}

#[test]
fn shared_clips_go_when_asked() {
    let club = club();
    club.says(&[&["library", "withdraw", "SC-07", "--delete-shared"], &WITNESSED[..]].concat());
    assert!(!club.clips().join("both.mp4").exists());
    assert!(club.clips().join("b.mp4").exists());
}

#[test]
fn a_dry_run_only_says_what_would_go() {
    let club = club();
    let before = files_below(&club.clips());
    let said =
        club.says(&[&["library", "withdraw", "SC-07", "--dry-run"], &WITNESSED[..]].concat());
    assert!(said.contains("would go: ") && said.contains("shows others as well: "), "{said}");
    assert_eq!(files_below(&club.clips()), before);
}

#[test]
fn nothing_is_deleted_without_a_second_adult() {
    let club = club();
    for (by, witness) in [("J-2", "J-2"), ("J-2", " j-2 "), ("J-2", "")] {
        let error =
            club.refuses(&["library", "delete", "clips/a.mp4", "--by", by, "--witness", witness]);
        assert!(error.contains("second adult"), "{error}");
    }
    assert!(club.clips().join("a.mp4").exists());
}

#[test]
fn what_is_open_in_a_window_is_not_deleted_under_it() {
    let club = club();
    let path = club.clips().join("a.mp4.1.J-2.marks.json");
    let _desk = Desk::open(&path, &club.state()).unwrap();
    for arguments in [["library", "delete", "clips/a.mp4"], ["library", "withdraw", "SC-07"]] {
        let error = club.refuses(&[&arguments[..], &WITNESSED[..]].concat());
        assert!(error.contains("open in a window"), "{error}");
    }
    assert!(club.clips().join("a.mp4").exists() && path.exists());
}

#[test]
fn deleting_takes_everything_that_was_made_and_keeps_marks_if_asked() {
    let club = club();
    let marks = club.clips().join("a.mp4.1.J-2.marks.json");
    club.says(&["score", "clips/a.mp4.1.J-2.marks.json", "--html", "sheet.html"]);
    // An excerpt of it: another clip that says where it was cut from.
    let excerpt = club.clip("excerpt.mp4", "excerpt");
    club.scan();
    let mut noted = SidecarFile::begin(&excerpt).unwrap();
    let hash =
        stillcall::units::content_hash(&mut &fs::read(club.clips().join("a.mp4")).unwrap()[..]);
    noted.sidecar.taken_from =
        Some(stillcall::library::TakenFrom { content_hash: hash.unwrap(), frames: [0, 9] });
    noted.save().unwrap();
    club.scan();
    let delete = ["library", "delete", "clips/a.mp4", "--keep-marks"];
    let said = club.says(&[&delete[..], &WITNESSED[..]].concat());
    for gone in ["clips/a.mp4", "clips/excerpt.mp4", "sheet.html"] {
        assert!(!club.folder.path().join(gone).exists(), "{gone}: {said}");
    }
    assert!(!sidecar_path(&club.clips().join("a.mp4")).exists());
    assert!(marks.exists(), "marks and numbers were kept");
    assert_eq!(club.who("gone"), ["SC-07"]);
    let copy = club.clips().join("b.mp4.1.J-2.marks (1).json");
    fs::copy(club.clips().join("b.mp4.1.J-2.marks.json"), &copy).unwrap();
    let other = ["library", "delete", "clips/b.mp4"];
    club.says(&[&other[..], &WITNESSED[..]].concat());
    assert!(!club.clips().join("b.mp4.1.J-2.marks.json").exists());
    assert!(!copy.exists(), "a sync client's copy holds her marks as well");
}

#[test]
fn one_copy_of_two_is_deleted_without_the_marks_of_the_other() {
    let club = club();
    let copy = club.clips().join("copy.mp4");
    fs::copy(club.clips().join("a.mp4"), &copy).unwrap();
    club.says(&[&["library", "delete", "clips/copy.mp4"], &WITNESSED[..]].concat());
    assert!(!copy.exists());
    assert!(club.clips().join("a.mp4.1.J-2.marks.json").exists());
}

#[test]
fn what_still_names_her_is_listed() {
    let club = club();
    club.mark_with(&Marked { judge: "J-4", ..Marked::of("b.mp4", "SC-08") }, |file| {
        let marks = file["marks"].as_array_mut().unwrap();
        marks.push(json!({"id": 31, "at": {"place": 3}, "kind": "note", "note": "as SC-07 did"}));
    });
    let said = club.says(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    assert!(said.contains("still names SC-07: ") && said.contains("b.mp4.1.J-4"), "{said}");
}

#[test]
fn pages_of_several_routines_go_with_each_of_them() {
    let club = club();
    club.mark(&Marked { judge: "J-5", ..Marked::of("a.mp4", "SC-07") });
    let [hers, others] = ["clips/a.mp4.1.J-2.marks.json", "clips/b.mp4.1.J-2.marks.json"];
    club.says(&["agree", others, hers, "--html", "agree.html"]);
    club.says(&["panel", hers, "clips/a.mp4.1.J-5.marks.json", "--html", "panel.html"]);
    // A page that took the place of hers is not hers.
    club.says(&["score", hers, "--html", "replaced.html"]);
    club.says(&["score", others, "--html", "replaced.html"]);
    club.says(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    for gone in ["agree.html", "panel.html"] {
        assert!(!club.folder.path().join(gone).exists(), "{gone}");
    }
    assert!(club.folder.path().join("replaced.html").exists());
    let left = Ledger::<Made>::open(&club.home()).unwrap().lines().unwrap();
    let names: Vec<_> = left.iter().map(|made| made.path.file_name().unwrap()).collect();
    assert_eq!(names, ["replaced.html"], "a page that is gone is gone for all of them");
}
