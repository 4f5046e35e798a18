//! The real program on a virtual screen, driven with real key events: what is written through the
//! window is in the file, and the sheet scored from the file is the one that was shown.

use std::{
    io::{BufRead as _, BufReader},
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
    thread,
    time::{Duration, Instant},
};

use serde_json::Value;

use crate::clips;

/// How long anything may take; software rendering on a busy machine is slow.
const PATIENCE: Duration = Duration::from_secs(90);

/// A virtual screen.
pub(crate) struct Screen {
    server: Child,
    name: String,
}

impl Screen {
    /// Starts one; nothing, with a word why, where the programs for it are missing.
    pub(crate) fn start() -> Option<Self> {
        for program in ["Xvfb", "xdotool"] {
            if Command::new(program).arg("-help").output().is_err() {
                println!("SKIPPED: {program} is not installed, so no window could be driven");
                return None;
            }
        }
        let mut server = Command::new("Xvfb")
            // Without -noreset the server starts anew when its last window goes, and a window
            // opened in that moment finds no screen.
            .args(["-displayfd", "1", "-screen", "0", "1280x800x24", "-noreset"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut line = String::new();
        BufReader::new(server.stdout.as_mut().unwrap()).read_line(&mut line).unwrap();
        Some(Self { server, name: format!(":{}", line.trim()) })
    }

    fn xdotool(&self, arguments: &[&str]) -> String {
        let output =
            Command::new("xdotool").env("DISPLAY", &self.name).args(arguments).output().unwrap();
        String::from_utf8_lossy(&output.stdout).trim().to_owned()
    }

    pub(crate) fn keys(&self, keys: &[&str]) {
        for key in keys {
            self.xdotool(&["key", key]);
        }
    }

    pub(crate) fn write(&self, text: &str) {
        self.xdotool(&["type", "--delay", "20", text]);
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}

/// The program with its window.
pub(crate) struct Window<'a> {
    screen: &'a Screen,
    pub program: Child,
    shown: PathBuf,
}

impl<'a> Window<'a> {
    fn open(screen: &'a Screen, clip: &Path) -> Self {
        let name = clip.file_name().unwrap().to_str().unwrap();
        let program = Command::new(env!("CARGO_BIN_EXE_stillcall"));
        Self::show(screen, program, &[clip.to_str().unwrap()], (clip.parent().unwrap(), name))
    }

    /// Starts a program with its files in a folder, and waits for a part of its title.
    pub(crate) fn show(
        screen: &'a Screen,
        mut program: Command,
        arguments: &[&str],
        (folder, title): (&Path, &str),
    ) -> Self {
        let shown = folder.join("shown.json");
        let _ = std::fs::remove_file(&shown);
        let program = program
            .args(arguments)
            .env("DISPLAY", &screen.name)
            .env_remove("WAYLAND_DISPLAY")
            .env("XDG_RUNTIME_DIR", folder)
            .env("STILLCALL_STATE", folder.join("state"))
            .env("STILLCALL_SHOWN", &shown)
            .spawn()
            .unwrap();
        let window = Self { screen, program, shown };
        window.wait_for_title(title);
        screen.xdotool(&["search", "--sync", "--name", "Stillcall", "windowfocus", "--sync"]);
        window
    }

    /// Waits until the title contains this.
    pub(crate) fn wait_for_title(&self, part: &str) {
        self.wait_for(part, || self.title().contains(part));
    }

    pub(crate) fn title(&self) -> String {
        self.screen.xdotool(&["search", "--name", "Stillcall", "getwindowname"])
    }

    pub(crate) fn wait_for(&self, what: &str, there: impl Fn() -> bool) {
        let end = Instant::now() + PATIENCE;
        while !there() {
            assert!(Instant::now() < end, "waited in vain for {what}; title: {}", self.title());
            thread::sleep(Duration::from_millis(100));
        }
    }

    /// Returns the sheet on screen, where it can be read just now.
    fn sheet(&self) -> Option<Value> {
        serde_json::from_str(&std::fs::read_to_string(&self.shown).ok()?).ok()
    }

    fn wait_for_sheet(&self, what: &str, is: impl Fn(&Value) -> bool) -> Value {
        self.wait_for(what, || self.sheet().is_some_and(|sheet| is(&sheet)));
        self.sheet().unwrap()
    }

    /// Opens the write line, writes and puts it down.
    fn put(&self, text: &str) {
        self.screen.keys(&["Return"]);
        self.screen.write(text);
        self.screen.keys(&["Return"]);
    }
}

impl Drop for Window<'_> {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

fn elements(sheet: &Value) -> Vec<(&str, u64)> {
    let elements = sheet["elements"].as_array().unwrap();
    elements
        .iter()
        .map(|it| (it["element"].as_str().unwrap(), it["frames"][0]["frame"].as_u64().unwrap()))
        .collect()
}

fn score(marks: &Path, state: &Path) -> Value {
    let output = Command::new(env!("CARGO_BIN_EXE_stillcall"))
        .arg("score")
        .arg(marks)
        .arg("--json")
        .env("STILLCALL_STATE", state)
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn what_is_written_through_the_window_is_in_the_file_and_on_the_sheet() {
    let Some(screen) = Screen::start() else { return };
    let clip = clips::fresh("written");
    let window = Window::open(&screen, &clip);

    // Writing for the first time asks for the routine; the event is known from the clip's name.
    screen.keys(&["Return"]);
    screen.write("SC-07");
    screen.keys(&["Tab"]);
    screen.write("J-9");
    screen.keys(&["Return"]);
    window.wait_for_sheet("an empty sheet", |sheet| elements(sheet).is_empty());

    // Ten frames on and two more, an element by part of its name, another by its shorthand.
    screen.keys(&["shift+Right", "Right", "Right"]);
    window.put("pull");
    screen.keys(&["Right", "Right", "Right", "Left"]);
    window.put("bhc");
    // A fall by its key, undone, done again; a fault with its amount; a spot, undone for good.
    screen.keys(&["Right", "f", "ctrl+z", "ctrl+shift+z"]);
    screen.keys(&["p", "ctrl+z"]);
    let sheet = window.wait_for_sheet("two elements and a fall", |sheet| {
        let deductions = sheet["deductions"].to_string();
        elements(sheet).len() == 2 && deductions.contains("fall") && !deductions.contains("spot")
    });
    let found = elements(&sheet);
    assert_eq!(found.iter().map(|(_, frame)| *frame).collect::<Vec<_>>(), [12, 14]);
    assert_ne!(found[0].0, found[1].0);

    // Within a second or so the file has it, without anybody saving.
    let marks = clip.with_file_name("bars.mp4.1.J-9.marks.json");
    let saved =
        || -> Option<Value> { serde_json::from_str(&std::fs::read_to_string(&marks).ok()?).ok() };
    window.wait_for("the saved file", || {
        saved().is_some_and(|file| file["marks"].as_array().is_some_and(|it| it.len() == 3))
    });
    let file = saved().unwrap();
    let kinds: Vec<&str> =
        file["marks"].as_array().unwrap().iter().map(|it| it["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["element", "element", "fall"]);
    assert_eq!(file["routine"]["athlete"], "SC-07");
    assert_eq!(file["routine"]["event"], "bars");

    // The sheet scored from the file is the one shown, and the title says its score.
    let scored = score(&marks, &clip.with_file_name("no-journal-here"));
    assert_eq!(scored, window.sheet().unwrap());
    window.wait_for("the score in the title", || {
        window.title().contains(scored["score"].as_str().unwrap_or("void"))
    });
}

/// What was on screen is there again after the program was killed before it could save.
#[test]
fn a_killed_window_loses_nothing() {
    let Some(screen) = Screen::start() else { return };
    let clip = clips::fresh("killed");
    let marks = clip.with_file_name("bars.mp4.1.J-9.marks.json");
    {
        let window = Window::open(&screen, &clip);
        screen.keys(&["Return"]);
        screen.keys(&["Tab"]);
        screen.write("J-9");
        screen.keys(&["Return"]);
        window.wait_for_sheet("an empty sheet", |sheet| elements(sheet).is_empty());
        screen.keys(&["Right"]);
        window.put("pull");
        window.wait_for_sheet("the element", |sheet| elements(sheet).len() == 1);
        // Dropped here: killed at once.
    }
    let again = Window::open(&screen, &clip);
    let sheet = again.wait_for_sheet("the element once more", |sheet| elements(sheet).len() == 1);
    assert_eq!(elements(&sheet)[0].1, 1);
    assert_eq!(score(&marks, &clip.with_file_name("state")), sheet);
}

/// Killed at an arbitrary moment, the window's last sheet is the one that the marks score.
#[test]
#[ignore = "make kills"]
fn five_killed_windows_lose_nothing() {
    let Some(screen) = Screen::start() else { return };
    let clip = clips::fresh("five-kills");
    let marks = clip.with_file_name("bars.mp4.1.J-9.marks.json");
    let mut seen = 0;
    for kill in 0..5 {
        let mut window = Window::open(&screen, &clip);
        if kill == 0 {
            screen.keys(&["Return"]);
            screen.keys(&["Tab"]);
            screen.write("J-9");
            screen.keys(&["Return"]);
        }
        window.wait_for_sheet("what was there", |sheet| {
            sheet["deductions"].as_array().is_some_and(|lines| lines.len() >= seen)
        });
        for _ in 0..=kill {
            screen.keys(&["Right", "f"]);
        }
        thread::sleep(Duration::from_millis(kill as u64 * 97 % 400));
        window.program.kill().unwrap();
        window.program.wait().unwrap();
        // The file with the sheet is a help of this test and may itself be torn by the kill.
        let Some(shown) = window.sheet() else { continue };
        let scored = score(&marks, &clip.with_file_name("state"));
        let count = |sheet: &Value| sheet["deductions"].as_array().map_or(0, Vec::len);
        assert!(count(&scored) >= count(&shown), "kill {kill}: {scored}\n{shown}");
        if count(&scored) == count(&shown) {
            assert_eq!(scored, shown, "kill {kill}");
        }
        seen = count(&scored);
    }
    assert!(seen > 0, "nothing was ever put down");
}
