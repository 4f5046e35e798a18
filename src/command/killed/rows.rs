//! How each command is killed.

use std::fs;

use stillcall::{
    library::{Shows, SidecarFile},
    marks::{At, Desk, Edit, Id, Item, Mark, Seen, StateFolder, What},
};

use crate::command::leaving::Club;

/// A command that is killed.
pub(super) struct Row {
    /// What is done before.
    pub before: &'static [Step],
    /// The command, in the club's folder.
    pub run: &'static str,
    /// What is typed in.
    pub typed: &'static str,
}

/// What is done before a command.
pub(super) enum Step {
    /// This command.
    Run(&'static str),
    /// Something that a person or another program does.
    Do(fn(&Club)),
}

/// Writes neither a page nor a change.
pub(super) const READS: &[&str] = &[
    "frames",
    "measure",
    "rulebook check",
    "rulebook list",
    "rulebook schema",
    "rulebook keys",
    "library info",
    "library due",
];

/// Killed elsewhere, and where.
pub(super) const ELSEWHERE: &[(&str, &str)] = &[
    ("eye", "its diary below; its window in tests/window/xvfb.rs"),
    ("library wall", "tests/window/xvfb.rs"),
    ("demo", "draws for minutes, so by itself: killed_demos_leave_whole_clips"),
];

/// Stands for what the window writes of figures for the eye.
pub(super) const EYE: &str = "!eye J-2";

const ADD: Step = Step::Run("library add clips");

const fn row(before: &'static [Step], run: &'static str) -> Row {
    Row { before, run, typed: "" }
}

pub(super) const ROWS: &[Row] = &[
    row(&[], "still clips/a.mp4 --frame 1 --out still.png"),
    row(&[], "moments clips/a.mp4 --frames 0,1,2,3 --out moments.png"),
    row(&[], "replay clips/a.mp4 --frames 0-3 --speed 1 --out replay.mp4"),
    row(&[], "score clips/a.mp4.floor.J-1.marks.json --html s.html --stills --csv s.csv"),
    row(
        &[Step::Run("score clips/a.mp4.floor.J-1.marks.json --html s.html")],
        "score clips/a.mp4.floor.J-2.marks.json --html s.html",
    ),
    row(
        &[],
        "panel clips/a.mp4.floor.J-1.marks.json clips/a.mp4.floor.J-2.marks.json --html p.html \
         --csv p.csv",
    ),
    row(
        &[],
        "attempts clips/a.mp4.vault.1.marks.json clips/a.mp4.vault.2.marks.json --html t.html",
    ),
    row(&[], "result clips/a.mp4.floor.J-1.marks.json --start 9.5"),
    row(&[Step::Do(damage_a_journal)], "aside clips/a.mp4.floor.J-1.marks.json --take 1"),
    row(&[], "card --rulebook saltmarsh --event floor --division heron --html c.html --csv c.csv"),
    row(&[], "chart --rulebook saltmarsh --event floor --html c.html --csv c.csv"),
    row(
        &[],
        "agree clips/a.mp4.floor.J-1.marks.json clips/a.mp4.floor.J-2.marks.json --html a.html \
         --csv a.csv",
    ),
    row(
        &[ADD, Step::Run("library set event floor --out set.toml")],
        "sitting set.toml --slip slip.html",
    ),
    Row {
        before: &[Step::Do(lay_out_a_set)],
        run: "sitting first.toml --typed --person J-2",
        typed: "9.8\nyes\n9.4\n\n\n\n\n\n\n\n\n",
    },
    row(&[], EYE),
    row(&[], "rulebook new own.toml"),
    row(&[Step::Do(rename_the_clip)], "attach clips/a.mp4.floor.J-1.marks.json clips/moved.mp4"),
    row(&[], "library add clips"),
    row(&[ADD, Step::Do(rename_the_clip)], "library scan"),
    row(&[], "library note clips/a.mp4 --source hall"),
    row(&[ADD], "library find event floor --save floor"),
    row(&[ADD], "library set event floor --out set.toml"),
    row(&[], "library cut clips/a.mp4 --from 0 --to 0.1 --out clips/cut.mp4"),
    row(&[ADD], "library export event floor --to club --clips-for training --out b.zip"),
    row(
        &[ADD, Step::Run("library export event floor --to club --clips-for training --out b.zip")],
        "library import b.zip --into in",
    ),
    row(
        &[],
        "library reference clips/a.mp4.floor.J-1.marks.json clips/a.mp4.floor.J-2.marks.json \
         --record clips/a.mp4.floor.J-1.marks.json",
    ),
    row(&[ADD], "library recheck --rulebook saltmarsh"),
    row(&[ADD], "library assign event floor --date 2026-11-20"),
    row(
        &[ADD, Step::Run("score clips/a.mp4.floor.J-1.marks.json --html s.html")],
        "library delete clips/a.mp4 --by J-1 --witness J-2",
    ),
    row(
        &[ADD, Step::Run("score clips/a.mp4.floor.J-1.marks.json --html s.html")],
        "library withdraw SC-07 --by J-1 --witness J-2",
    ),
];

/// Leaves steps behind a damaged line of a journal, which are set aside.
fn damage_a_journal(club: &Club) {
    let state = StateFolder::at(club.path("state"));
    let marks = club.path("clips/a.mp4.floor.J-1.marks.json");
    let mut desk = Desk::open(&marks, &state).unwrap();
    for number in 0..4 {
        let (id, at) = (Id(100 + number), At::Place(number as u32));
        let (what, seen, note) = (What::Note, Seen::Yes, format!("remark {number}"));
        let edit = Edit::add(Item::Mark(Mark { id, at, what, seen, of: None, note }));
        desk.take(stillcall::marks::Step::Do(edit)).unwrap();
    }
    drop(desk);
    let journal = state.journal_of(&marks);
    let text = fs::read_to_string(&journal).unwrap();
    fs::write(&journal, text.replacen("\"remark 1\"", "\"remark X\"", 1)).unwrap();
    drop(Desk::open(&marks, &state).unwrap());
}

/// A set of which nothing is played, as tests/pure sits it.
fn lay_out_a_set(club: &Club) {
    let text = include_str!("../../../tests/pure/sets/first.toml");
    fs::write(club.path("first.toml"), text).unwrap();
    for name in ["a.mp4", "b.mp4"] {
        let clip = club.path(name);
        fs::write(&clip, "").unwrap();
        let mut noted = SidecarFile::begin(&clip).unwrap();
        noted.sidecar.shows = Shows::Nobody;
        noted.save().unwrap();
    }
}

fn rename_the_clip(club: &Club) {
    fs::rename(club.path("clips/a.mp4"), club.path("clips/moved.mp4")).unwrap();
}
