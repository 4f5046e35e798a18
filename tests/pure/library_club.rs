//! A club with clips and marks, for the tests of the library.

use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Output},
};

use serde_json::{Value, json};
use stillcall::{
    library::{Hit, Home, Index, IndexError, Page, Scan, Scanned, Shelf, find, parse, today},
    marks::StateFolder,
};
use tempfile::TempDir;

use crate::books::write::BARS;

pub(crate) struct Club {
    pub folder: TempDir,
}

/// A routine to be written; the rest of it is always the same.
pub(crate) struct Marked<'a> {
    pub clip: &'a str,
    pub athlete: &'a str,
    pub judge: &'a str,
    /// Magnitude of the cast over horizontal.
    pub cast: f64,
    /// Standard uncertainty of that.
    pub u: f64,
}

impl<'a> Marked<'a> {
    pub(crate) fn of(clip: &'a str, athlete: &'a str) -> Self {
        Self { clip, athlete, judge: "J-2", cast: 20.0, u: 0.0 }
    }
}

impl Club {
    pub(crate) fn new() -> Self {
        let club = Self { folder: tempfile::tempdir().unwrap() };
        fs::create_dir(club.clips()).unwrap();
        let mut shelf = Shelf::default();
        shelf.add(&club.clips()).unwrap();
        shelf.write(&club.home()).unwrap();
        club
    }

    pub(crate) fn clips(&self) -> PathBuf {
        self.folder.path().canonicalize().unwrap().join("clips")
    }

    pub(crate) fn state(&self) -> StateFolder {
        StateFolder::at(self.folder.path().join("state"))
    }

    pub(crate) fn home(&self) -> Home {
        Home::at(self.folder.path().join("state/library"))
    }

    pub(crate) fn index_file(&self) -> PathBuf {
        self.home().path().join("index.sqlite")
    }

    /// Writes a file that is taken for a clip; its bytes follow from its content's name.
    pub(crate) fn clip(&self, name: &str, content: &str) -> PathBuf {
        let path = self.clips().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, content.repeat(1000)).unwrap();
        path
    }

    /// Writes the marks of a bars routine beside its clip.
    pub(crate) fn mark(&self, marked: &Marked<'_>) -> PathBuf {
        self.mark_with(marked, |_| {})
    }

    pub(crate) fn mark_with(
        &self,
        marked: &Marked<'_>,
        change: impl FnOnce(&mut Value),
    ) -> PathBuf {
        let clip = self.clips().join(marked.clip);
        let at = |k: usize| {
            let ticks = k as i64 * 512;
            json!({"frame": {"ticks": ticks, "index": k, "lo": ticks, "hi": ticks}})
        };
        let marks: Vec<Value> = BARS
            .iter()
            .enumerate()
            .map(|(i, id)| json!({"id": i + 1, "at": at(i), "kind": "element", "element": id}))
            .collect();
        let mut file = json!({
            "format": "stillcall marks", "version": 1,
            "document": quick_id(&clip) + marked.judge,
            "clip": {
                "name": marked.clip, "quick_id": quick_id(&clip), "time_base": [1, 12800],
                "upright": {
                    "coded_width": 64, "coded_height": 48, "pixel": {"width": 1, "height": 1},
                    "orientation": {"quarter_turns": 0, "mirrored": false},
                },
            },
            "routine": {
                "id": "1", "event": "bars", "division": "redshank", "athlete": marked.athlete,
                "judge": marked.judge, "date": "2026-10-17", "book": "saltmarsh",
            },
            "marks": marks,
            "readings": [{
                "id": 20, "of": 2, "quantity": "body-line", "value": marked.cast, "u": marked.u,
                "at": at(1),
            }],
        });
        change(&mut file);
        let path = stillcall::marks::path_for(&clip, "1", marked.judge);
        fs::write(&path, file.to_string()).unwrap();
        path
    }

    pub(crate) fn scan(&self) -> Scanned {
        let mut index = Index::open(&self.home()).unwrap();
        self.scan_with(&mut index)
    }

    pub(crate) fn scan_with(&self, index: &mut Index) -> Scanned {
        let (home, state) = (self.home(), self.state());
        let shelf = Shelf::read(&home).unwrap();
        let mut scan = Scan { index, home: &home, shelf: &shelf, state: Some(&state) };
        let scanned = patiently(|| scan.run(&mut |_| std::ops::ControlFlow::Continue(())));
        assert!(patiently(|| scan.hash(&mut |_| std::ops::ControlFlow::Continue(()))));
        scanned
    }

    pub(crate) fn find(&self, query: &str) -> Vec<Hit> {
        let index = Index::open(&self.home()).unwrap();
        let query = parse(query).unwrap();
        let page = Page { from: 0, most: 100 };
        let (hits, all) = find(&index, &query, page, today()).unwrap();
        assert_eq!(hits.len(), all as usize);
        hits
    }

    /// Returns the athletes of what is found, sorted.
    pub(crate) fn who(&self, query: &str) -> Vec<String> {
        let mut who: Vec<String> = self.find(query).into_iter().map(|hit| hit.athlete).collect();
        who.sort();
        who
    }

    pub(crate) fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_stillcall"));
        command.current_dir(self.folder.path()).env("STILLCALL_STATE", self.state().path());
        command
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        self.command().args(arguments).output().unwrap()
    }

    /// Runs a command that has to succeed, and returns what it printed.
    pub(crate) fn says(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert!(output.status.success(), "{arguments:?}: {output:?}");
        String::from_utf8(output.stdout).unwrap()
    }

    /// Runs a command that has to fail, and returns what it complained of.
    pub(crate) fn refuses(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(output.status.code(), Some(1), "{arguments:?}: {output:?}");
        String::from_utf8(output.stderr).unwrap()
    }
}

pub(crate) fn quick_id(path: &Path) -> String {
    let mut file = fs::File::open(path).unwrap();
    let length = file.metadata().unwrap().len();
    stillcall::units::quick_id(&mut file, length).unwrap()
}

/// A program that another test starts at this very moment holds our lock until it runs.
pub(crate) fn patiently<T>(mut scan: impl FnMut() -> Result<T, IndexError>) -> T {
    for _ in 0..100 {
        match scan() {
            Err(IndexError::Busy) => std::thread::sleep(std::time::Duration::from_millis(20)),
            scanned => return scanned.unwrap(),
        }
    }
    panic!("busy for two seconds")
}
