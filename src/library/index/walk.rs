//! The files below a folder that concern the library.

use std::{
    fs,
    path::{Path, PathBuf},
    time::UNIX_EPOCH,
};

use crate::{store::about_to_read, units};

/// A file as the system tells of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Seen {
    /// Its path.
    pub path: PathBuf,
    /// Its size in bytes.
    pub size: i64,
    /// When it was last changed, in nanoseconds.
    pub modified: i64,
    /// The disk on which it lies, where the system tells.
    pub disk: Option<i64>,
}

/// What lies below a folder.
#[derive(Debug, Default)]
pub(crate) struct Files {
    /// Clips.
    pub clips: Vec<Seen>,
    /// Marks files.
    pub marks: Vec<Seen>,
    /// Sidecars.
    pub sidecars: Vec<Seen>,
    /// Files that look like second copies of a sidecar.
    pub copies: Vec<PathBuf>,
    /// Folders and files that could not be looked at, with the reason.
    pub unreadable: Vec<(PathBuf, String)>,
}

/// Returns what lies below `folder`, by name. Links to folders are not followed, because they may
/// lead round in a circle. Stops where `stops` says so.
pub(crate) fn walk(folder: &Path, files: &mut Files, stops: &dyn Fn() -> bool) {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) => return files.unreadable.push((folder.to_owned(), error.to_string())),
    };
    let mut entries: Vec<fs::DirEntry> = entries.flatten().collect();
    entries.sort_by_key(fs::DirEntry::file_name);
    for entry in entries {
        if stops() {
            return;
        }
        let path = entry.path();
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => walk(&path, files, stops),
            Ok(_) => sort_in(path, files),
            Err(error) => files.unreadable.push((path, error.to_string())),
        }
    }
}

/// Puts a file where it belongs by its name.
pub(crate) fn sort_in(path: PathBuf, files: &mut Files) {
    let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    let ending = path.extension().unwrap_or_default().to_string_lossy().to_lowercase();
    let place = if name.starts_with('.') {
        return;
    } else if name.ends_with(".marks.json") {
        &mut files.marks
    } else if name.ends_with(".clip.json") {
        &mut files.sidecars
    } else if ending == "json" && name.contains(".clip") {
        return files.copies.push(path);
    } else if units::is_clip_name(&path) {
        &mut files.clips
    } else {
        return;
    };
    match seen(&path) {
        Ok(Some(seen)) => place.push(seen),
        Ok(None) => {}
        Err(error) => files.unreadable.push((path, error)),
    }
}

/// Returns what the system tells of a file; nothing when it is none, or empty.
fn seen(path: &Path) -> Result<Option<Seen>, String> {
    if path.to_str().is_none() {
        return Err("its name is not text; rename it".to_owned());
    }
    about_to_read(path);
    let facts = fs::metadata(path).map_err(|error| error.to_string())?;
    let since = facts.modified().ok().and_then(|at| at.duration_since(UNIX_EPOCH).ok());
    let modified = since.unwrap_or_default().as_nanos() as i64;
    let size = facts.len() as i64;
    let seen = || Seen { path: path.to_owned(), size, modified, disk: disk(&facts) };
    Ok((facts.is_file() && size > 0).then(seen))
}

/// Returns on which disk a file or folder lies; nothing where it is not there.
pub(crate) fn disk_of(path: &Path) -> Option<i64> {
    fs::metadata(path).ok().as_ref().and_then(disk)
}

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "other systems do not tell")]
fn disk(facts: &fs::Metadata) -> Option<i64> {
    use std::os::unix::fs::MetadataExt as _;
    Some(facts.dev().cast_signed())
}

#[cfg(not(unix))]
fn disk(_: &fs::Metadata) -> Option<i64> {
    None
}
