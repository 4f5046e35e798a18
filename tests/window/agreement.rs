//! The report on agreement in the window says what `stillcall agree` says.

use std::{
    fs,
    io::Write as _,
    path::{Path, PathBuf},
    process::{Command, Stdio},
};

use stillcall::{
    practice::{gather, sitting::Mode},
    window::{Harness, OpensOn, SetWanted},
};

use crate::{
    screens::assert_says,
    sittings::{SET, set_in},
};

const STILLCALL: &str = env!("CARGO_BIN_EXE_stillcall");
const SIZE: [u32; 2] = [1280, 800];

/// Sits the set in the terminal; the lines are the answers and what comes after them.
fn sit(set: &Path, person: &str, lines: &[&str]) {
    let mut child = Command::new(STILLCALL)
        .args(["sitting", set.to_str().unwrap(), "--typed", "--person", person])
        .env("STILLCALL_STATE", set.with_file_name("state"))
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all((lines.join("\n") + "\n").as_bytes()).unwrap();
    assert!(child.wait().unwrap().success());
}

fn shown(reference: PathBuf, others: Vec<PathBuf>) -> Harness {
    let wanted = gather::AgreementWanted { reference, others, rulebook: None };
    Harness::open_on(OpensOn::Agreement(wanted), SIZE, "tiny-skia").unwrap()
}

/// What the command line says of the same files, without its spaces.
fn told(reference: &Path, others: &[PathBuf]) -> Vec<String> {
    let output = Command::new(STILLCALL)
        .arg("agree")
        .arg(reference)
        .args(others)
        .env("STILLCALL_STATE", reference.with_file_name("state"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines().map(plain).filter(|line| !line.is_empty()).collect()
}

fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

fn sittings(set: &Path) -> Vec<PathBuf> {
    ["J-2", "J-3"].map(|code| set.with_file_name(format!("first.{code}.001.sitting"))).to_vec()
}

/// Two people: both have the start value right, the cast and the score are called differently.
fn sat(folder: &str) -> PathBuf {
    let set = set_in(folder, SET);
    // Start value, credited, score; each with a second answer after its still; then the last look.
    sit(&set, "J-2", &["9.8", "yes", "9.5", "", "no", "", "broken", ""]);
    sit(&set, "J-3", &["9.8", "no", "9.2", "", "", "", "connected", ""]);
    set
}

#[test]
fn the_window_says_what_the_command_line_says() {
    let set = sat("agree-window");
    let others = sittings(&set);
    let lines = told(&set, &others);
    assert!(lines.len() > 15, "{lines:?}");
    let mut window = shown(set, others);
    let texts: Vec<String> = window.texts().iter().map(|(text, _)| plain(text)).collect();
    let page = texts.concat();
    let same = |line: &&String| {
        // Elements are not asked in this set, and the window leaves out a line of noughts.
        line.starts_with("Elements:0") || page.contains(line.as_str())
    };
    let missing: Vec<&String> = lines.iter().filter(|line| !same(line)).collect();
    assert!(missing.is_empty(), "{missing:?}\nis not in\n{page}");
    // By hand: of two calls on the cast one is right; one item leaves kappa without a meaning.
    assert_says(&mut window, "1 of 2 differ");
    assert_says(&mut window, "no kappa: needs at least 2 items, there is only 1");
    assert_says(&mut window, "no Fleiss' kappa: needs at least 2 items, there is only 1");
    assert!(!page.contains("NaN") && !page.contains("inf"), "{page}");
    assert_says(&mut window, "9.500 for 9.400: off by +0.100");
    window.press(&["Down", "Down", "Up"]);
    window.press(&["Escape"]);
    assert_says(&mut window, "Open a clip");
}

#[test]
fn everybody_is_compared_from_the_screen_that_asks_who_sits() {
    let set = set_in("agree-all", SET);
    let open = |set: &Path| {
        let wanted = SetWanted { set: set.to_owned(), person: None, mode: Mode::Person };
        Harness::open_on(OpensOn::Set(wanted), SIZE, "tiny-skia").unwrap()
    };
    let mut window = open(&set);
    window.press(&["ctrl+Return"]);
    assert_says(&mut window, "Nobody has sat this set yet.");
    sit(&set, "J-2", &["9.8", "yes", "9.5", "", "no", "", "broken", ""]);
    sit(&set, "J-3", &["9.8", "no", "9.2", "", "", "", "connected", ""]);
    let mut window = open(&set);
    window.press(&["ctrl+Return"]);
    assert_says(&mut window, "Agreement with First looks");
    assert!(window.says("J-2") && window.says("J-3"));
}

#[test]
fn what_cannot_be_compared_is_said() {
    let set = set_in("agree-wrong", SET);
    let sitting = set.with_file_name("first.J-2.001.sitting");
    fs::write(&sitting, "no sitting").unwrap();
    let mut window = shown(set.clone(), vec![sitting.clone()]);
    assert_says(&mut window, "is no readable sitting");
    let mut window = shown(sitting.clone(), vec![sitting]);
    assert_says(&mut window, "name its set file as the reference");
}
