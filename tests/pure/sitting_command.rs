//! The program itself on sets and sittings, with a kill between answer and still.

use std::{
    fs,
    io::{BufRead as _, BufReader, Read as _, Write as _},
    path::Path,
    process::{Child, Command, Stdio},
};

use stillcall::{
    library::{Shows, SidecarFile},
    practice::{
        set::Answer,
        sitting::{Record, read},
    },
};
use tempfile::TempDir;

use crate::{
    command::{error, out, stillcall},
    sets::FIRST,
};

fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("first.toml"), FIRST).unwrap();
    for clip in ["a.mp4", "b.mp4"] {
        draw(&folder.path().join(clip));
    }
    folder
}

/// Writes a clip that nobody is filmed on, so that it may be in a set.
fn draw(clip: &Path) {
    fs::write(clip, "").unwrap();
    let mut noted = SidecarFile::begin(clip).unwrap();
    noted.sidecar.shows = Shows::Nobody;
    noted.save().unwrap();
}

fn begin(folder: &Path, arguments: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_stillcall"))
        .args([&["sitting", "first.toml", "--typed"], arguments].concat())
        .current_dir(folder)
        .env("STILLCALL_STATE", folder.join("state"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// Types these lines and returns all that was said until the end.
fn sit(folder: &Path, arguments: &[&str], lines: &[&str]) -> String {
    let mut child = begin(folder, arguments);
    child.stdin.take().unwrap().write_all((lines.join("\n") + "\n").as_bytes()).unwrap();
    let mut said = String::new();
    child.stdout.take().unwrap().read_to_string(&mut said).unwrap();
    assert!(child.wait().unwrap().success(), "{said}");
    said
}

#[test]
fn a_sitting_survives_a_kill_between_answer_and_still() {
    let folder = folder();
    let mut child = begin(folder.path(), &["--person", "J-2"]);
    let mut typing = child.stdin.take().unwrap();
    typing.write_all(b"9.8\nyes\n9.4\n").unwrap();
    typing.flush().unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    // The answers are on the disk, and the program waits with the still.
    assert!(lines.by_ref().map_while(Result::ok).any(|line| line.contains("Written.")));
    child.kill().unwrap();
    child.wait().unwrap();
    let path = folder.path().join("first.J-2.001.sitting");
    let (_, records) = read(&path).unwrap();
    let [Record::Looked { .. }, Record::Answered { answers, .. }] = &records[..] else {
        panic!("{records:?}")
    };
    assert_eq!(answers[1].answer, Some(Answer::Word("yes".into())));
    // It goes on at the still of the same look: no second look, no second first answer.
    let said = sit(folder.path(), &["--person", "J-2"], &["", "no", "", ""]);
    let stills = said.find("After the still").unwrap();
    assert!(!said[..stills].contains("Look 1 of 3"), "{said}");
    assert!(said.contains("Reference call: no. The hips stay below the bar."), "{said}");
    assert!(said.contains("it comes back in a later sitting"), "{said}");
    let (_, after) = read(&path).unwrap();
    assert_eq!(after[..2], records[..], "the first answers are as they were");
    assert_eq!(
        fs::read_dir(folder.path())
            .unwrap()
            .flatten()
            .filter(|file| file.path().extension().is_some_and(|ending| ending == "sitting"))
            .count(),
        1
    );
}

/// A code as docs/practice.md has it; a group has no name of a person.
#[test]
fn a_name_is_refused_before_anything_is_asked() {
    let folder = folder();
    let output =
        stillcall(folder.path(), &["sitting", "first.toml", "--typed", "--person", "Anna"]);
    assert!(!output.status.success());
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("\"Anna\" is not a code") && said.contains("SC-07 or J-3"), "{said}");
    let files = fs::read_dir(folder.path()).unwrap().flatten();
    assert!(files.into_iter().all(|file| !file.file_name().to_string_lossy().contains("Anna")));
}

#[test]
fn a_whole_sitting_and_what_comes_back() {
    let folder = folder();
    let elements = "pull-over, cast, back-hip-circle";
    let answers = ["9.8", "maybe", "yes", "9.4", "", "", "", elements, "-7", "", "", "broken", ""];
    let said = sit(folder.path(), &[], &answers);
    assert!(said.contains("type one of: yes, no"), "a wrong word is asked again: {said}");
    assert!(said.contains("A close call: right either way."), "{said}");
    assert!(said.contains("-7° ± 2°") && said.contains("Still: a.mp4 at 3.933 s"), "{said}");
    assert!(said.contains("Done."), "{said}");
    assert!(!said.contains("Look 4"), "the flagged look is left out: {said}");
    // Only the look with the wrong answer comes back.
    let again = sit(folder.path(), &[], &["9.8", "no", "9.4", "", "", "", ""]);
    assert!(again.contains("Look 1 of 1") && again.contains("Right."), "{again}");
}

#[test]
fn a_missing_or_changed_clip_is_told_and_the_rest_goes_on() {
    let folder = folder();
    fs::remove_file(folder.path().join("b.mp4")).unwrap();
    let hash = "ab".repeat(32);
    let text =
        FIRST.replacen("clip = \"a.mp4\"", &format!("clip = \"a.mp4\"\nclip_hash = \"{hash}\""), 1);
    fs::write(folder.path().join("first.toml"), text).unwrap();
    let said = sit(folder.path(), &[], &["broken", ""]);
    assert!(said.contains("not the one that the set was made with"), "{said}");
    assert!(said.contains("b.mp4 is not there"), "{said}");
    assert!(said.contains("Done."), "{said}");
}

#[test]
fn a_group_raises_hands_and_gives_no_names() {
    let folder = folder();
    let said = sit(folder.path(), &["--group"], &["7", "7 3", "1 9", "4 6", "5 5"]);
    assert!(said.contains("hands for yes, for no") && said.contains("type 2 counts"), "{said}");
    let (begun, records) = read(&folder.path().join("first.group.001.sitting")).unwrap();
    assert_eq!(begun.person, "group");
    let Record::Answered { answers, .. } = &records[1] else { panic!("{records:?}") };
    assert_eq!(answers[0].answer, Some(Answer::Hands(vec![7, 3])));
}

#[test]
fn the_slip_asks_everything_and_tells_no_answer() {
    let folder = folder();
    let wrote = stillcall(folder.path(), &["sitting", "first.toml", "--slip", "slip.html"]);
    assert!(wrote.status.success());
    let page = fs::read_to_string(folder.path().join("slip.html")).unwrap();
    for wanted in [
        "Look 3",
        "Is the cast credited?",
        "From one look",
        "After the still",
        "Watch only the hips.",
        "For practice",
    ] {
        assert!(page.contains(wanted), "{wanted}");
    }
    for told in ["9.35", "9.8", "-7", "hip-circle", "3.933", "stay below", "Look 4", "http"] {
        assert!(!page.contains(told), "{told}");
    }
}

#[test]
fn sittings_are_held_against_the_set() {
    let folder = folder();
    let elements = "pull-over, cast, back-hip-circle";
    for (person, credited, angle) in
        [("J-1", "no", "-7"), ("J-2", "yes", "3"), ("J-3", "no", "-12")]
    {
        let answers = ["9.8", credited, "9.4", "", "", "", elements, angle, "", "", "broken", ""];
        sit(folder.path(), &["--person", person], &answers);
    }
    let sittings = ["J-1", "J-2", "J-3"].map(|code| format!("first.{code}.001.sitting"));
    let [a, b, c] = sittings.each_ref().map(String::as_str);
    let said =
        out(&stillcall(folder.path(), &["agree", "first.toml", a, b, c, "--html", "page.html"]));
    assert!(said.contains("most often \"yes\" for \"no\" (1)"), "{said}");
    // By hand: J-2 answered 3 where the reference says -7.
    assert!(said.contains("3.0° for −7.0°: off by +10.0°"), "{said}");
    assert!(said.contains("1 left open, not counted"), "{said}");
    assert!(said.contains("For practice"), "{said}");
    let page = fs::read_to_string(folder.path().join("page.html")).unwrap();
    assert!(page.contains("J-3") && page.contains("<svg") && !page.contains("NaN"));
    let mixed = error(&stillcall(folder.path(), &["agree", a, b]));
    assert!(mixed.contains("first.J-1.001.sitting") && mixed.contains("set"), "{mixed}");
}

#[test]
fn a_set_with_errors_is_told_with_its_lines() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("wrong.toml"), include_str!("sets/wrong.toml")).unwrap();
    let said = error(&stillcall(folder.path(), &["sitting", "wrong.toml", "--typed"]));
    assert!(said.contains("wrong.toml:3") && said.contains("did you mean"), "{said}");
    let missing = error(&stillcall(folder.path(), &["sitting", "gone.toml", "--typed"]));
    assert!(missing.contains("gone.toml"), "{missing}");
}
