//! The order of the rooms: imports go downward only.

use std::{fs, path::Path};

/// What each room may import of the crate, as docs/architecture.md draws it.
const MAY_IMPORT: &[(&str, &[&str])] = &[
    ("store", &[]),
    ("units", &[]),
    ("geometry", &["units"]),
    ("footage", &["units"]),
    ("marks", &["store", "units", "geometry"]),
    ("rulebook", &["units", "geometry", "marks"]),
    ("sheet", &["units", "geometry", "marks", "rulebook"]),
    ("judged", &["store", "marks", "rulebook", "sheet"]),
    ("figure", &["units", "geometry"]),
    ("practice", &["store", "units", "geometry", "marks", "rulebook", "sheet", "judged"]),
    (
        "library",
        &["store", "units", "geometry", "marks", "rulebook", "sheet", "judged", "practice"],
    ),
    ("report", &["units", "geometry", "rulebook", "sheet", "practice"]),
    (
        "window",
        &[
            "store", "units", "geometry", "footage", "marks", "rulebook", "sheet", "judged",
            "figure", "practice", "library", "report",
        ],
    ),
];

/// What each floor of the window may import of the others, as docs/architecture.md draws it.
const WINDOW_MAY_IMPORT: &[(&str, &[&str])] = &[
    ("words", &[]),
    ("theme", &[]),
    ("write", &["words"]),
    ("paper", &["words", "theme"]),
    ("typing", &["theme"]),
    ("memory", &["theme"]),
    ("keymap", &["write"]),
    ("controls", &["keymap", "theme"]),
    ("viewer", &["keymap", "theme"]),
    ("placing", &["keymap", "theme", "typing", "viewer"]),
    (
        "screens",
        &[
            "words", "theme", "write", "paper", "typing", "memory", "keymap", "controls", "viewer",
            "placing",
        ],
    ),
    ("program", &["theme", "typing", "memory", "keymap", "screens"]),
    ("harness", &["theme", "memory", "screens", "program"]),
];

/// Rooms, or files of them, that read no file, clock, locale or environment.
const PURE: &[&str] = &[
    "units",
    "geometry",
    "sheet",
    "library/consent/sidecar.rs",
    "library/consent/gate.rs",
    "library/consent/code.rs",
    "library/find/query.rs",
    "library/find/parse.rs",
    "library/index/entry.rs",
    "library/judges/agree.rs",
    "figure",
    "marks/placing.rs",
    "rulebook/keys",
    "rulebook/kinds",
    "rulebook/lint",
    "rulebook/model",
    "rulebook/printed",
    "rulebook/read",
    "rulebook/rows",
    "marks/model.rs",
    "marks/edit.rs",
    "marks/copy.rs",
    "marks/plane.rs",
    "marks/remeasure.rs",
    "practice/statistics",
    "practice/agreement",
    "practice/eye/asked.rs",
    "practice/eye/figure.rs",
    "practice/eye/progress.rs",
    "practice/eye/trainer.rs",
    "practice/set/entry.rs",
    "practice/set/read.rs",
    "practice/set/model.rs",
    "practice/set/question.rs",
    "practice/sitting/answers.rs",
    "practice/sitting/machine.rs",
    "practice/sitting/plan.rs",
    "practice/sitting/record.rs",
    "practice/sitting/records.rs",
    "practice/sitting/results.rs",
    "practice/sitting/steps.rs",
];

#[test]
fn imports_go_downward_only() {
    for (room, allowed) in MAY_IMPORT {
        for (file, text) in files_of(room) {
            for (other, _) in MAY_IMPORT {
                let names_it = text.contains(&format!("crate::{other}"))
                    || imports(&text).any(|import| import == *other);
                let is_fine = other == room || allowed.contains(other);
                assert!(is_fine || !names_it, "{file} imports `{other}`, which is not below it");
            }
        }
    }
}

#[test]
fn floors_of_the_window_import_downward_only() {
    for (floor, allowed) in WINDOW_MAY_IMPORT {
        let (folder, file) = (format!("window/{floor}"), format!("window/{floor}.rs"));
        let files = files_of(&folder).into_iter().chain(files_of(&file));
        let files: Vec<_> = files.collect();
        assert!(!files.is_empty(), "{floor} is gone");
        for (file, text) in files {
            for import in window_imports(&text) {
                let is_floor = WINDOW_MAY_IMPORT.iter().any(|(other, _)| *other == import);
                let is_fine = import == *floor || allowed.contains(&import);
                assert!(is_fine || !is_floor, "{file} imports `{import}`, which is not below it");
            }
        }
    }
    for entry in fs::read_dir(source("window")).unwrap().flatten() {
        let name = entry.file_name().into_string().unwrap();
        let floor = name.trim_end_matches(".rs");
        let is_known = WINDOW_MAY_IMPORT.iter().any(|(known, _)| *known == floor);
        assert!(is_known || floor == "mod", "{floor}");
    }
}

#[test]
fn every_room_is_in_the_order() {
    for entry in fs::read_dir(source("")).unwrap().flatten() {
        let name = entry.file_name().into_string().unwrap();
        let is_room = entry.path().is_dir() && name != "command";
        assert!(!is_room || MAY_IMPORT.iter().any(|(room, _)| *room == name), "{name}");
    }
}

#[test]
fn pure_rooms_ask_nothing_of_the_world() {
    let worldly = ["std::fs", "std::env", "std::net", "std::process", "SystemTime", "Instant::now"];
    for room in PURE {
        for (file, text) in files_of(room) {
            for word in worldly {
                assert!(!text.contains(word), "{file} uses {word}");
            }
        }
    }
}

#[test]
fn only_the_window_knows_iced_and_only_footage_knows_ffmpeg() {
    for (library, home) in [("iced", "window"), ("ffmpeg_next", "footage")] {
        for (room, _) in MAY_IMPORT.iter().filter(|(room, _)| *room != home) {
            for (file, text) in files_of(room) {
                assert!(!text.contains(&format!("{library}::")), "{file} uses {library}");
            }
        }
    }
}

#[test]
fn what_leaves_goes_through_one_door() {
    // Tests, and what the window keeps for itself.
    let own = ["command/leaving.rs", "window/keymap/tests.rs", "window/memory.rs"];
    // Shows a test of the whole program which sheet is on screen.
    let shown = "window/screens/clip/session/mod.rs";
    let writes = ["fs::write(", "File::create(", "replace_file(", "OpenOptions", "persist"];
    for (file, text) in ["command", "window"].into_iter().flat_map(files_of) {
        if own.contains(&&*file) || file == shown {
            continue;
        }
        for word in writes {
            assert!(!text.contains(word), "{file} writes by {word} and not through Leaving");
        }
    }
}

/// Names of the crate's rooms in grouped imports such as `use crate::{marks::Id, units::Ticks}`.
fn imports(text: &str) -> impl Iterator<Item = &str> {
    text.split("use crate::{").skip(1).flat_map(|rest| {
        let group = rest.split(';').next().unwrap_or_default();
        group.split([',', '{', '}']).map(|part| part.trim().split("::").next().unwrap_or_default())
    })
}

/// Names of the window's floors in `crate::window::keymap` and in groups like
/// `window::{keymap::Group, theme}`, however deep the groups are; the names at their top alone.
fn window_imports(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for rest in text.split("window::").skip(1) {
        let Some(group) = rest.strip_prefix('{') else {
            found.push(word(rest));
            continue;
        };
        let mut depth = 0;
        let mut start = true;
        for (place, letter) in group.char_indices() {
            match letter {
                '{' => depth += 1,
                '}' if depth == 0 => break,
                '}' => depth -= 1,
                ',' if depth == 0 => start = true,
                letter if start && !letter.is_whitespace() => {
                    found.push(word(&group[place..]));
                    start = false;
                }
                _ => {}
            }
        }
    }
    found
}

fn word(text: &str) -> &str {
    let end = text.find(|letter: char| !letter.is_alphanumeric() && letter != '_');
    &text[..end.unwrap_or(text.len())]
}

fn source(room: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room)
}

fn files_of(room: &str) -> Vec<(String, String)> {
    let place = source(room);
    if place.is_file() {
        return vec![(room.to_owned(), fs::read_to_string(place).unwrap())];
    }
    let Ok(entries) = fs::read_dir(&place) else { return Vec::new() };
    let mut found = Vec::new();
    for entry in entries.flatten() {
        let name = format!("{room}/{}", entry.file_name().to_string_lossy());
        let path = entry.path();
        if path.is_dir() || path.extension().is_some_and(|ending| ending == "rs") {
            found.extend(files_of(&name));
        }
    }
    found
}
