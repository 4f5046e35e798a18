//! The log and the document, where no file of a room above tells already.

use std::fs;

use serde_json::{Value, json};
use stillcall::{
    library::{Deletion, Home, Ledger},
    practice::eye::Diary,
    store::{Begin, Keeping, Lock, Log, LogError, is_in_use, plain_lines, whole_lines},
};

const CHECKED: Keeping = Keeping { checked: true, lock: Lock::Refused, synced: true };
const PLAIN: Keeping = Keeping { checked: false, lock: Lock::EachLine, synced: true };

#[test]
fn lines_are_whole_up_to_the_first_torn_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deeper/a.log");
    let mut log = Log::open(&path, Begin::Either, CHECKED).unwrap();
    let checksums = [json!({"a": 1}), json!([2])].map(|line| log.append(&line).unwrap());
    let bytes = log.bytes().unwrap();
    let lines: Vec<_> = whole_lines(&bytes).collect();
    assert_eq!(lines.iter().map(|line| line.json).collect::<Vec<_>>(), ["{\"a\":1}", "[2]"]);
    assert_eq!(lines.iter().map(|line| line.checksum).collect::<Vec<_>>(), checksums);
    assert_eq!(lines[1].end, bytes.len());
    // A flipped bit in the first line leaves nothing, one in the last the first.
    for (at, left) in [(lines[0].end - 3, 0), (bytes.len() - 3, 1)] {
        let mut flipped = bytes.clone();
        flipped[at] ^= 1;
        assert_eq!(whole_lines(&flipped).count(), left);
    }
    assert_eq!(whole_lines(&bytes[..bytes.len() - 1]).count(), 1, "without its end it is torn");
}

#[test]
fn what_is_cut_off_is_kept_aside_each_time() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.log");
    let mut log = Log::open(&path, Begin::New, CHECKED).unwrap();
    log.append(&1).unwrap();
    let whole = log.bytes().unwrap();
    for number in 1..=2 {
        let torn = [whole.as_slice(), b"0123"].concat();
        fs::write(&path, &torn).unwrap();
        log.keep_whole(whole.len()).unwrap();
        assert_eq!(log.bytes().unwrap(), whole);
        assert_eq!(fs::read(path.with_extension(format!("torn-{number}"))).unwrap(), torn);
    }
    log.keep_whole(whole.len()).unwrap();
    assert!(!path.with_extension("torn-3").exists(), "there was nothing to cut off");
}

#[test]
fn who_comes_second_is_told_with_the_file_and_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.log");
    assert!(!is_in_use(&path));
    let log = Log::open(&path, Begin::New, CHECKED).unwrap();
    assert!(is_in_use(&path));
    let error = Log::open(&path, Begin::Existing, CHECKED).unwrap_err();
    assert!(matches!(error, LogError::Busy { .. }));
    let said = error.to_string();
    assert!(said.contains("a.log") && said.contains("Close it there first"), "{said}");
    drop(log);
    let missing = Log::open(&folder.path().join("b.log"), Begin::Existing, CHECKED);
    let said = missing.unwrap_err().to_string();
    assert!(said.contains("b.log") && said.contains("check the folder"), "{said}");
}

#[test]
fn a_line_begins_behind_a_torn_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.log");
    fs::write(&path, "1\n[2, ").unwrap();
    let mut log = Log::open(&path, Begin::Existing, PLAIN).unwrap();
    log.append(&3).unwrap();
    log.append(&4).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "1\n[2, \n3\n4\n");
    assert_eq!(plain_lines::<Value>(&log.bytes().unwrap()), [1, 3, 4]);
}

/// As they were written before there was one log: with an empty line before each later one.
#[test]
fn lists_of_earlier_versions_are_read_and_gone_on_with() {
    let folder = tempfile::tempdir().unwrap();
    let home = Home::at(folder.path());
    let line = |witness: &str| {
        format!(
            "{{\"on\":\"2026-11-24\",\"by\":\"T-1\",\"witness\":\"{witness}\",\"why\":\"deleted\",\
             \"clips\":[],\"files\":1,\"kept_marks\":false}}\n"
        )
    };
    let path = folder.path().join("deletions.jsonl");
    fs::write(&path, format!("{}\n{}\n{{\"on\":", line("T-2"), line("T-3"))).unwrap();
    let mut list = Ledger::<Deletion>::open(&home).unwrap();
    let lines = list.lines().unwrap();
    assert_eq!(lines.iter().map(|line| &*line.witness).collect::<Vec<_>>(), ["T-2", "T-3"]);
    list.add(&lines[0]).unwrap();
    assert_eq!(list.lines().unwrap().len(), 3);
    list.replace(&lines[1..]).unwrap();
    drop(list);
    assert_eq!(fs::read_to_string(&path).unwrap(), line("T-3"));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is copied aside");
}

#[test]
fn what_is_no_text_is_no_diary() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("J-2.eye");
    fs::write(&path, [0xff, 0xfe, 0]).unwrap();
    let error = Diary::open(folder.path(), "J-2").unwrap_err().to_string();
    assert!(error.contains("J-2.eye"), "{error}");
    assert_eq!(fs::read(&path).unwrap(), [0xff, 0xfe, 0]);
}
