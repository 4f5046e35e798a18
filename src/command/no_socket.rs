//! No command opens a socket, whatever a path looks like.
//!
//! Each command runs in a process of its own in which opening one ends the process.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stderr,
    reason = "a test fails by panicking, and a child tells its parent"
)]

use std::{
    env, fs,
    os::unix::{fs::symlink, process::ExitStatusExt as _},
    process::{Command, Output},
};

use clap::Parser as _;
use seccompiler::{BpfProgram, SeccompAction, SeccompFilter, TargetArch};
use stillcall::rulebook::shipped_text;

use super::{
    CommandLine,
    leaving::{Club, places},
};

/// A folder whose files look as if they lay on a server.
const THERE: &str = "http://127.0.0.1:9";
/// Where a child finds its command.
const ASKED: &str = "STILLCALL_TEST_COMMAND";

/// Each command with every path that it takes; `@` stands for the folder.
const COMMANDS: &[&str] = &[
    "frames @/a.mp4",
    "still @/a.mp4 --frame 1 --marks @/a.mp4.floor.J-1.marks.json --out @/still.png",
    "moments @/a.mp4 --frames 0,1,2,3 --out @/moments.png",
    "replay @/a.mp4 --frames 0-3 --speed 1 --out @/replay.mp4",
    "score @/a.mp4.floor.J-1.marks.json --html @/s.html --stills --csv @/s.csv",
    "score @/a.mp4.floor.J-1.marks.json --plan @/a.mp4.floor.J-2.marks.json --skills @/her.toml",
    "score @/a.mp4.floor.J-1.marks.json --rulebook @/own.toml",
    "panel @/a.mp4.floor.J-1.marks.json @/a.mp4.floor.J-2.marks.json --html @/p.html",
    "attempts @/a.mp4.vault.1.marks.json @/a.mp4.vault.2.marks.json --html @/t.html",
    "result @/a.mp4.floor.J-1.marks.json --start 9.5",
    "measure @/a.mp4.floor.J-1.marks.json",
    "card --rulebook @/own.toml --event floor --division heron --html @/card.html --csv @/card.csv",
    "chart --rulebook @/own.toml --event floor --html @/chart.html --csv @/chart.csv",
    "agree @/a.mp4.floor.J-1.marks.json @/a.mp4.floor.J-2.marks.json --html @/a.html --csv @/a.csv",
    "rulebook check @/own.toml",
    "rulebook list",
    "rulebook keys",
    "rulebook new @/new.toml",
    "attach @/a.mp4.floor.J-1.marks.json @/a.mp4",
    "aside @/a.mp4.floor.J-1.marks.json",
    "library add @",
    "library scan",
    "library note @/a.mp4 --source http://127.0.0.1:9/a.mp4",
    "library info @/a.mp4",
    "library due --within 30",
    "library find event floor",
    "library set event floor --out @/set.toml",
    "sitting @/set.toml --slip @/slip.html",
    "library cut @/a.mp4 --from 0 --to 0.1 --out @/cut.mp4",
    "library export event floor --to club --clips-for training --out @/b.zip",
    "library import @/b.zip --into @/in",
    "library recheck --rulebook saltmarsh",
    "library reference @/a.mp4.floor.J-1.marks.json @/a.mp4.floor.J-2.marks.json",
    "library assign event floor --date 2026-11-20",
    "library delete @/cut.mp4 --by J-1 --witness J-2",
    "library withdraw SC-07 --by J-1 --witness J-2",
];

/// Opens a window or draws every sample clip, or has the screen ask.
const NOT_TRIED: &[&str] = &["", "demo", "eye", "library wall"];

#[test]
fn no_command_opens_a_socket() {
    for (command, _) in places() {
        let is_tried = COMMANDS.iter().any(|tried| tried.starts_with(&command));
        assert!(is_tried || NOT_TRIED.contains(&&*command), "try `{command}` here too");
    }
    let club = Club::of_files();
    fs::write(club.path("clips/own.toml"), shipped_text("saltmarsh").unwrap()).unwrap();
    fs::write(club.path("clips/her.toml"), "athlete = \"SC-07\"\nhas = []\nlearning = []\n")
        .unwrap();
    fs::create_dir(club.path("http:")).unwrap();
    symlink(club.path("clips"), club.path("http:/127.0.0.1:9")).unwrap();
    for command in COMMANDS {
        let done = run(&club, &command.replace('@', THERE));
        assert_eq!(done.status.signal(), None, "{command}: {}", said(&done));
        assert!(done.status.success(), "{command}: {}", said(&done));
        let out = command.split("--out @").nth(1).and_then(|out| out.split(' ').next());
        let is_there = |out: &str| club.path(&format!("clips{out}")).exists();
        assert!(out.is_none_or(is_there), "{command} did not write where it was told");
    }
}

/// The test would not fail by itself where nothing ended the process.
#[test]
fn a_socket_ends_the_process() {
    const BAD_SYSTEM_CALL: i32 = 31;
    let done = run(&Club::of_files(), "socket");
    assert_eq!(done.status.signal(), Some(BAD_SYSTEM_CALL), "{}", said(&done));
}

fn run(club: &Club, command: &str) -> Output {
    Command::new(env::current_exe().unwrap())
        .args(["--exact", "command::no_socket::child", "--ignored", "--nocapture"])
        .current_dir(club.path(""))
        .env(ASKED, command)
        .env("STILLCALL_STATE", club.path("state"))
        .output()
        .unwrap()
}

fn said(done: &Output) -> String {
    [&done.stdout, &done.stderr].map(|text| String::from_utf8_lossy(text).into_owned()).concat()
}

#[test]
#[ignore = "run by the others, in a process of its own"]
fn child() {
    let asked = env::var(ASKED).unwrap();
    let architecture: TargetArch = env::consts::ARCH.try_into().unwrap();
    let no_socket = [(libc::SYS_socket, Vec::new())].into_iter().collect();
    let (otherwise, then) = (SeccompAction::Allow, SeccompAction::KillProcess);
    let filter = SeccompFilter::new(no_socket, otherwise, then, architecture).unwrap();
    let program: BpfProgram = filter.try_into().unwrap();
    seccompiler::apply_filter_all_threads(&program).unwrap();
    if asked == "socket" {
        let _ = std::net::UdpSocket::bind("127.0.0.1:0");
        return;
    }
    let line = ["stillcall"].into_iter().chain(asked.split(' '));
    let line = CommandLine::try_parse_from(line).unwrap_or_else(|error| panic!("{error}"));
    super::run(line).unwrap_or_else(|error| panic!("{error:#}"));
}
