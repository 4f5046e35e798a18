//! A whole sitting in the real window with real key events; with the window killed between answer
//! and still, and with a disk that is full for a while.

use std::{
    path::{Path, PathBuf},
    process::Command,
    thread,
    time::{Duration, Instant},
};

use serde_json::Value;
use stillcall::practice::{
    set::Answer,
    sitting::{Record, read},
};

use crate::{
    sittings::{SET, set_in},
    xvfb::{Screen, Window},
};

const STILLCALL: &str = env!("CARGO_BIN_EXE_stillcall");

fn sit<'a>(screen: &'a Screen, set: &Path, title: &str) -> Window<'a> {
    let arguments = ["sitting", set.to_str().unwrap(), "--person", "J-2"];
    Window::show(screen, Command::new(STILLCALL), &arguments, (set.parent().unwrap(), title))
}

fn file_of(set: &Path) -> PathBuf {
    set.with_file_name("first.J-2.001.sitting")
}

/// What is on the disk; nothing before the file is there.
fn kept(set: &Path) -> Vec<Record> {
    read(&file_of(set)).map(|(_, records)| records).unwrap_or_default()
}

fn is_answered(records: &[Record]) -> bool {
    records.iter().any(|record| matches!(record, Record::Answered { .. }))
}

/// Looks, types three answers while the span plays and waits until it is over.
fn look(screen: &Screen, window: &Window<'_>) {
    screen.keys(&["Return"]);
    window.wait_for_title("looking");
    screen.write("9.8");
    screen.keys(&["Return", "y", "Return"]);
    screen.write("9.5");
    window.wait_for_title("answers");
}

#[test]
fn a_whole_sitting_with_real_keys() {
    let Some(screen) = Screen::start() else { return };
    let set = set_in("xvfb-sitting", SET);
    let window = sit(&screen, &set, "Look 1 of 2: ready");
    look(&screen, &window);
    assert!(!is_answered(&kept(&set)), "nothing is handed in yet");
    screen.keys(&["ctrl+Return"]);
    window.wait_for_title("still");
    assert!(is_answered(&kept(&set)), "on the disk before the still");
    // The start value, then the cast, called otherwise after its still, then the score.
    for second in ["", "n", ""] {
        window.wait_for_title("still");
        screen.write(second);
        for title in ["line", "reference call"] {
            screen.keys(&["Return"]);
            window.wait_for_title(title);
        }
        screen.keys(&["Return"]);
    }
    window.wait_for_title("Look 2 of 2: ready");
    screen.keys(&["Return"]);
    window.wait_for_title("answers");
    screen.keys(&["b", "ctrl+Return"]);
    for title in ["still", "line", "reference call", "Done"] {
        window.wait_for_title(title);
        screen.keys(&["Return"]);
    }
    window.wait_for("the start screen", || window.title() == "Stillcall");

    // What the window kept is what the command line reads.
    let output = Command::new(STILLCALL)
        .args(["agree", set.to_str().unwrap(), file_of(&set).to_str().unwrap(), "--json"])
        .output()
        .unwrap();
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let kinds = report["people"][0]["kinds"].as_array().unwrap();
    let kind = |name: &str| kinds.iter().find(|line| line["kind"] == name).unwrap();
    assert_eq!(kind("credited or not")["same"]["hits"], 0, "yes for no");
    assert_eq!(kind("credited or not, after the stills")["same"]["hits"], 1);
    assert_eq!(kind("connected or broken")["open"], 1, "a close call");
}

#[test]
fn a_window_killed_between_answer_and_still_loses_nothing() {
    let Some(screen) = Screen::start() else { return };
    let set = set_in("xvfb-kill", SET);
    let mut window = sit(&screen, &set, "Look 1 of 2: ready");
    look(&screen, &window);
    screen.keys(&["ctrl+Return"]);
    let end = Instant::now() + Duration::from_secs(60);
    while !is_answered(&kept(&set)) {
        assert!(Instant::now() < end, "never written");
        thread::sleep(Duration::from_millis(1));
    }
    // SIGKILL.
    window.program.kill().unwrap();
    window.program.wait().unwrap();
    let before = kept(&set);
    let Record::Answered { answers, .. } = &before[1] else { panic!("{before:?}") };
    assert_eq!(answers[1].answer, Some(Answer::Word("yes".into())));

    let again = sit(&screen, &set, "Look 1 of 2: still");
    assert_eq!(kept(&set), before, "as it was, and no second look");
    screen.keys(&["Return"]);
    again.wait_for_title("line");
    assert_eq!(kept(&set).len(), before.len() + 1);
}

/// While the disk takes nothing, no still is shown; when it does again, nothing is lost.
#[test]
#[cfg(target_os = "linux")]
fn on_a_full_disk_the_sitting_waits_with_the_still() {
    let Some(screen) = Screen::start() else { return };
    let set = set_in("xvfb-full", SET);
    // A file that may not grow any more stands for the full disk; without its signal the write
    // fails as there.
    let mut program = Command::new("sh");
    program.args(["-c", "trap '' XFSZ; exec \"$0\" \"$@\"", STILLCALL]);
    let arguments = ["sitting", set.to_str().unwrap(), "--person", "J-2"];
    let place = (set.parent().unwrap(), "Look 1 of 2: ready");
    let window = Window::show(&screen, program, &arguments, place);
    look(&screen, &window);
    let limit = |size: &str| {
        let pid = window.program.id().to_string();
        let size = format!("--fsize={size}");
        let status = Command::new("prlimit").args(["--pid", &pid, &size]).status();
        assert!(status.expect("prlimit is installed, it is part of util-linux").success());
    };
    let full = std::fs::metadata(file_of(&set)).unwrap().len();
    limit(&format!("{full}:unlimited"));
    screen.keys(&["ctrl+Return"]);
    window.wait_for_title("writing");
    // It tries again by itself and by the key, and does not go past it.
    screen.keys(&["Return"]);
    thread::sleep(Duration::from_secs(5));
    assert!(window.title().contains("writing"), "{}", window.title());
    assert_eq!(std::fs::metadata(file_of(&set)).unwrap().len(), full);
    limit("unlimited:unlimited");
    window.wait_for_title("still");
    let records = kept(&set);
    let Record::Answered { answers, .. } = &records[1] else { panic!("{records:?}") };
    assert_eq!(answers[1].answer, Some(Answer::Word("yes".into())));
}
