//! Killed at any moment, a command loses nothing, leaves nothing half made in its place, and does
//! what it was asked when it is run again.
//!
//! Each runs in a process of its own, which says when it begins and is killed after a while.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod rows;
mod tree;
mod unsaved;

use std::{
    env,
    io::{BufRead as _, BufReader, Read as _, Write as _},
    panic::{AssertUnwindSafe, catch_unwind},
    process::{Child, Command, ExitCode, Stdio},
    thread,
    time::{Duration, Instant},
};

use clap::{CommandFactory as _, Parser as _};
use stillcall::{
    geometry::Quantity,
    marks::{Sheaf, StateFolder, load},
    practice::eye::{Diary, Noted, Tried},
    units::Degrees,
};

use super::{CommandLine, leaving::Club, printed};
use rows::{ELSEWHERE, READS, ROWS, Row, Step};
use tree::Tree;

/// Where a child finds its commands, one a line; the last is the one that is killed.
const ASKED: &str = "STILLCALL_TEST_KILLED";
/// Which rows are killed: those with this in them.
const ONLY: &str = "STILLCALL_KILLS";
/// How often the duration is measured anew: others come and go on the machine.
const MEASURED_ANEW: usize = 5;
/// What a child says before that.
const BEGUN: &str = "the last one begins";

#[test]
fn every_command_that_writes_is_killed() {
    fn walk(command: &clap::Command, name: &str, leaves: &mut Vec<String>) {
        if command.get_subcommands().next().is_none() {
            leaves.push(name.to_owned());
        }
        for below in command.get_subcommands() {
            walk(below, format!("{name} {}", below.get_name()).trim(), leaves);
        }
    }
    let mut leaves = Vec::new();
    walk(&CommandLine::command(), "", &mut leaves);
    for leaf in leaves {
        let is_row = ROWS.iter().any(|row| is_of(row, &leaf));
        let is_known = READS.contains(&&*leaf) || ELSEWHERE.iter().any(|(name, _)| *name == leaf);
        assert!(is_row != is_known, "say in rows.rs how `{leaf}` is killed, or that it only reads");
    }
}

fn is_of(row: &Row, command: &str) -> bool {
    row.run.strip_prefix(command).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
}

#[test]
fn commands_killed_at_a_moment_lose_nothing() {
    let mut chance = Chance(20);
    let club = Ready::new();
    let mut rows: Vec<&Row> = ROWS.iter().collect();
    for _ in 0..5 {
        let row = rows.swap_remove(chance.next() as usize % rows.len());
        club.killed(row, 4, &mut chance);
    }
}

#[test]
#[ignore = "1,000 kills; make kills"]
fn killed_a_thousand_times_commands_lose_nothing() {
    let mut chance = Chance(1_000);
    let club = Ready::new();
    let each = 1_000_usize.div_ceil(ROWS.len());
    let only = env::var(ONLY).unwrap_or_default();
    let (mut kills, mut at_work, mut failed) = (0, 0, Vec::new());
    for row in ROWS.iter().filter(|row| row.run.contains(&only)) {
        // One that fails does not hide what the others do.
        let tried = catch_unwind(AssertUnwindSafe(|| club.killed(row, each, &mut chance)));
        let Ok(killed) = tried else {
            failed.push(row.run);
            continue;
        };
        writeln!(printed::out(), "{killed:3} of {each} killed at work: {}", row.run).unwrap();
        (kills, at_work) = (kills + each, at_work + killed);
    }
    writeln!(printed::out(), "{kills} kills, {at_work} of them at work").unwrap();
    assert!(failed.is_empty(), "{failed:#?}");
    assert!(at_work > kills / 2, "only {at_work} of {kills} were killed at work");
}

/// It draws for minutes, so that each goes on where the one before was killed.
#[test]
#[ignore = "draws every sample clip; make kills"]
fn killed_demos_leave_whole_clips() {
    let (club, asked, mut chance) = (Club::of_files(), "demo --no-window --out demo", Chance(10));
    let first = Tree::of(&club);
    for kill in 0..10 {
        let mut child = started(&club, asked, "");
        wait_for_begin(&mut child);
        thread::sleep(Duration::from_secs_f64(10.0 * chance.part()));
        child.kill().unwrap();
        child.wait().unwrap();
        Tree::of(&club).is_whole(&first, &first, &format!("`{asked}`, kill {kill}"));
    }
    succeeds(started(&club, asked, ""), asked);
    Tree::of(&club).has_nothing_unfinished(asked);
}

/// Killed after the clip is in its place and before its record is.
#[test]
fn an_excerpt_that_was_cut_short_is_gone_on_with() {
    let (club, cut) =
        (Club::of_files(), "library cut clips/a.mp4 --from 0 --to 0.1 --out clips/c.mp4");
    succeeds(started(&club, cut, ""), cut);
    let whole = Tree::of(&club);
    std::fs::remove_file(club.path("clips/c.mp4.clip.json")).unwrap();
    std::fs::remove_file(club.path("clips/c.mp4.floor.J-1.marks.json")).unwrap();
    succeeds(started(&club, cut, ""), cut);
    let again = Tree::of(&club);
    again.is_whole(&whole, &whole, "cut again");
    assert_eq!(again.names(), whole.names());
    // What is whole stays, and so does another clip of that name.
    let clip = std::fs::read(club.path("clips/c.mp4")).unwrap();
    let other = "library cut clips/a.mp4 --from 0 --to 0.3 --out clips/c.mp4";
    for asked in [cut, other] {
        let (is_fine, said) = ended(started(&club, asked, ""));
        assert!(!is_fine && said.contains("is there already"), "{said}");
        assert!(std::fs::read(club.path("clips/c.mp4")).unwrap() == clip);
        let _ = std::fs::remove_file(club.path("clips/c.mp4.clip.json"));
    }
}

/// A club, and how it was when nothing was done to it yet.
struct Ready {
    club: Club,
    first: Tree,
}

impl Ready {
    fn new() -> Self {
        let club = Club::of_files();
        let first = Tree::of(&club);
        Self { club, first }
    }

    /// Kills a command so many times; returns how many of them before it was done.
    fn killed(&self, row: &Row, kills: usize, chance: &mut Chance) -> usize {
        let club = &self.club;
        self.first.put_back(club);
        for step in row.before {
            match step {
                Step::Run(command) => succeeds(started(club, command, ""), command),
                Step::Do(what) => what(club),
            }
        }
        let before = Tree::of(club);
        let marks = marks_in(club, &before);
        let mut whole = measured(club, row);
        let after = Tree::of(club);
        let changed = marks_in(club, &before);
        let mut at_work = 0;
        for kill in 0..kills {
            before.put_back(club);
            if kill > 0 && kill % MEASURED_ANEW == 0 {
                whole = measured(club, row);
                before.put_back(club);
            }
            let mut child = started(club, row.run, row.typed);
            wait_for_begin(&mut child);
            // Evenly over the whole of it, and anywhere in its part.
            let part = (kill as f64 + chance.part()) / kills as f64;
            thread::sleep(whole.mul_f64(part));
            at_work += usize::from(child.try_wait().unwrap().is_none());
            child.kill().unwrap();
            child.wait().unwrap();
            let told = format!("`{}`, kill {kill} after {part:.3} of {whole:?}", row.run);
            let left = Tree::of(club);
            left.is_whole(&before, &after, &told);
            for (place, (now, (was, is))) in
                marks_in(club, &before).iter().zip(marks.iter().zip(&changed)).enumerate()
            {
                assert!(now == was || now == is, "{told}: marks {place}: {now:?}");
            }
            let again = ended(started(club, row.run, row.typed));
            let end = Tree::of(club);
            let was_done = left.names() == after.names();
            assert!(again.0 || was_done, "{told}: it fails afterwards: {}", again.1);
            end.has_nothing_unfinished(&told);
            assert_eq!(end.names(), after.names(), "{told}: {}", again.1);
            end.is_whole(&before, &after, &format!("{told}, and run again"));
        }
        at_work
    }
}

/// Runs a command to its end; returns how long it was at work.
fn measured(club: &Club, row: &Row) -> Duration {
    let mut child = started(club, row.run, row.typed);
    wait_for_begin(&mut child);
    let since = Instant::now();
    succeeds(child, row.run);
    since.elapsed()
}

/// Returns what every marks file that was there holds, as the program reads it.
fn marks_in(club: &Club, tree: &Tree) -> Vec<Option<Sheaf>> {
    let state = StateFolder::at(club.path("state"));
    let files = tree.names().into_iter().filter(|name| name.ends_with(".marks.json"));
    files.map(|name| load(&club.path(&name), Some(&state)).ok()).collect()
}

fn started(club: &Club, asked: &str, typed: &str) -> Child {
    let mut child = Command::new(env::current_exe().unwrap())
        .args(["--exact", "command::killed::child", "--ignored", "--nocapture"])
        .current_dir(club.path(""))
        .env(ASKED, asked)
        .env("STILLCALL_STATE", club.path("state"))
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(typed.as_bytes()).unwrap();
    child
}

fn wait_for_begin(child: &mut Child) {
    let out = child.stdout.as_mut().unwrap();
    let mut read = String::new();
    // Byte by byte, so that what follows stays to be read.
    let mut bytes = BufReader::with_capacity(1, out);
    while !read.ends_with(BEGUN) {
        let mut line = Vec::new();
        bytes.read_until(b'\n', &mut line).unwrap();
        assert!(!line.is_empty(), "the child never began: {read}");
        read += String::from_utf8_lossy(&line).trim_end();
    }
}

fn succeeds(child: Child, asked: &str) {
    let (is_fine, said) = ended(child);
    assert!(is_fine, "`{asked}`: {said}");
}

/// Returns whether a child succeeded, and what it said.
fn ended(mut child: Child) -> (bool, String) {
    let (mut said, mut errors) = (String::new(), String::new());
    let mut out = child.stdout.take().unwrap();
    let reading = thread::spawn(move || {
        let _ = out.read_to_string(&mut said);
        said
    });
    child.stderr.take().unwrap().read_to_string(&mut errors).unwrap();
    let is_fine = child.wait().unwrap().success();
    (is_fine, reading.join().unwrap() + &errors)
}

#[test]
#[ignore = "run by the others, in a process of its own"]
fn child() {
    let asked = env::var(ASKED).unwrap();
    let mut out = printed::out();
    writeln!(out, "\n{BEGUN}").unwrap();
    out.flush().unwrap();
    drop(out);
    if asked == rows::EYE {
        return train_the_eye();
    }
    let line = ["stillcall"].into_iter().chain(asked.split(' '));
    let line = CommandLine::try_parse_from(line).unwrap_or_else(|error| panic!("{error}"));
    let code = super::run(line).unwrap_or_else(|error| panic!("{error:#}"));
    assert_eq!(format!("{code:?}"), format!("{:?}", ExitCode::SUCCESS));
}

/// What the window does with answers to figures for the eye.
fn train_the_eye() {
    let (mut diary, _) = Diary::open("state/eye".as_ref(), "J-2").unwrap();
    for place in 0..200 {
        let (truth, answer) = (Degrees(f64::from(place)), Degrees(3.0));
        let tried = Tried { quantity: Quantity::BodyLine, truth, answer, level: 0 };
        diary.note(&Noted { date: "2026-11-24".to_owned(), tried }).unwrap();
    }
}

/// Numbers that look drawn by chance and are the same each time (splitmix64, Steele and others
/// 2014).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// Returns a number from 0 up to 1.
    fn part(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}
