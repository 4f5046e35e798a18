//! Whatever a command writes is found in the ledger, so that a deletion or a withdrawal finds it.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::{
    any::TypeId,
    fs,
    path::{Path, PathBuf},
};

use clap::{CommandFactory as _, Parser as _};
use serde_json::json;
use stillcall::{
    library::{HandedOut, Home, Ledger, Made, Shows, SidecarFile, quick_id},
    marks::{StateFolder, path_for},
};

use super::CommandLine;

/// What is only read, or is a folder of the club's own.
const READ: &[(&str, &str)] = &[
    ("", "clip"),
    ("", "marks"),
    ("agree", "others"),
    ("agree", "reference"),
    ("attach", "clip"),
    ("attempts", "marks"),
    ("frames", "clip"),
    ("library add", "folder"),
    ("library cut", "clip"),
    ("library delete", "clip"),
    ("library import", "bundle"),
    ("library info", "clip"),
    ("library note", "clip"),
    ("library reference", "marks"),
    ("library reference", "record"),
    ("measure", "marks"),
    ("moments", "clip"),
    ("moments", "marks"),
    ("panel", "marks"),
    ("replay", "beside"),
    ("replay", "clip"),
    ("replay", "marks"),
    ("replay", "other_marks"),
    ("replay", "over"),
    ("score", "marks"),
    ("score", "plan"),
    ("score", "skills"),
    ("sitting", "set"),
    ("still", "clip"),
    ("still", "marks"),
];

/// What is written for the club itself and never leaves: marks, and what is taken in.
const KEPT: &[(&str, &str)] =
    &[("aside", "marks"), ("attach", "marks"), ("library import", "into"), ("result", "marks")];

/// What leaves, each through `Leaving`.
const LEAVES: &[(&str, &str)] = &[
    ("agree", "csv"),
    ("agree", "html"),
    ("attempts", "csv"),
    ("attempts", "html"),
    ("card", "csv"),
    ("card", "html"),
    ("chart", "csv"),
    ("chart", "html"),
    ("library cut", "out"),
    ("library export", "out"),
    ("library set", "out"),
    ("moments", "out"),
    ("panel", "csv"),
    ("panel", "html"),
    ("replay", "out"),
    ("rulebook new", "file"),
    ("score", "captions"),
    ("score", "csv"),
    ("score", "html"),
    ("sitting", "slip"),
    ("still", "out"),
];

/// Draws every sample clip first, which takes minutes; its pages leave as those of `score`.
const TOO_LONG: &[(&str, &str)] = &[("demo", "out")];

/// Every command of this build with every place of a file that it takes.
pub(super) fn places() -> Vec<(String, String)> {
    fn walk(command: &clap::Command, name: &str, found: &mut Vec<(String, String)>) {
        let paths = command
            .get_arguments()
            .filter(|it| it.get_value_parser().type_id() == TypeId::of::<PathBuf>());
        found.extend(paths.map(|it| (name.to_owned(), it.get_id().to_string())));
        for below in command.get_subcommands() {
            walk(below, format!("{name} {}", below.get_name()).trim(), found);
        }
    }
    let mut found = Vec::new();
    walk(&CommandLine::command(), "", &mut found);
    found
}

/// A club with one clip of nobody, judged by two, and two attempts at a vault.
pub(super) struct Club(tempfile::TempDir);

impl Club {
    fn new() -> Self {
        let club = Self::of_files();
        StateFolder::use_in_this_process(club.path("state"));
        Self::run(&["library", "add", &club.name("clips")]);
        club
    }

    /// The files alone, which no state of this process knows.
    pub(super) fn of_files() -> Self {
        let club = Self(tempfile::tempdir().unwrap());
        fs::create_dir(club.path("clips")).unwrap();
        let clip = club.path("clips/a.mp4");
        draw(&clip);
        let mut noted = SidecarFile::begin(&clip).unwrap();
        noted.sidecar.shows = Shows::Nobody;
        noted.save().unwrap();
        for (event, judge) in [("floor", "J-1"), ("floor", "J-2"), ("vault", "1"), ("vault", "2")] {
            club.mark(&clip, event, judge);
        }
        club
    }

    fn mark(&self, clip: &Path, event: &str, judge: &str) {
        let (first, last) = (at(0), at(4));
        let file = json!({
            "format": "stillcall marks", "version": 1, "document": format!("{event}{judge}"),
            "clip": {
                "name": "a.mp4", "quick_id": quick_id(clip).unwrap(), "time_base": [1, 15360],
                "upright": {
                    "coded_width": 64, "coded_height": 48, "pixel": {"width": 1, "height": 1},
                    "orientation": {"quarter_turns": 0, "mirrored": false},
                },
            },
            "routine": {
                "id": event, "event": event, "division": "heron", "athlete": "SC-07",
                "judge": judge, "date": "2026-10-17", "book": "saltmarsh", "span": [first, last],
            },
            "marks": [{"id": 1, "at": {"frame": at(1)}, "kind": "fall"}],
        });
        let path = path_for(clip, event, judge);
        assert_eq!(path, self.marks(event, judge));
        fs::write(path, file.to_string()).unwrap();
    }

    fn marks(&self, event: &str, judge: &str) -> PathBuf {
        self.path(&format!("clips/a.mp4.{event}.{judge}.marks.json"))
    }

    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.0.path().canonicalize().unwrap().join(name)
    }

    fn name(&self, name: &str) -> String {
        self.path(name).display().to_string()
    }

    fn run(arguments: &[&str]) {
        let line = CommandLine::try_parse_from([&["stillcall"], arguments].concat()).unwrap();
        let done = super::run(line);
        assert!(done.is_ok(), "{arguments:?}: {:#}", done.unwrap_err());
    }

    /// Lets a command write what leaves by this option; returns the file.
    fn write(&self, leaves: (&str, &str)) -> PathBuf {
        let mark = |event, judge| self.marks(event, judge).display().to_string();
        let [first, second] = ["J-1", "J-2"].map(|judge| mark("floor", judge));
        let [run, again] = ["1", "2"].map(|judge| mark("vault", judge));
        let clip = self.name("clips/a.mp4");
        let (name, said) = match leaves {
            (command @ ("agree" | "panel"), place @ ("csv" | "html")) => {
                (format!("{command}.{place}"), vec![command, &first, &second, option(place)])
            }
            ("attempts", place @ ("csv" | "html")) => {
                (format!("attempts.{place}"), vec!["attempts", &run, &again, option(place)])
            }
            ("card", place @ ("csv" | "html")) => {
                let of = ["--rulebook", "saltmarsh", "--event", "floor", "--division", "heron"];
                (format!("card.{place}"), [&["card"], &of[..], &[option(place)]].concat())
            }
            ("chart", place @ ("csv" | "html")) => {
                let of = ["chart", "--rulebook", "saltmarsh", "--event", "floor", option(place)];
                (format!("chart.{place}"), of.to_vec())
            }
            ("library cut", "out") => {
                let of = ["library", "cut", &clip, "--from", "0", "--to", "0.1", "--out"];
                ("cut.mp4".to_owned(), of.to_vec())
            }
            ("library export", "out") => (
                "a.zip".to_owned(),
                vec!["library", "export", "event", "floor", "--to", "club", "--out"],
            ),
            ("library set", "out") => {
                ("set.toml".to_owned(), vec!["library", "set", "event", "floor", "--out"])
            }
            ("moments", "out") => {
                let of = ["moments", &clip, "--frames", "0,1,2,3", "--out"];
                ("moments.png".to_owned(), of.to_vec())
            }
            ("replay", "out") => {
                let of = ["replay", &clip, "--frames", "0-3", "--speed", "1", "--out"];
                ("replay.mp4".to_owned(), of.to_vec())
            }
            ("rulebook new", "file") => ("own.toml".to_owned(), vec!["rulebook", "new"]),
            ("score", place) => (format!("score.{place}"), vec!["score", &first, option(place)]),
            ("sitting", "slip") => {
                let set = self.name("for-a-slip.toml");
                Self::run(&["library", "set", "event", "floor", "--out", &set]);
                Self::run(&["sitting", &set, "--slip", &self.name("slip.html")]);
                return self.path("slip.html");
            }
            ("still", "out") => {
                ("still.png".to_owned(), vec!["still", &clip, "--frame", "1", "--out"])
            }
            other => panic!("say how {other:?} writes its file"),
        };
        Self::run(&[&said[..], &[&*self.name(&name)]].concat());
        self.path(&name)
    }
}

fn option(place: &str) -> &'static str {
    match place {
        "captions" => "--captions",
        "csv" => "--csv",
        _ => "--html",
    }
}

fn at(frame: i64) -> serde_json::Value {
    let ticks = frame * 512;
    json!({"ticks": ticks, "index": frame, "lo": ticks, "hi": ticks + 512})
}

#[cfg(feature = "video")]
fn draw(clip: &Path) {
    let mut options = sample_clips_generator::Options::new("beam-leap", clip);
    options.size = (320, 240);
    sample_clips_generator::generate(&options).unwrap();
}

/// Without video no command looks into it.
#[cfg(not(feature = "video"))]
fn draw(clip: &Path) {
    fs::write(clip, "a".repeat(1000)).unwrap();
}

#[test]
fn whatever_leaves_is_in_the_ledger() {
    let known = [READ, KEPT, LEAVES, TOO_LONG].concat();
    for (command, place) in places() {
        let known = known.contains(&(&*command, &*place));
        assert!(known, "say whether `{command}` reads, keeps or lets out its {place}");
    }
    let club = Club::new();
    let home = Home::of_user().unwrap();
    for leaves in LEAVES {
        if !places().iter().any(|(command, place)| (&**command, &**place) == *leaves) {
            continue; // This build has no video.
        }
        let file = club.write(*leaves);
        assert!(file.exists(), "{leaves:?}");
        let made = Ledger::<Made>::open(&home).unwrap().lines().unwrap();
        let handed = Ledger::<HandedOut>::open(&home).unwrap().lines().unwrap();
        let is_there = made.iter().any(|made| made.path == file)
            || handed.iter().any(|handed| handed.path == file);
        assert!(is_there, "{leaves:?}: {made:?}");
        let of_her = ["agree", "panel", "attempts", "score", "cut"];
        if of_her.iter().any(|name| file.file_stem() == Some(name.as_ref())) {
            let hers = |made: &&Made| made.path == file && made.athlete == "SC-07";
            assert!(made.iter().any(|made| hers(&made) && !made.clip.is_empty()), "{leaves:?}");
        }
    }
}
