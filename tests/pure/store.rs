//! The log and the document, where no file of a room above tells already.

use std::{fs, io::Read as _};

use serde_json::{Value, json};
use stillcall::{
    library::{Deletion, Home, Ledger, Shelf},
    practice::eye::Diary,
    store::{
        Begin, DocumentError, Format, Held, Keeping, Lock, Log, LogError, Readers, Unfinished,
        clear_unfinished, is_being_made, is_in_use, plain_lines, whole_lines,
    },
};

const CHECKED: Keeping =
    Keeping { checked: true, lock: Lock::Refused, synced: true, readers: Readers::User };
const PLAIN: Keeping =
    Keeping { checked: false, lock: Lock::EachLine, synced: true, readers: Readers::User };

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

static FORMAT: Format = Format {
    name: "stillcall test",
    version: 2,
    called: "test file",
    unwritten: "Choose another place",
    readers: Readers::Folder,
};

#[test]
fn a_document_is_only_written_while_it_is_the_one_that_was_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    let text = |a: u8| FORMAT.text(&json!({"a": a, "b": 0}));
    assert!(FORMAT.read_if_there(&path).unwrap().is_none());
    let (mut first, mut second) = (Held::default(), Held::default());
    FORMAT.write(&path, &text(1), &mut first).unwrap();
    let error = FORMAT.write(&path, &text(2), &mut second).unwrap_err().to_string();
    assert!(error.contains("a.json") && error.contains("a: here 2, in the file 1"), "{error}");
    assert!(!error.contains("b:"), "only what differs: {error}");
    let (bytes, mut second) = FORMAT.read(&path).unwrap();
    assert_eq!(FORMAT.parse::<Value>(&bytes, &path).unwrap(), json!({"a": 1, "b": 0}));
    FORMAT.write(&path, &text(2), &mut second).unwrap();
    fs::write(&path, "no table").unwrap();
    let error = FORMAT.write(&path, &text(3), &mut second).unwrap_err();
    assert!(matches!(error, DocumentError::Changed { .. }), "{error}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "no table");
    // One that was taken away is written again.
    fs::remove_file(&path).unwrap();
    FORMAT.write(&path, &text(3), &mut second).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), text(3));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "no temporary file is left");
}

#[test]
fn a_document_that_is_none_is_told_with_file_and_remedy() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    for (text, said) in [
        (r#"{"format": "stillcall test", "version": 3}"#, "Update the program"),
        (r#"{"format": "stillcall test", "version": 1}"#, "\"version\" is missing or unknown"),
        (r#"{"format": "another", "version": 2}"#, "is not a readable test file"),
        ("[]", "it holds no table"),
        ("{", "fetch an older copy"),
    ] {
        let error = FORMAT.parse::<Value>(text.as_bytes(), &path).unwrap_err().to_string();
        assert!(error.contains("a.json") && error.contains(said), "{text}: {error}");
    }
    let gone = folder.path().join("gone/a.json");
    let error = FORMAT.write(&gone, "{}", &mut Held::default()).unwrap_err().to_string();
    assert!(error.contains("a.json") && error.contains("Choose another place"), "{error}");
}

#[test]
fn two_programs_do_not_undo_each_others_folders() {
    let folder = tempfile::tempdir().unwrap();
    let home = Home::at(folder.path().join("own"));
    let clips = ["one", "two"].map(|name| folder.path().join(name));
    for clips in &clips {
        fs::create_dir(clips).unwrap();
    }
    let (mut first, mut second) = (Shelf::read(&home).unwrap(), Shelf::read(&home).unwrap());
    first.add(&clips[0]).unwrap();
    first.write(&home).unwrap();
    second.add(&clips[1]).unwrap();
    assert!(second.write(&home).unwrap_err().to_string().contains("shelf.json"));
    let mut third = Shelf::read(&home).unwrap();
    assert_eq!(third.folders, [clips[0].canonicalize().unwrap()]);
    third.add(&clips[1]).unwrap();
    third.write(&home).unwrap();
    assert_eq!(Shelf::read(&home).unwrap().folders.len(), 2);
    // As a later version writes it.
    let path = home.path().join("shelf.json");
    let text = fs::read_to_string(&path).unwrap();
    let newer = text.replacen("\"version\": 1", "\"version\": 2", 1);
    assert_ne!(newer, text);
    fs::write(&path, &newer).unwrap();
    assert!(Shelf::read(&home).unwrap_err().to_string().contains("Update the program"));
    let known = text.replacen("\"folders\"", "\"clubs\": [3],\n  \"folders\"", 1);
    fs::write(&path, known).unwrap();
    Shelf::read(&home).unwrap().write(&home).unwrap();
    let kept: Value = serde_json::from_slice(&fs::read(&path).unwrap()).unwrap();
    assert_eq!(kept["clubs"], json!([3]));
}

/// A crash in between leaves one of the two, because neither is ever changed in its place.
#[test]
fn a_list_that_is_replaced_is_there_as_it_was_or_as_it_will_be() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made.jsonl");
    let keeping = Keeping { lock: Lock::Waited, ..PLAIN };
    let mut log = Log::open(&path, Begin::New, keeping).unwrap();
    for line in 0..3 {
        log.append(&line).unwrap();
    }
    let mut before = fs::File::open(&path).unwrap();
    log.replace(&[7]).unwrap();
    log.append(&8).unwrap();
    let mut text = String::new();
    before.read_to_string(&mut text).unwrap();
    assert_eq!(text, "0\n1\n2\n", "it was changed in its place");
    assert_eq!(fs::read_to_string(&path).unwrap(), "7\n8\n");
    assert_eq!(plain_lines::<u8>(&log.bytes().unwrap()), [7, 8]);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "no temporary file is left");
}

/// Who waited holds the lock of the list that is there now, not of the one that was.
#[test]
fn what_is_added_while_a_list_is_replaced_is_not_lost() {
    const EACH: u32 = 40;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made.jsonl");
    let keeping = Keeping { lock: Lock::Waited, ..PLAIN };
    drop(Log::open(&path, Begin::New, keeping).unwrap());
    std::thread::scope(|all| {
        for writer in 0..4 {
            let path = &path;
            all.spawn(move || {
                for number in 0..EACH {
                    let mut log = Log::open(path, Begin::Existing, keeping).unwrap();
                    let mut lines: Vec<u32> = plain_lines(&log.bytes().unwrap());
                    if number % 2 == 0 {
                        log.append(&(writer * EACH + number)).unwrap();
                    } else {
                        lines.push(writer * EACH + number);
                        log.replace(&lines).unwrap();
                    }
                }
            });
        }
    });
    let mut lines: Vec<u32> = plain_lines(&fs::read(&path).unwrap());
    lines.sort_unstable();
    assert_eq!(lines, (0..4 * EACH).collect::<Vec<_>>());
}

/// A note that was begun and never written, and one whose file is gone, are of programs that are
/// gone too.
#[test]
fn empty_notes_do_not_stay_for_ever() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("at-1"), "").unwrap();
    let gone = folder.path().join("gone/.stillcall-at-2");
    fs::write(folder.path().join("at-2"), gone.display().to_string()).unwrap();
    let alive = Unfinished::begin(folder.path(), ".html", Some(folder.path())).unwrap();
    assert!(is_being_made(alive.place(), folder.path()));
    assert!(is_being_made(&alive.place().join("a/clip.mp4"), folder.path()));
    assert!(!is_being_made(&folder.path().join(".stillcall-at-1.html"), folder.path()));
    assert!(clear_unfinished(folder.path()).is_empty());
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "that of who is at work stays");
    drop(alive);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}
