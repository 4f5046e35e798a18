//! A fresh look through folders, whatever the index says: every file, what marks and records tell.

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
    time::UNIX_EPOCH,
};

use super::{
    names::{as_text, clip_of_record, name},
    plan::Unreached,
};
use crate::{
    library::consent::sidecar_file::SidecarFile,
    marks::{self, StateFolder},
    store::{TEMPORARY, about_to_read},
};

/// What was seen.
#[derive(Debug, Default)]
pub(crate) struct Sighted {
    /// Every file and every link to one.
    pub files: Vec<Sight>,
    /// The marks files among them.
    pub marks: Vec<MarksSeen>,
    /// The records among them, and second copies of records.
    pub records: Vec<RecordSeen>,
    /// Marks files and records that could not be read.
    pub unreadable: Vec<PathBuf>,
    /// What could not be looked at.
    pub unseen: Vec<Unreached>,
    known: BTreeSet<PathBuf>,
}

/// A file.
#[derive(Clone, Debug)]
pub(crate) struct Sight {
    /// Where it lies.
    pub path: PathBuf,
    /// Its length in bytes.
    pub length: u64,
    /// When it was last changed, in nanoseconds.
    pub modified: i64,
    /// Where a link leads.
    pub target: Option<PathBuf>,
    /// Whether it is a temporary file of this program, or lies in such a folder.
    pub is_temporary: bool,
}

/// What a marks file tells.
#[derive(Debug)]
pub(crate) struct MarksSeen {
    /// Where it lies.
    pub path: PathBuf,
    /// The athlete, with what its journal holds beyond the file.
    pub athlete: String,
    /// The routine within the clip.
    pub routine: String,
    /// The clip that it was made on; nothing for a planned routine.
    pub quick_id: Option<String>,
}

/// What a record of a clip tells.
#[derive(Debug)]
pub(crate) struct RecordSeen {
    /// Where it lies.
    pub path: PathBuf,
    /// The clip beside which it lies.
    pub clip: PathBuf,
    /// Who is noted.
    pub athletes: Vec<String>,
    /// The content that it was noted of.
    pub quick_id: Option<String>,
    /// The content that the clip was cut from.
    pub taken_from: Option<String>,
    /// Whether somebody who is seen withdrew.
    pub somebody_withdrew: bool,
}

impl Sighted {
    /// Looks at everything below a folder. A link to a folder is not followed: it is named.
    pub(crate) fn below(&mut self, folder: &Path, state: Option<&StateFolder>) {
        self.walk(folder, state, false);
    }

    fn walk(&mut self, folder: &Path, state: Option<&StateFolder>, temporary: bool) {
        let entries = match fs::read_dir(folder) {
            Ok(entries) => entries,
            Err(error) => return self.cannot(folder, &error.to_string()),
        };
        let mut entries: Vec<fs::DirEntry> = entries.flatten().collect();
        entries.sort_by_key(fs::DirEntry::file_name);
        for entry in entries {
            let path = entry.path();
            let temporary = temporary || is_temporary(&path);
            match entry.file_type() {
                Ok(kind) if kind.is_dir() => self.walk(&path, state, temporary),
                Ok(kind) if kind.is_symlink() && path.is_dir() => self.unseen.push(Unreached {
                    path: as_text(&path),
                    why: "it is a link to a folder, which was not looked into".to_owned(),
                    remedy: "look into it, and add that folder to the library if clips lie there"
                        .to_owned(),
                    tries_again: false,
                }),
                Ok(_) => self.take_as(&path, state, temporary),
                Err(error) => self.cannot(&path, &error.to_string()),
            }
        }
    }

    /// Looks at one file, and at what belongs to it beside it.
    pub(crate) fn beside(&mut self, clip: &Path, state: Option<&StateFolder>) {
        if self.knows(clip) {
            return;
        }
        self.take(clip, state);
        let folder = clip.parent().filter(|folder| !folder.as_os_str().is_empty());
        let begins = name(clip) + ".";
        let entries = fs::read_dir(folder.unwrap_or(Path::new("."))).into_iter().flatten();
        for path in entries.flatten().map(|entry| entry.path()) {
            if name(&path).starts_with(&begins) {
                self.take(&path, state);
            }
        }
    }

    /// Returns whether a file was looked at.
    pub(crate) fn knows(&self, path: &Path) -> bool {
        self.known.contains(path)
    }

    /// Returns every file or link that leads to this one, itself among them.
    pub(crate) fn same_file<'a>(&'a self, path: &'a Path) -> impl Iterator<Item = &'a Sight> {
        let end = path.canonicalize().unwrap_or_else(|_| path.to_owned());
        self.files.iter().filter(move |sight| sight.leads_to() == end || sight.path == path)
    }

    /// Looks at one file.
    pub(crate) fn take(&mut self, path: &Path, state: Option<&StateFolder>) {
        self.take_as(path, state, is_temporary(path));
    }

    fn take_as(&mut self, path: &Path, state: Option<&StateFolder>, is_temporary: bool) {
        if !self.known.insert(path.to_owned()) {
            return;
        }
        about_to_read(path);
        let Ok(link) = fs::symlink_metadata(path) else { return };
        let facts = match fs::metadata(path) {
            Ok(facts) => facts,
            // A link that leads nowhere has no content.
            Err(_) if link.is_symlink() => return,
            Err(error) => return self.cannot(path, &error.to_string()),
        };
        if !facts.is_file() {
            return;
        }
        let since = facts.modified().ok().and_then(|at| at.duration_since(UNIX_EPOCH).ok());
        self.files.push(Sight {
            path: path.to_owned(),
            length: facts.len(),
            modified: since.unwrap_or_default().as_nanos() as i64,
            target: if link.is_symlink() { path.canonicalize().ok() } else { None },
            is_temporary,
        });
        let name = name(path).to_lowercase();
        if name.ends_with(".marks.json") {
            match marks_seen(path, state) {
                Some(marks) => self.marks.push(marks),
                None => self.unreadable.push(path.to_owned()),
            }
        } else if let Some(clip) = clip_of_record(path) {
            match record_seen(path, clip) {
                Some(record) => self.records.push(record),
                None => self.unreadable.push(path.to_owned()),
            }
        }
    }

    fn cannot(&mut self, path: &Path, why: &str) {
        self.unseen.push(Unreached {
            path: as_text(path),
            why: format!("it cannot be looked at ({why})"),
            remedy: "see that this user may open it; the next command of the library looks again"
                .to_owned(),
            tries_again: true,
        });
    }
}

impl Sight {
    /// Returns the file that it leads to: itself, where it is no link.
    pub(crate) fn leads_to(&self) -> PathBuf {
        let itself = || self.path.canonicalize().unwrap_or_else(|_| self.path.clone());
        self.target.clone().unwrap_or_else(itself)
    }
}

fn is_temporary(path: &Path) -> bool {
    name(path).starts_with(TEMPORARY)
}

fn marks_seen(path: &Path, state: Option<&StateFolder>) -> Option<MarksSeen> {
    let sheaf = marks::load(path, state).ok()?;
    Some(MarksSeen {
        path: path.to_owned(),
        athlete: sheaf.routine.athlete,
        routine: sheaf.routine.id,
        quick_id: sheaf.clip.map(|clip| clip.quick_id),
    })
}

fn record_seen(path: &Path, clip: PathBuf) -> Option<RecordSeen> {
    let noted = SidecarFile::at(path.to_owned()).ok()?.sidecar;
    Some(RecordSeen {
        path: path.to_owned(),
        clip,
        athletes: noted.athletes.into_iter().map(|athlete| athlete.code).collect(),
        quick_id: noted.clip.map(|clip| clip.quick_id),
        taken_from: noted.taken_from.map(|from| from.content_hash),
        somebody_withdrew: noted.somebody_withdrew,
    })
}
