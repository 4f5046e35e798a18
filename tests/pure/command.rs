//! The program itself, on the commands that need no clip.

use std::{fs, path::Path, process::Output};

use serde_json::{Value, json};
use stillcall::marks::{StateFolder, path_for};
use tempfile::TempDir;

use crate::books::write::BARS;

pub(crate) fn stillcall(folder: &Path, arguments: &[&str]) -> Output {
    std::process::Command::new(env!("CARGO_BIN_EXE_stillcall"))
        .args(arguments)
        .current_dir(folder)
        .env("STILLCALL_STATE", folder.join("state"))
        .output()
        .unwrap()
}

pub(crate) fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

pub(crate) fn error(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// A planned bars routine for the Redshank division: six elements, the cast stated 7 below.
fn planned(folder: &TempDir) -> String {
    let marks: Vec<Value> = BARS
        .iter()
        .enumerate()
        .map(|(i, id)| json!({"id": i + 1, "at": {"place": i}, "kind": "element", "element": id}))
        .collect();
    let file = json!({
        "format": "stillcall marks", "version": 1, "document": "d",
        "routine": {
            "id": "1", "event": "bars", "division": "redshank", "athlete": "SC-07",
            "judge": "J-2", "date": "2026-10-17", "book": "saltmarsh",
        },
        "marks": marks,
        "readings": [{
            "id": 20, "of": 2, "quantity": "body-line", "value": -7.0, "at": {"place": 1},
        }],
    });
    let path = folder.path().join("plan.marks.json");
    fs::write(&path, file.to_string()).unwrap();
    "plan.marks.json".to_owned()
}

#[test]
fn score_prints_the_sheet_as_json() {
    let folder = tempfile::tempdir().unwrap();
    let marks = planned(&folder);
    let output = stillcall(folder.path(), &["score", &marks, "--json"]);
    let sheet: Value = serde_json::from_str(&out(&output)).unwrap();
    for key in [
        "start_value",
        "score",
        "score_range",
        "void",
        "void_reasons",
        "value_parts",
        "requirements",
        "deductions",
        "win_back",
    ] {
        assert!(sheet.get(key).is_some(), "{key} in {sheet}");
    }
    let is_amount = |value: &Value| {
        let text = value.as_str().unwrap_or_default();
        text.split_once('.').is_some_and(|(_, decimals)| decimals.len() == 3)
    };
    assert!(is_amount(&sheet["start_value"]) && is_amount(&sheet["score"]));
    for end in ["low", "high"] {
        assert!(is_amount(&sheet["score_range"][end]));
    }
    assert_eq!(sheet["score_range"]["may_be_void"], false);
    for requirement in sheet["requirements"].as_array().unwrap() {
        let status = requirement["status"].as_str().unwrap();
        assert!(["met", "missed", "close"].contains(&status), "{status}");
        assert!(requirement["id"].is_string() && requirement["label"].is_string());
        assert!(is_amount(&requirement["amount"]) && requirement["frames"].is_array());
    }
    assert!(!sheet["win_back"].as_array().unwrap().is_empty(), "the cast can be won back");
}

#[test]
fn every_output_carries_the_caution_and_the_book() {
    let folder = tempfile::tempdir().unwrap();
    let marks = planned(&folder);
    let text = out(&stillcall(folder.path(), &["score", &marks, "--html", "sheet.html"]));
    let json = out(&stillcall(folder.path(), &["score", &marks, "--json"]));
    let html = fs::read_to_string(folder.path().join("sheet.html")).unwrap();
    for output in [&text, &json, &html] {
        let output = output.replace('\n', " ");
        let lower = output.to_lowercase();
        assert!(lower.contains("for practice"), "{output}");
        assert!(lower.contains("not for an inquiry"), "{output}");
        assert!(output.contains("Saltmarsh Coast League") && output.contains("2026.1"), "{output}");
    }
    assert!(!html.contains("<img") && !html.contains("http"), "needs no other file");
}

#[test]
fn the_command_line_sees_what_is_only_in_the_journal() {
    use stillcall::marks::{Desk, Edit, Item, Step};
    let folder = tempfile::tempdir().unwrap();
    let marks = planned(&folder);
    let path = folder.path().join(marks);
    let state = StateFolder::at(folder.path().join("state"));
    let mut desk = Desk::open(&path, &state).unwrap();
    let before = out(&stillcall(folder.path(), &["score", "plan.marks.json", "--json"]));
    let mut cast = desk.sheaf().readings[0].clone();
    cast.value = stillcall::units::Magnitude(3.0);
    let edit = Edit::change(desk.sheaf(), Item::Reading(cast));
    desk.take(Step::Do(edit)).unwrap();
    let after = out(&stillcall(folder.path(), &["score", "plan.marks.json", "--json"]));
    let start = |text: &str| {
        let sheet: Value = serde_json::from_str(text).unwrap();
        sheet["start_value"].as_str().unwrap().parse::<f64>().unwrap()
    };
    assert!(start(&after) > start(&before), "the cast reached horizontal: {after}");
}

#[test]
fn what_cannot_be_scored_is_told_with_file_and_remedy() {
    let folder = tempfile::tempdir().unwrap();
    let missing = error(&stillcall(folder.path(), &["score", "gone.marks.json"]));
    assert!(missing.contains("gone.marks.json"), "{missing}");
    let marks = planned(&folder);
    let unknown = error(&stillcall(folder.path(), &["score", &marks, "--rulebook", "saltmarch"]));
    assert!(unknown.contains("saltmarsh"), "names what there is: {unknown}");
}

#[test]
fn a_blank_rule_book_passes_its_own_check() {
    let folder = tempfile::tempdir().unwrap();
    assert!(stillcall(folder.path(), &["rulebook", "new", "own.toml"]).status.success());
    let check = stillcall(folder.path(), &["rulebook", "check", "own.toml"]);
    assert!(check.status.success(), "{}", out(&check));
    assert!(out(&check).contains("0 errors"), "{}", out(&check));
    let again = error(&stillcall(folder.path(), &["rulebook", "new", "own.toml"]));
    assert!(again.contains("own.toml"), "a book that is there is left alone: {again}");
}

#[test]
fn a_file_that_is_no_text_is_refused_with_its_name_and_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let check = |name: &str, bytes: &[u8]| {
        fs::write(folder.path().join(name), bytes).unwrap();
        let said = error(&stillcall(folder.path(), &["rulebook", "check", name]));
        assert!(!said.contains("panicked") && said.lines().count() < 5, "{said}");
        assert!(said.contains(&format!("{name} is no text in UTF-8 from line ")), "{said}");
        assert!(said.contains("save it as plain text in UTF-8"), "{said}");
        said
    };
    // 4 KB of noise from a fixed generator (Numerical Recipes' ranqd1, its high byte).
    let noise = (0..4096_u32).scan(1_u32, |state, _| {
        *state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        Some((*state >> 24) as u8)
    });
    check("noise.toml", &noise.collect::<Vec<u8>>());
    let blank = stillcall::rulebook::blank();
    let utf_16 = |mark: &[u16]| -> Vec<u8> {
        let units = mark.iter().copied().chain(blank.encode_utf16());
        units.flat_map(u16::to_le_bytes).collect()
    };
    let marked = check("marked.toml", &utf_16(&[0xfeff]));
    assert!(marked.contains("line 1 on, it seems to be UTF-16"), "{marked}");
    check("unmarked.toml", &utf_16(&[]));
    // One letter typed in an old code page, on its line.
    let latin =
        [b"[book]\nid = \"x\"\ntitle = \"".as_slice(), b"\xe9\"\nedition = \"1\"\n"].concat();
    let said = check("latin.toml", &latin);
    assert!(said.contains("from line 3 on:"), "{said}");
}

#[test]
fn a_text_with_a_byte_order_mark_is_read() {
    // Some editors write U+FEFF before a text in UTF-8; TOML 1.0 leaves it to the reader.
    let folder = tempfile::tempdir().unwrap();
    let text = format!("\u{feff}{}", stillcall::rulebook::blank());
    fs::write(folder.path().join("own.toml"), text).unwrap();
    let check = stillcall(folder.path(), &["rulebook", "check", "own.toml"]);
    assert!(check.status.success(), "{}", out(&check));
}

#[test]
fn the_shipped_book_is_listed_and_passes() {
    let folder = tempfile::tempdir().unwrap();
    let list = out(&stillcall(folder.path(), &["rulebook", "list"]));
    assert!(list.contains("Saltmarsh Coast League"), "{list}");
    let check = stillcall(folder.path(), &["rulebook", "check", "saltmarsh"]);
    assert!(check.status.success(), "{}", out(&check));
}

#[test]
fn marks_of_two_judges_never_share_a_file() {
    let clip = Path::new("meet.mp4");
    assert_ne!(path_for(clip, "1", "J-1"), path_for(clip, "1", "J-2"));
}

#[test]
fn the_card_and_the_chart_are_printed() {
    let folder = TempDir::new().unwrap();
    let of = ["--rulebook", "saltmarsh", "--event", "beam"];
    let card = |rest: &[&str]| stillcall(folder.path(), &[&["card"], &of[..], rest].concat());
    let text = out(&card(&["--division", "redshank"]));
    // Redshank's own leap number in the shipped book.
    assert!(text.contains("Redshank") && text.contains("at least 105°"), "{text}");
    assert!(card(&["--division", "redshank", "--html", "card.html"]).status.success());
    let page = fs::read_to_string(folder.path().join("card.html")).unwrap();
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("105°"));
    let unknown = error(&card(&["--division", "gannet"]));
    assert!(unknown.contains("sanderling, dunlin, redshank, curlew, heron"), "{unknown}");
    let chart = out(&stillcall(folder.path(), &[&["chart"], &of[..]].concat()));
    assert!(chart.contains("Sanderling"), "{chart}");
}

#[test]
fn a_book_may_be_like_a_file_beside_it() {
    let folder = TempDir::new().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    assert!(stillcall(folder.path(), &["rulebook", "new", "base.toml"]).status.success());
    write("own.toml", "[book]\nid = \"own\"\ntitle = \"Own\"\nedition = 1\nlike = \"base.toml\"\n");
    let check = stillcall(folder.path(), &["rulebook", "check", "own.toml"]);
    assert!(out(&check).contains("0 errors, 0 warnings"), "{}", out(&check));
    write("base.toml", "[book]\nid = 1\n");
    let check = stillcall(folder.path(), &["rulebook", "check", "own.toml"]);
    assert_eq!(check.status.code(), Some(1));
    assert!(out(&check).contains("has errors of its own"), "{}", out(&check));
}

#[test]
fn a_routine_is_shown_in_every_division_and_by_what_each_thing_cost() {
    let folder = TempDir::new().unwrap();
    let marks = planned(&folder);
    let divisions = out(&stillcall(folder.path(), &["score", &marks, "--all-divisions"]));
    let begins = divisions.lines().filter(|line| line.contains(": start value "));
    assert_eq!(begins.count(), 5, "{divisions}");
    // The cast stated 7 below horizontal costs 0.7 + 0.6 by the league's own numbers.
    let causes = out(&stillcall(folder.path(), &["score", &marks, "--by-cause"]));
    assert!(causes.contains("Cast cost "), "{causes}");
}

#[test]
fn a_routine_is_scored_under_the_edition_that_its_marks_name() {
    let folder = TempDir::new().unwrap();
    let marks = planned(&folder);
    let own = |edition: &str, price: &str| {
        let text = format!(
            "[book]\nid = \"own\"\ntitle = \"Own\"\nedition = \"{edition}\"\nlike = \"saltmarsh\"\n\n\
             [[requirement]]\nid = \"cast\"\nlabel = \"Cast\"\nevents = \"bars\"\nprice = {price}\n\
             tags = \"cast\"\n"
        );
        fs::write(folder.path().join("own.toml"), text).unwrap();
    };
    let path = folder.path().join(&marks);
    let set = |hash: &Value| {
        let mut file: Value = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
        file["routine"]["book"] = "own.toml".into();
        file["routine"]["book_hash"] = hash.clone();
        fs::write(&path, file.to_string()).unwrap();
    };
    let scored = || {
        let output = stillcall(folder.path(), &["score", &marks, "--json"]);
        let sheet: Value = serde_json::from_str(&out(&output)).unwrap();
        (sheet, String::from_utf8(output.stderr).unwrap())
    };
    own("2025", "1.0");
    set(&"".into());
    let (old, said) = scored();
    assert_eq!(said, "");
    own("2026", "0.5");
    set(&old["standing"]["book_hash"]);
    let (again, said) = scored();
    assert_eq!(again["start_value"], old["start_value"]);
    assert_eq!(again["standing"]["edition"], "2025");
    assert!(said.contains("kept Own, edition 2025; the book is now edition 2026"), "{said}");
    // Under the new edition only where it is asked for.
    let new = stillcall(folder.path(), &["score", &marks, "--rulebook", "own.toml", "--json"]);
    let new: Value = serde_json::from_str(&out(&new)).unwrap();
    assert_eq!(new["standing"]["edition"], "2026");
    assert_ne!(new["start_value"], old["start_value"]);
}

/// `score --json | head` ends as soon as the reader has enough.
#[test]
fn a_reader_that_goes_away_is_no_error() {
    let folder = tempfile::tempdir().unwrap();
    let marks = planned(&folder);
    for option in [None, Some("--json")] {
        let mut running = std::process::Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .args(["score", &marks].into_iter().chain(option))
            .current_dir(folder.path())
            .env("STILLCALL_STATE", folder.path().join("state"))
            .stdout(std::process::Stdio::piped())
            .stderr(std::process::Stdio::piped())
            .spawn()
            .unwrap();
        drop(running.stdout.take());
        let output = running.wait_with_output().unwrap();
        assert!(output.status.success(), "{option:?}: {output:?}");
        assert!(output.stderr.is_empty(), "{option:?}: {output:?}");
    }
}

/// Whoever wrote the marks does not steer the terminal of whoever reads them.
#[test]
fn nothing_in_a_file_steers_the_terminal_or_turns_the_text_round() {
    let folder = tempfile::tempdir().unwrap();
    let marks = planned(&folder);
    let path = folder.path().join(&marks);
    let mut file: Value = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
    file["marks"][1]["element"] = json!("kip\u{1b}[2J\u{202e}");
    file["marks"][2]["element"] = json!("=HYPERLINK(0)");
    fs::write(&path, file.to_string()).unwrap();
    let sheet =
        out(&stillcall(folder.path(), &["score", &marks, "--html", "s.html", "--csv", "s.csv"]));
    let json = out(&stillcall(folder.path(), &["score", &marks, "--json"]));
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).unwrap();
    for text in [&sheet, &json, &read("s.html"), &read("s.csv")] {
        assert!(!text.contains(['\u{1b}', '\u{202e}']), "{text}");
        assert!(text.contains("kip"), "{text}");
    }
    // What is written out in a string of JSON is the same string.
    assert!(serde_json::from_str::<Value>(&json).unwrap().to_string().contains('\u{202e}'));
    let said = error(&stillcall(folder.path(), &["score", "no\u{1b}[2Jsuch.json"]));
    assert!(!said.contains('\u{1b}') && said.contains("\\u001b[2Jsuch.json"), "{said}");
}
