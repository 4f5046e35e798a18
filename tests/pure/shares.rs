//! A folder that takes nothing for a while: what is not written is told, nothing is lost or left
//! over, and afterwards the same command writes it.

use std::{collections::BTreeMap, fs, path::PathBuf, process::Command};

use serde_json::Value;

use super::{
    library_club::{Club, Marked},
    mounted::Mounted,
};

const MARKS: &str = "clips/a.mp4.1.J-2.marks.json";
/// Each writes into the folder of clips.
const COMMANDS: &[&str] = &[
    "result clips/a.mp4.1.J-2.marks.json --start 9.5",
    "library note clips/a.mp4 --source hall",
    "score clips/a.mp4.1.J-2.marks.json --html clips/s.html",
    "card --rulebook saltmarsh --event bars --division heron --csv clips/card.csv",
    "library set event bars --out clips/set.toml",
    "library assign event bars --date 2026-11-20",
    "library export event bars --to club --out clips/b.zip",
];

fn filled(club: &Club) {
    club.clip("a.mp4", "a");
    club.mark(&Marked::of("a.mp4", "SC-07"));
    club.says(&["library", "note", "clips/a.mp4", "--nobody"]);
    club.says(&["library", "scan"]);
}

/// Returns every file beside the clip but what fills the disk.
fn beside(club: &Club) -> BTreeMap<PathBuf, Vec<u8>> {
    let entries = fs::read_dir(club.clips()).unwrap().flatten().map(|entry| entry.path());
    let files = entries.filter(|path| !path.ends_with("filler"));
    files.map(|path| (path.clone(), fs::read(path).unwrap())).collect()
}

/// Returns the command's arguments, as words.
fn words(command: &str) -> Vec<&str> {
    command.split(' ').collect()
}

/// Runs each command while nothing can be written, and again when it can.
fn each_is_told_and_done_later(club: &Club, mut can_write: impl FnMut(bool)) {
    for command in COMMANDS {
        let before = beside(club);
        can_write(false);
        let refused = club.run(&words(command));
        let said = String::from_utf8_lossy(&refused.stderr).into_owned()
            + &String::from_utf8_lossy(&refused.stdout);
        // Where many routines are changed, what is left is told, and that is no failure.
        let is_told = refused.status.code() == Some(1) || said.contains("1 left as they are");
        assert!(is_told && !said.contains("panicked"), "{command}: {said}");
        assert!(said.contains("clips/"), "names no file: {said}");
        assert!(beside(club) == before, "{command}: {:?}", beside(club).keys());
        can_write(true);
        club.says(&words(command));
        assert!(beside(club) != before, "{command}");
        let notes = fs::read_dir(club.home().path().join("unfinished"));
        assert_eq!(notes.map_or(0, Iterator::count), 0, "{command}");
    }
    let hidden = |path: &PathBuf| path.file_name().unwrap().to_string_lossy().starts_with('.');
    assert!(!beside(club).keys().any(hidden), "{:?}", beside(club).keys());
    let marks: Value =
        serde_json::from_slice(&beside(club)[&club.folder.path().join(MARKS)]).unwrap();
    assert_eq!(marks["routine"]["result"]["start_value"], "9.500");
    assert_eq!(marks["routine"]["date"], "2026-11-20");
}

#[test]
#[ignore = "mounts; make kills"]
fn a_share_that_is_read_only_for_a_while_loses_nothing() {
    let club = Club::new();
    filled(&club);
    let Some(share) = Mounted::itself(&club.clips()) else { return };
    each_is_told_and_done_later(&club, |can| share.read_only(!can));
}

#[test]
#[ignore = "mounts; make kills"]
fn a_disk_that_is_full_for_a_while_loses_nothing() {
    let club = Club::new();
    let Some(disk) = Mounted::memory(&club.clips(), "1m") else { return };
    filled(&club);
    each_is_told_and_done_later(&club, |can| {
        let filler = disk.fill();
        if can {
            fs::remove_file(filler).unwrap();
        }
    });
}

/// The program's own folder is full: what needs it is told, what does not is done.
#[test]
#[ignore = "mounts; make kills"]
fn a_full_disk_of_the_programs_own_loses_nothing() {
    let club = Club::new();
    fs::create_dir_all(club.state().path()).unwrap();
    let Some(disk) = Mounted::memory(club.state().path(), "4m") else { return };
    club.says(&["library", "add", "clips"]);
    filled(&club);
    let before = beside(&club);
    let filler = disk.fill();
    let said = club.refuses(&words(COMMANDS[0]));
    assert!(said.contains("Free some space"), "{said}");
    assert!(beside(&club) == before);
    club.says(&words(COMMANDS[1]));
    fs::remove_file(filler).unwrap();
    club.says(&words(COMMANDS[0]));
    let marks: Value =
        serde_json::from_slice(&beside(&club)[&club.folder.path().join(MARKS)]).unwrap();
    assert_eq!(marks["routine"]["result"]["start_value"], "9.500");
}

/// As a full disk, where nobody may mount one: no file may grow beyond half a kibibyte.
#[test]
fn what_cannot_be_written_whole_is_not_written_at_all() {
    let club = Club::new();
    filled(&club);
    let long = ["result", "score", "card"];
    let is_long = |command: &&&str| long.iter().any(|name| command.starts_with(name));
    for command in COMMANDS.iter().filter(is_long) {
        let before = beside(&club);
        let limited = format!("trap '' XFSZ; ulimit -f 1; exec \"$0\" {command}");
        let done = Command::new("sh")
            .args(["-c", &limited, env!("CARGO_BIN_EXE_stillcall")])
            .current_dir(club.folder.path())
            .env("STILLCALL_STATE", club.state().path())
            .output()
            .unwrap();
        let said = String::from_utf8_lossy(&done.stderr);
        assert_eq!(done.status.code(), Some(1), "{command}: {said}");
        assert!(!said.contains("panicked") && said.contains("large"), "{command}: {said}");
        assert!(beside(&club) == before, "{command}: {:?}", beside(&club).keys());
        club.says(&words(command));
        assert!(beside(&club) != before, "{command}");
    }
}
