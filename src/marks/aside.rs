//! What was ever set aside of marks: listed with what it holds, and taken back.

use std::{
    fs,
    path::{Path, PathBuf},
    time::SystemTime,
};

use super::{
    desk::Desk,
    desk_error::DeskError,
    edit::{Edit, Step},
    entries::{self, changes_left},
    file::{self, Stored},
    merge::{Changes, Conflict, Merged, OtherClip, merge},
    state::StateFolder,
    version,
};
use crate::store::about_to_read;

/// Something that was set aside.
#[derive(Debug)]
pub struct Aside {
    /// What it is.
    pub kind: AsideKind,
    /// The file in which it is kept.
    pub path: PathBuf,
    /// Its size in bytes.
    pub bytes: u64,
    /// When it was last written.
    pub written: Option<SystemTime>,
    /// How much it holds, in words.
    pub holds: String,
    /// What of it is not in the marks, or differs from them.
    pub beyond: Result<Merged, OtherClip>,
}

/// Why something was set aside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AsideKind {
    /// A journal before its damaged end was cut off.
    TornJournal,
    /// A journal that the marks file did not go on from.
    OtherJournal,
    /// A version that was in the marks file until it was joined with this one.
    OtherVersion,
    /// A version that lies beside the marks file.
    Copy,
    /// Marks of the same routine in the user's own folder, where the clip's could not be written.
    OwnFolder,
}

impl Aside {
    /// Returns whether anything in it is not in the marks, or differs from them.
    pub fn has_more(&self) -> bool {
        let beyond = self.beyond.as_ref();
        beyond.map_or(true, |it| !it.joined.is_empty() || !it.conflicts.is_empty())
    }
}

impl AsideKind {
    /// Returns what it is, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::TornJournal => "journal with a damaged end",
            Self::OtherJournal => "journal of another version",
            Self::OtherVersion => "version of another computer",
            Self::Copy => "copy beside the marks",
            Self::OwnFolder => "marks in your own folder",
        }
    }
}

impl Desk {
    /// Returns everything that was set aside of these marks, the oldest first.
    pub fn aside(&self, state: &StateFolder) -> Vec<Aside> {
        let journals = self.journal.path().parent().map(files_in).unwrap_or_default();
        let kept = journals.iter().filter_map(|path| self.kept(path));
        let own = self.stored();
        let copies = version::beside(&self.path, &own).into_iter();
        let copies = copies.map(|it| self.version_aside(AsideKind::Copy, &it.path, &it.stored));
        let elsewhere = files_in(&state.marks()).into_iter().filter(|path| *path != self.path);
        let elsewhere = elsewhere.filter_map(|path| {
            let stored = file::read(&path).ok().filter(|it| is_of_routine(it, &own))?;
            Some(self.version_aside(AsideKind::OwnFolder, &path, &stored))
        });
        let mut all: Vec<Aside> = kept.chain(copies).chain(elsewhere).collect();
        all.sort_by(|a, b| (a.written, &a.path).cmp(&(b.written, &b.path)));
        all
    }

    /// Takes one back as one step: what is not here, and of what differs their side. Where `only`
    /// names some of what differs, those alone. Returns whether there was anything to take.
    pub fn take_back(&mut self, aside: &Aside, only: &[String]) -> Result<bool, DeskError> {
        let Ok(beyond) = &aside.beyond else { return Ok(false) };
        let mut after = self.sheaf.clone();
        let mut edits: Vec<Edit> = Vec::new();
        if let Some(edit) = beyond.edit.clone().filter(|_| only.is_empty()) {
            edit.apply(&mut after);
            edits.push(edit);
        }
        let is_meant = |it: &&Conflict| only.is_empty() || only.contains(&it.slot.to_string());
        for conflict in beyond.conflicts.iter().filter(is_meant) {
            if let Some(edit) = conflict.taking_theirs(&after) {
                edit.apply(&mut after);
                edits.push(edit);
            }
        }
        if edits.is_empty() {
            return Ok(false);
        }
        self.take(Step::Do(Edit::Together(edits)))
    }

    /// Returns what a file beside the journals holds, where it is of these marks.
    fn kept(&self, path: &Path) -> Option<Aside> {
        if path == self.journal.path() {
            return None;
        }
        let ending = path.extension()?.to_str()?;
        let kind = match ending.split_once('-').map_or(ending, |(why, _)| why) {
            "torn" => AsideKind::TornJournal,
            // A journal under another name is that of the marks where they lay before.
            "other" | "journal" => AsideKind::OtherJournal,
            "version" => AsideKind::OtherVersion,
            _ => return None,
        };
        let own = self.stored();
        let is_here = path.file_stem() == self.journal.path().file_stem();
        // Journals of everything else are not read to their end.
        if !is_here && !version::begins_with(path, &[&own.document]) {
            return None;
        }
        if kind == AsideKind::OtherVersion {
            let stored = file::read(path).ok().filter(|it| it.document == own.document)?;
            return Some(self.version_aside(kind, path, &stored));
        }
        let entries = entries::read(path).ok()?;
        // The line that says whose it is may be the damaged one.
        if entries.document != own.document && !(is_here && entries.document.is_empty()) {
            return None;
        }
        let after: Vec<Step> = entries.after.clone();
        let steps = entries.steps.len() + after.len();
        let changes = changes_left(&entries, &own.past).then(Changes::of(&after, 0, []));
        Some(self.aside_of(kind, path, counted(steps, "step"), &changes))
    }

    fn version_aside(&self, kind: AsideKind, path: &Path, stored: &Stored) -> Aside {
        let is_version = stored.document == self.stored().document;
        let changes = if is_version {
            self.changes_of(stored)
        } else {
            Changes::apart(&self.sheaf, &stored.sheaf)
        };
        let (marks, readings) = (stored.sheaf.marks.len(), stored.sheaf.readings.len());
        let holds = format!("{}, {}", counted(marks, "mark"), counted(readings, "reading"));
        self.aside_of(kind, path, holds, &changes)
    }

    fn aside_of(&self, kind: AsideKind, path: &Path, holds: String, changes: &Changes) -> Aside {
        let facts = fs::metadata(path).ok();
        let bytes = facts.as_ref().map_or(0, fs::Metadata::len);
        let written = facts.and_then(|facts| facts.modified().ok());
        let beyond = merge(&self.sheaf, changes, self.highest_id);
        Aside { kind, path: path.to_owned(), bytes, written, holds, beyond }
    }
}

/// Returns whether both are marks of one routine of one clip by one judge, who goes by another
/// number where the first name was taken.
fn is_of_routine(one: &Stored, other: &Stored) -> bool {
    let of = |it: &Stored| {
        let clip = it.sheaf.clip.as_ref().map(|clip| clip.quick_id.clone());
        (clip, it.sheaf.routine.id.clone(), it.sheaf.routine.judge.clone())
    };
    of(one).0.is_some() && of(one) == of(other)
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    about_to_read(folder);
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    files.sort();
    files
}

fn counted(count: usize, what: &str) -> String {
    let end = if count == 1 { "" } else { "s" };
    format!("{count} {what}{end}")
}
