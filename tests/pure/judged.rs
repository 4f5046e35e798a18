//! From a marks file to its sheet: every door finds the same book, in the edition that the marks
//! name.

use std::{fs, path::PathBuf};

use serde_json::{Value, json};
use stillcall::{
    judged::{JudgedError, Judging},
    library::SidecarFile,
    marks::Routine,
    rulebook::{Edition, Editions},
};

use crate::{
    books::R,
    library_club::{Club, Marked},
};

/// Where the marks say that their book is, though it moved along with them.
const GONE: &str = "/gone/own.toml";

/// A club whose book lies beside the marks of two judges; the first of them saw a fall.
struct Bench {
    club: Club,
    /// Hash of the book when the marks were scored.
    hash: String,
    marks: [PathBuf; 2],
}

impl Bench {
    /// The marks name their book so; a fall costs 1.0, and attempts on beam are added up.
    fn named(name: &str) -> Self {
        let club = Club::new();
        club.clip("a.mp4", "a");
        fs::write(club.clips().join("own.toml"), text()).unwrap();
        let state = club.state();
        let editions = Editions::in_folder(Some(state.path()));
        let own = club.clips().join("own.toml").display().to_string();
        let hash = editions.load(&own, "").unwrap().book.hash;
        let marks = ["J-1", "J-2"].map(|judge| {
            let marked = Marked { judge, ..Marked::of("a.mp4", "SC-07") };
            club.mark_with(&marked, |file| {
                let at = file["marks"][0]["at"].clone();
                let saw = if judge == "J-1" { "fall" } else { "note" };
                file["marks"] = json!([{ "id": 1, "at": at, "kind": saw }]);
                file["readings"] = json!([]);
                for (key, value) in
                    [("event", "beam"), ("division", "one"), ("book", name), ("book_hash", &hash)]
                {
                    file["routine"][key] = json!(value);
                }
            })
        });
        Self { club, hash, marks }
    }

    /// The next season: a fall costs half as much.
    fn changes_the_book(&self) {
        let now = text().replace("mark = \"fall\"\namount = 1.0", "mark = \"fall\"\namount = 0.5");
        assert_ne!(now, text());
        fs::write(self.club.clips().join("own.toml"), now).unwrap();
    }

    fn names(&self) -> [&str; 2] {
        self.marks.each_ref().map(|path| path.to_str().unwrap())
    }

    fn json(&self, arguments: &[&str]) -> Value {
        serde_json::from_str(&self.club.says(&[arguments, &["--json"]].concat())).unwrap()
    }
}

fn text() -> String {
    R.replace("events = \"vault\"\ntake = \"sum\"", "events = \"beam\"\ntake = \"sum\"")
}

#[test]
fn agreement_is_scored_under_the_edition_that_the_marks_name() {
    let bench = Bench::named("own.toml");
    let [fell, stayed] = bench.names();
    bench.changes_the_book();
    let report = bench.json(&["agree", fell, stayed]);
    // Both have the same marks but for the fall, which costs 1.0 in the book of the marks.
    assert_eq!(report["people"][0]["scores"][0]["difference"], "1.000", "{report}");
    let remarks = report["remarks"].to_string();
    for file in [fell, stayed] {
        assert!(remarks.contains(file), "{remarks}");
    }
    assert!(remarks.contains("the kept text of Test book R"), "{remarks}");
    // Who names a book is scored under it as it is now.
    let own = bench.club.clips().join("own.toml");
    let report = bench.json(&["agree", fell, stayed, "--rulebook", own.to_str().unwrap()]);
    assert_eq!(report["people"][0]["scores"][0]["difference"], "0.500", "{report}");
}

#[test]
fn a_reference_is_recorded_under_the_edition_that_the_marks_name() {
    let bench = Bench::named("own.toml");
    let [fell, stayed] = bench.names();
    bench.changes_the_book();
    let output = bench.club.run(&["library", "reference", fell, stayed, "--record", fell]);
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success() && told.contains("kept text"), "{told}");
    let noted = SidecarFile::open(&bench.club.clips().join("a.mp4")).unwrap().sidecar;
    let agreed = noted.agreed("1").unwrap();
    assert_eq!(agreed.book_hash, bench.hash);
    let fall = agreed.calls.iter().find(|call| call.asks == "taken for fall").unwrap();
    assert_eq!(fall.answer, "1.000");
}

#[test]
fn the_index_and_the_command_line_say_the_same() {
    for name in ["own.toml", GONE, "own"] {
        let bench = Bench::named(name);
        bench.changes_the_book();
        let scanned = bench.club.scan();
        assert_eq!(scanned.problems, Vec::<String>::new(), "{name}");
        for (hit, marks) in bench.club.find("").iter().map(|hit| (hit, hit.marks.clone().unwrap()))
        {
            let sheet = bench.json(&["score", marks.to_str().unwrap()]);
            assert_eq!(json!(hit.score.unwrap().to_string()), sheet["score"], "{name}");
        }
        assert_eq!(bench.club.find("fault fall above 0.9").len(), 1, "{name}: the kept text");
    }
}

#[test]
fn a_book_that_moved_with_its_marks_is_found_by_every_door() {
    for name in [GONE, "own.toml"] {
        let bench = Bench::named(name);
        let [fell, stayed] = bench.names();
        for arguments in [
            &["score", fell][..],
            &["measure", fell],
            &["panel", fell, stayed],
            &["attempts", fell, stayed],
            &["agree", fell, stayed],
            &["library", "reference", fell, stayed],
            &["library", "assign", "--date", "2026-10-18", "judge", "J-1"],
        ] {
            let output = bench.club.run(arguments);
            let told = String::from_utf8_lossy(&output.stderr);
            assert!(output.status.success(), "{name}, {arguments:?}: {told}");
            let said = String::from_utf8_lossy(&output.stdout);
            assert!(!said.contains("left as it is"), "{name}, {arguments:?}: {said}");
        }
    }
}

#[test]
fn the_edition_asked_for_comes_before_another_and_a_book_before_its_kept_text() {
    let bench = Bench::named(GONE);
    let clips = bench.club.clips();
    // Another text lies where the marks say, the one that they name beside them.
    let named = bench.club.folder.path().join("own.toml");
    fs::write(&named, text().replace("amount = 1.0", "amount = 0.7")).unwrap();
    let routine = |hash: &str| Routine {
        book: named.display().to_string(),
        book_hash: hash.to_owned(),
        ..Routine::default()
    };
    let find = |hash: &str| {
        let state = bench.club.state();
        let ruled = Judging::new(Some(&state)).book(&routine(hash), &bench.marks[0]).unwrap();
        (PathBuf::from(ruled.found_by), ruled.edition)
    };
    assert_eq!(find(&bench.hash), (clips.join("own.toml"), Edition::Current));
    // Marks that name no edition have the book in the place that they name.
    assert_eq!(find(""), (named.clone(), Edition::Current));
    let asked = "00".to_owned();
    assert_eq!(find("00"), (named.clone(), Edition::Missing { asked }));
    fs::remove_file(clips.join("own.toml")).unwrap();
    assert_eq!(find(&bench.hash), (named, Edition::Kept { now: Some("1".to_owned()) }));
}

#[test]
fn judges_under_different_texts_are_told_of_it() {
    let bench = Bench::named("own.toml");
    let [fell, stayed] = bench.names();
    let file = fs::read_to_string(stayed).unwrap().replace(&bench.hash, &"0".repeat(64));
    fs::write(stayed, file).unwrap();
    for arguments in [&["panel", fell, stayed][..], &["library", "reference", fell, stayed]] {
        let output = bench.club.run(arguments);
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(output.status.success(), "{told}");
        let line = told.lines().find(|line| line.contains("another text")).unwrap();
        assert!(line.contains(stayed) && line.contains("Test book R"), "{told}");
    }
}

#[test]
fn a_book_that_is_nowhere_is_told_with_the_marks_and_what_to_do() {
    let bench = Bench::named(GONE);
    let [fell, stayed] = bench.names();
    fs::remove_file(bench.club.clips().join("own.toml")).unwrap();
    fs::remove_dir_all(bench.club.state().path().join("editions")).unwrap();
    for arguments in [
        &["score", fell][..],
        &["measure", fell],
        &["panel", fell, stayed],
        &["agree", fell, stayed],
        &["library", "reference", fell, stayed],
    ] {
        let told = bench.club.refuses(arguments);
        for part in [fell, GONE, "beside the marks", "name another book"] {
            assert!(told.contains(part), "{arguments:?}: {told}");
        }
    }
    let problems = bench.club.scan().problems;
    assert!(problems.iter().any(|told| told.contains(fell) && told.contains(GONE)), "{problems:?}");
}

#[test]
fn readings_are_measured_without_a_book_too() {
    let bench = Bench::named("");
    let fell = bench.names()[0];
    assert_eq!(bench.club.says(&["measure", fell]), "no readings\n");
    let state = bench.club.state();
    let none = Judging::new(Some(&state)).judge(&bench.marks[0]).unwrap_err();
    assert!(matches!(&none, JudgedError::NoBook { marks } if *marks == bench.marks[0]));
    assert!(none.to_string().contains("--rulebook"), "{none}");
}
