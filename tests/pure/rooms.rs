//! The order of the rooms and of their floors: imports go downward only.

use std::{fs, path::Path};

use crate::imports::Files;

/// What each room may import of the crate, as docs/architecture.md draws it.
const MAY_IMPORT: &[(&str, &[&str])] = &[
    ("store", &[]),
    ("units", &[]),
    ("geometry", &["units"]),
    ("footage", &["units"]),
    ("marks", &["store", "units", "geometry"]),
    ("rulebook", &["store", "units", "geometry", "marks"]),
    ("sheet", &["units", "geometry", "marks", "rulebook"]),
    ("judged", &["store", "marks", "rulebook", "sheet"]),
    ("trials", &["units", "geometry", "marks", "rulebook", "sheet"]),
    ("figure", &["units", "geometry", "marks"]),
    ("practice", &["store", "units", "geometry", "marks", "rulebook", "sheet", "judged"]),
    ("proofs", &["store", "footage", "marks"]),
    ("handout", &["units", "geometry", "footage", "marks", "figure"]),
    (
        "library",
        &["store", "units", "geometry", "marks", "rulebook", "sheet", "judged", "practice"],
    ),
    ("copies", &["store", "units", "footage", "marks", "library"]),
    ("report", &["units", "geometry", "rulebook", "sheet", "practice"]),
    (
        "window",
        &[
            "store", "units", "geometry", "footage", "marks", "rulebook", "sheet", "judged",
            "trials", "figure", "practice", "library", "copies", "report", "proofs", "handout",
        ],
    ),
];

/// The floors of each room, lowest first: a floor imports those before it alone.
const FLOORS: &[(&str, &[&str])] = &[
    (
        "store",
        &["reading", "rights", "held_at", "unfinished", "replace", "document", "lines", "log"],
    ),
    ("proofs", &["kept"]),
    ("copies", &["copy", "cut"]),
    (
        "handout",
        &[
            "error", "progress", "timing", "panes", "drawings", "subject", "still", "moments",
            "reel", "replay",
        ],
    ),
    (
        "footage",
        &[
            "libav",
            "source_state",
            "error",
            "limits",
            "pictures",
            "packets",
            "numbering",
            "reading",
            "output",
            "apart",
        ],
    ),
    (
        "rulebook",
        &[
            "rows", "keys", "kinds", "model", "lint", "shipped", "read", "typed", "edit", "files",
            "printed",
        ],
    ),
    (
        "sheet",
        &["model", "routine", "evidence", "credit", "deductions", "score", "advice", "compare"],
    ),
    ("judged", &["error", "book", "list", "marked"]),
    (
        "trials",
        &[
            "chance",
            "outcome",
            "judges",
            "ingredients",
            "plan",
            "example",
            "draw",
            "change",
            "check",
        ],
    ),
    ("practice", &["statistics", "agreement", "eye", "set", "sitting", "gather"]),
    (
        "library",
        &[
            "quick_id", "consent", "home", "index", "erase", "record", "find", "judges", "share",
            "sets",
        ],
    ),
    (
        "report",
        &[
            "document",
            "agreement",
            "captions",
            "cautions",
            "card",
            "chart",
            "sheet",
            "divisions",
            "slip",
            "together",
        ],
    ),
    (
        "window",
        &[
            "words", "write", "keymap", "theme", "controls", "document", "memory", "paper",
            "typing", "viewer", "placing", "screens", "program", "harness",
        ],
    ),
];

/// Rooms, or files of them, that read no file, clock, locale or environment.
const PURE: &[&str] = &[
    "units",
    "geometry",
    "sheet",
    "trials",
    "library/consent/sidecar.rs",
    "library/consent/gate.rs",
    "library/consent/code.rs",
    "library/find/query.rs",
    "library/find/parse.rs",
    "library/index/entry.rs",
    "library/judges/agree.rs",
    "figure",
    "footage/numbering/mend.rs",
    "handout/panes.rs",
    "handout/timing.rs",
    "marks/placing.rs",
    "rulebook/keys",
    "rulebook/kinds",
    "rulebook/lint",
    "rulebook/model",
    "rulebook/printed",
    "rulebook/read",
    "rulebook/rows",
    "rulebook/typed",
    "marks/model.rs",
    "marks/edit.rs",
    "marks/merge",
    "marks/trail.rs",
    "marks/copy.rs",
    "marks/plane.rs",
    "marks/remeasure.rs",
    "practice/statistics",
    "practice/agreement",
    "practice/eye/drill.rs",
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
    for (file, other) in Files::read().imports() {
        let (from, to) = (room_of(file), room_of(other));
        let Some((_, allowed)) = MAY_IMPORT.iter().find(|(room, _)| *room == from) else {
            continue;
        };
        let is_fine = from == to || allowed.contains(&to);
        assert!(is_fine, "{file} imports {other}, which is not below it");
    }
}

#[test]
fn floors_import_downward_only() {
    let files = Files::read();
    let imports = files.imports();
    for (room, floors) in FLOORS {
        let place = |file: &str| {
            let floor = file.strip_prefix(room)?.strip_prefix('/')?.split('/').next()?;
            floors.iter().position(|known| *known == floor.trim_end_matches(".rs"))
        };
        for (file, other) in &imports {
            if let (Some(from), Some(to)) = (place(file), place(other)) {
                assert!(to <= from, "{file} imports {other}, which lies on a floor above it");
            }
        }
    }
}

#[test]
fn no_files_lean_on_each_other_in_a_circle() {
    assert_eq!(Files::read().circles(), Vec::<Vec<&str>>::new());
}

#[test]
fn every_floor_is_in_its_order() {
    for (room, floors) in FLOORS {
        let entries = fs::read_dir(source(room)).unwrap().flatten();
        let names = entries.map(|entry| entry.file_name().into_string().unwrap());
        let is_code = |name: &String| {
            source(room).join(name).is_dir() || Path::new(name).extension() == Some("rs".as_ref())
        };
        let mut there: Vec<String> =
            names.filter(is_code).map(|name| name.trim_end_matches(".rs").to_owned()).collect();
        there.retain(|name| name != "mod" && name != "tests");
        there.sort();
        // A file and the folder of what it brings along are one floor.
        there.dedup();
        let mut known: Vec<&str> = floors.to_vec();
        known.sort_unstable();
        assert_eq!(there, known, "the floors of {room}");
    }
}

#[test]
fn every_room_is_in_the_order() {
    let entries = fs::read_dir(source("")).unwrap().flatten();
    let folders = entries.filter(|entry| entry.path().is_dir());
    let names = folders.map(|entry| entry.file_name().into_string().unwrap());
    let mut there: Vec<String> = names.filter(|name| name != "command").collect();
    there.sort();
    let mut known: Vec<&str> = MAY_IMPORT.iter().map(|(room, _)| *room).collect();
    known.sort_unstable();
    assert_eq!(there, known);
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

/// Libraries that one room knows.
const KNOWN_TO_ONE: [(&str, &str); 3] =
    [("iced", "window"), ("ffmpeg_next", "footage"), ("landlock", "footage")];

#[test]
fn only_the_window_knows_iced_and_only_footage_knows_ffmpeg() {
    for (library, home) in KNOWN_TO_ONE {
        for (room, _) in MAY_IMPORT.iter().filter(|(room, _)| *room != home) {
            for (file, text) in files_of(room) {
                assert!(!text.contains(&format!("{library}::")), "{file} uses {library}");
            }
        }
    }
}

/// The files that decode in this very process, and why a clip of unknown origin does not get there.
const DECODES_HERE: &[(&str, &str)] = &[
    ("command/attach.rs", "a clip that somebody names"),
    ("command/demo/mod.rs", "what it drew itself"),
    ("command/frames.rs", "a clip that somebody names"),
    ("command/handing.rs", "a clip that somebody names"),
    ("command/library/excerpt.rs", "a clip that somebody names, and those that are let out"),
    ("command/proving.rs", "for the commands that are named here"),
    ("command/still.rs", "a clip that somebody names, or whose marks"),
    ("handout/moments.rs", "a clip that its caller opened, by the way it was opened"),
    ("handout/reel.rs", "as above"),
    ("handout/replay.rs", "as above"),
    ("handout/still.rs", "as above"),
    ("proofs/mod.rs", "for the commands and the window"),
    ("window/screens/clip/file/opening.rs", "through the stage"),
    ("window/screens/library/judges/jobs.rs", "through the stage's door, which decodes apart"),
    ("window/screens/practice/sitting/shown.rs", "through the stage"),
    ("window/viewer/stage.rs", "decodes apart what is not known, and here in tests alone"),
];

/// Whatever leaves shows frames that were proved.
#[test]
fn clips_are_opened_with_their_proofs() {
    let drawn = "command/demo/mod.rs";
    for (file, text) in ["command", "window", "library"].into_iter().flat_map(files_of) {
        let text = text.split("#[cfg(test)]").next().unwrap();
        assert!(file == drawn || !text.contains("Footage::open"), "{file} opens without a proof");
    }
}

/// A flaw in a decoder reaches neither other files nor a network: what a folder happens to hold is
/// decoded in a process that is locked in.
#[test]
fn the_wall_decodes_apart() {
    let decodes = |text: &str| {
        let text = text.split("#[cfg(test)]").next().unwrap();
        ["Footage::open", "Stage::open", "Decoder::new", "proving::open", "proofs::open"]
            .into_iter()
            .any(|word| {
                // `ApartDecoder` is the one that does not.
                text.match_indices(word).any(|(at, _)| !text[..at].ends_with(char::is_alphanumeric))
            })
    };
    let rooms = MAY_IMPORT.iter().map(|(room, _)| *room).filter(|room| *room != "footage");
    let files = rooms.chain(["command"]).flat_map(files_of).filter(|(_, text)| decodes(text));
    let mut found: Vec<String> = files.map(|(file, _)| file).collect();
    found.sort();
    let known: Vec<&str> = DECODES_HERE.iter().map(|(file, _)| *file).collect();
    assert_eq!(found, known, "a new one needs a reason here, or the way by `ApartDecoder`");
    let users = files_of("").into_iter().filter(|(_, text)| text.contains("ApartDecoder::default"));
    let mut users: Vec<String> = users.map(|(file, _)| file).collect();
    users.sort();
    assert_eq!(
        users,
        [
            "command/library/assign.rs",
            "command/library/mod.rs",
            "footage/apart/child.rs",
            "window/program/state.rs",
        ]
    );
}

#[test]
fn what_leaves_goes_through_one_door() {
    // Tests, and what the window keeps for itself.
    let own = [
        "window/keymap/tests.rs",
        "window/memory.rs",
        "window/memory/clicks.rs",
        "window/memory/known.rs",
    ];
    // Shows a test of the whole program which sheet is on screen.
    let shown = "window/screens/clip/session/mod.rs";
    let writes = ["fs::write(", "File::create(", "replace_file(", "OpenOptions", "persist"];
    for (file, text) in ["command", "window"].into_iter().flat_map(files_of) {
        if is_test_of_commands(&file) || own.contains(&&*file) || file == shown {
            continue;
        }
        for word in writes {
            assert!(!text.contains(word), "{file} writes by {word} and not through Leaving");
        }
    }
}

/// A name of a file or a remark may hold what steers a terminal.
#[test]
fn commands_print_through_one_door() {
    for (file, text) in files_of("command") {
        let text = text.split("#[cfg(test)]").next().unwrap();
        if file != "command/printed.rs" {
            for word in ["stdout()", "stderr()", "println!", "print!("] {
                assert!(!text.contains(word), "{file} prints by {word} and not through `printed`");
            }
        }
    }
}

/// A name of a file or a remark may hold what turns the text round: what the window draws is written
/// out by one function, and drawings hold words of our own, or do the same.
#[test]
fn the_window_draws_text_through_one_door() {
    let drawings = [
        "window/document/chart.rs",
        "window/screens/practice/eye/figure.rs",
        "window/theme/text.rs",
        "window/typing/field.rs",
        "window/viewer/overlay.rs",
    ];
    for (file, text) in files_of("window") {
        let text: String = text.split_whitespace().collect();
        let lists = text.match_indices("widget::{").map(|(at, _)| &text[at + 9..]);
        let named = lists.flat_map(|list| list.split(';').next().unwrap().split([',', '{', '}']));
        let is_iced = named.into_iter().any(|name| name == "text")
            || text.contains("widget::text(")
            || text.contains("widget::text;")
            || text.contains("fill_text(");
        assert!(!is_iced || drawings.contains(&&*file), "{file} draws text by itself");
    }
}

/// The files that read without the door that has an end, and why that is fine.
const READ_TO_THE_END: &[(&str, &str)] = &[
    ("command/demo/mod.rs", "its own truth file"),
    ("footage/packets/source.rs", "asks what it is before it opens it, and holds it open"),
    ("library/share/bundle.rs", "copies that it made itself"),
    ("library/share/leave.rs", "what it wrote itself a moment ago"),
    ("store/held_at.rs", "a lock"),
    ("store/log.rs", "a folder, to flush it"),
];

/// A pipe is waited for, a device has no end, and a file may be larger than the memory.
#[test]
fn what_is_read_has_an_end() {
    let reads = |text: &str| {
        ["fs::read(", "fs::read_to_string(", "File::open("].into_iter().find(|word| {
            // `SidecarFile::open` is another one.
            let alone = |(at, _): (usize, _)| !text[..at].ends_with(char::is_alphanumeric);
            text.match_indices(word).any(alone)
        })
    };
    for (file, text) in files_of("") {
        let text = text.split("#[cfg(test)]").next().unwrap();
        let is_test = file.ends_with("tests.rs") || is_test_of_commands(&file);
        let excuse = READ_TO_THE_END.iter().find(|(name, _)| *name == file);
        match (reads(text).filter(|_| !is_test), excuse) {
            (Some(word), None) => panic!("{file} reads by {word} and not through the store"),
            (None, Some(_)) => panic!("{file} needs no excuse any more"),
            _ => {}
        }
    }
}

/// What reads or looks at a file without a door that the window's tests watch.
const READS: &[&str] = &[
    "fs::read",
    "read_text(",
    "read_file(",
    "read_written(",
    "open_file(",
    "fs::metadata",
    "File::open",
    "read_dir(",
    "canonicalize(",
    ".exists()",
    ".is_file()",
    ".is_dir()",
    "create_dir_all(",
    "own_folder(",
    "own_file(",
    "image::open",
];

/// The files of the window that do so all the same, and why that is not on its thread.
const READ_BESIDE: &[(&str, &str)] = &[
    ("window/keymap/tests.rs", "a test"),
    ("window/memory.rs", "before there is a window, and in the thread that keeps it"),
    ("window/memory/clicks.rs", "in the job that opens a clip, and in a thread that learns"),
    ("window/memory/known.rs", "where a clip is opened, and in the thread that has hashed it"),
    ("window/program/keys.rs", "in the job that looks at what was dropped"),
    ("window/screens/library/jobs.rs", "in jobs"),
    ("window/screens/library/tile.rs", "in the job that makes a tile"),
    ("window/screens/clip/file/opening.rs", "in the job that opens a clip"),
    ("window/screens/clip/file/saving.rs", "in the job that goes on in another file"),
    ("window/screens/clip/file/changed.rs", "in the job that opens the clip again"),
    ("window/screens/clip/routine/header/taking.rs", "in the job that begins a routine"),
    ("window/screens/clip/angles/planes.rs", "in the job that looks for planes"),
    ("window/screens/practice/loaded.rs", "behind the door"),
];

#[test]
fn the_window_reads_files_in_jobs_alone() {
    let reads = |text: &str| READS.iter().any(|word| text.contains(word));
    let files = files_of("window").into_iter().filter(|(_, text)| reads(text));
    let mut found: Vec<String> = files.map(|(file, _)| file).collect();
    found.sort();
    let mut known: Vec<&str> = READ_BESIDE.iter().map(|(file, _)| *file).collect();
    known.sort_unstable();
    assert_eq!(found, known, "a new one needs a job, and a reason here");
}

/// Tests that need the command line's own definition, so that they lie beside it.
fn is_test_of_commands(file: &str) -> bool {
    ["command/killed", "command/leaving.rs", "command/no_socket.rs"]
        .iter()
        .any(|name| file.starts_with(name))
}

fn room_of(file: &str) -> &str {
    file.split('/').next().unwrap_or_default()
}

fn source(room: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room)
}

fn files_of(room: &str) -> Vec<(String, String)> {
    let place = source(room);
    if place.is_file() {
        return vec![(room.to_owned(), fs::read_to_string(place).unwrap())];
    }
    // A name of something that is gone would guard nothing.
    let entries = fs::read_dir(&place).unwrap_or_else(|error| panic!("{room}: {error}"));
    let mut found = Vec::new();
    for entry in entries.flatten() {
        let name = format!("{room}/{}", entry.file_name().to_string_lossy());
        let name = name.trim_start_matches('/').to_owned();
        let path = entry.path();
        if path.is_dir() || path.extension().is_some_and(|ending| ending == "rs") {
            found.extend(files_of(&name));
        }
    }
    found
}
