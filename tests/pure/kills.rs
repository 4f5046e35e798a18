//! Killed at any moment, and everything that was acknowledged is there again: a child process
//! edits, says after each step that it is done, and is killed.

use std::{
    env,
    io::{BufRead as _, BufReader, Write as _},
    path::{Path, PathBuf},
    process::{Command, Stdio},
    thread,
    time::Duration,
};

use stillcall::marks::{
    self, At, Desk, Edit, History, Id, Item, Mark, Routine, Seen, Sheaf, StateFolder, Step, What,
};

const FOLDER: &str = "STILLCALL_KILL_FOLDER";
const DONE: &str = "STILLCALL_KILL_DONE";

/// The step that comes at a place; every fourth is undone and then done again.
fn step(place: u64) -> Step {
    match place % 8 {
        5 => Step::Undo,
        6 => Step::Redo,
        _ => {
            let (id, at) = (Id(place + 1), At::Place(place as u32));
            let (what, seen, of) = (What::Note, Seen::Yes, None);
            let note = format!("step {place}");
            Step::Do(Edit::add(Item::Mark(Mark { id, at, what, seen, of, note })))
        }
    }
}

fn planned() -> Sheaf {
    let routine = Routine { id: "1".to_owned(), judge: "J".to_owned(), ..Routine::default() };
    Sheaf { routine, ..Sheaf::default() }
}

/// What the marks are after so many steps.
fn after(steps: u64) -> Sheaf {
    let (mut history, mut sheaf) = (History::default(), planned());
    for place in 0..steps {
        history.take(step(place), &mut sheaf);
    }
    sheaf
}

fn marks_file(folder: &Path) -> PathBuf {
    folder.join("planned.1.J.marks.json")
}

fn state(folder: &Path) -> StateFolder {
    StateFolder::at(folder.join("state"))
}

/// The child: not a test of its own, it does nothing unless it is told where.
#[test]
#[ignore = "the child of the tests below"]
fn child() {
    let Some(folder) = env::var_os(FOLDER).map(PathBuf::from) else { return };
    let done: u64 = env::var(DONE).unwrap().parse().unwrap();
    let mut desk = Desk::open(&marks_file(&folder), &state(&folder)).unwrap();
    let mut out = std::io::stdout();
    for place in done.. {
        assert!(desk.take(step(place)).unwrap());
        writeln!(out, "done {}", place + 1).unwrap();
        out.flush().unwrap();
        if place % 7 == 0 {
            desk.save().unwrap();
        }
    }
}

/// Kills the child so many times, each time after another while, and looks what is there.
fn nothing_is_lost(kills: u64) {
    let folder = tempfile::tempdir().unwrap();
    let path = marks_file(folder.path());
    Desk::create(&path, planned(), &state(folder.path())).unwrap();
    let mut done = 0;
    for kill in 0..kills {
        let mut child = Command::new(env::current_exe().unwrap())
            .args(["kills::child", "--exact", "--ignored", "--nocapture"])
            .env(FOLDER, folder.path())
            .env(DONE, done.to_string())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut said = lines.map_while(Result::ok).filter_map(|line| {
            // The test's own name may stand before it on the line.
            line.rsplit_once("done ").and_then(|(_, number)| number.parse::<u64>().ok())
        });
        done = said.next().unwrap();
        thread::sleep(Duration::from_micros(kill * 7919 % 20_000));
        child.kill().unwrap();
        child.wait().unwrap();
        done = said.last().unwrap_or(done);
        let there = marks::load(&path, Some(&state(folder.path()))).unwrap();
        // Killed between writing the step down and saying so, it is one step further.
        if there == after(done + 1) {
            done += 1;
        }
        assert_eq!(there, after(done), "after kill {kill}");
    }
    assert!(done > kills, "the child was never killed at work");
}

#[test]
fn killed_at_any_moment_nothing_is_lost() {
    nothing_is_lost(8);
}

#[test]
#[ignore = "200 kills; make kills"]
fn killed_two_hundred_times_nothing_is_lost() {
    // A fresh file now and then, so that comparing does not take longer and longer.
    for _ in 0..20 {
        nothing_is_lost(10);
    }
}
