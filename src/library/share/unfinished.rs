//! Files that are being made, noted so that the next start takes away what a kill left behind:
//! half a clip in a hidden file is footage that nobody knows of.

use std::{
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use tempfile::{NamedTempFile, TempPath};

use crate::{
    library::home::folder::Home,
    store::{TEMPORARY, open_file, own_folder, read_text},
};

/// Folder in the library's own, with a note for each file that is being made.
const FOLDER: &str = "unfinished";

/// A file, or a folder of files, that is being made. Where it was not put in its place it goes when
/// this does.
#[derive(Debug)]
pub(super) struct Unfinished {
    place: PathBuf,
    /// Tells the place; locked as long as this program runs, and taken away with it.
    _note: NamedTempFile,
}

impl Unfinished {
    /// Chooses a place in `folder` that does not exist yet, and notes it before anything is there.
    pub(super) fn begin(folder: &Path, ending: &str, home: Option<&Home>) -> io::Result<Self> {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        let mut note = match home {
            Some(home) => {
                let notes = home.path().join(FOLDER);
                own_folder(&notes)?;
                NamedTempFile::with_prefix_in("at-", notes)?
            }
            // Without a folder of its own the program cannot remember anything.
            None => NamedTempFile::with_prefix("at-")?,
        };
        let name = note.path().file_name().unwrap_or_default().to_string_lossy().into_owned();
        let place = std::path::absolute(folder)?.join(format!("{TEMPORARY}{name}{ending}"));
        // Locked first: a note that says something and is not locked is of a program that is gone.
        note.as_file().lock()?;
        note.write_all(place.as_os_str().as_encoded_bytes())?;
        note.as_file().sync_all()?;
        Ok(Self { place, _note: note })
    }

    pub(super) fn place(&self) -> &Path {
        &self.place
    }

    /// Puts the file in its place, in that of another one only where that is wanted.
    pub(super) fn put(self, target: &Path, over: bool) -> io::Result<()> {
        let file = TempPath::try_from_path(&self.place)?;
        let put = if over { file.persist(target) } else { file.persist_noclobber(target) };
        put.map_err(|error| error.error)
    }
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        // Mostly it is in its place by now, and not here.
        let _ = take_away(&self.place);
    }
}

/// Takes away what programs left unfinished that are gone; returns what could not be, with why.
pub fn clear_unfinished(home: &Home) -> Vec<(PathBuf, io::Error)> {
    let Ok(notes) = fs::read_dir(home.path().join(FOLDER)) else { return Vec::new() };
    let cleared = notes.flatten().filter_map(|note| clear(&note.path()).err());
    cleared.collect()
}

fn clear(note: &Path) -> Result<(), (PathBuf, io::Error)> {
    let Ok(place) = read_text(note) else { return Ok(()) };
    let is_gone = open_file(note).is_ok_and(|file| file.try_lock().is_ok());
    if place.is_empty() || !is_gone {
        return Ok(());
    }
    let place = PathBuf::from(place);
    // Whatever else a note may say, nothing but such a file is taken away.
    let is_ours = |name: &std::ffi::OsStr| name.to_string_lossy().starts_with(TEMPORARY);
    if place.file_name().is_some_and(is_ours) {
        take_away(&place).map_err(|error| (place, error))?;
    }
    fs::remove_file(note).map_err(|error| (note.to_owned(), error))
}

fn take_away(place: &Path) -> io::Result<()> {
    let gone = match fs::symlink_metadata(place) {
        Ok(facts) if facts.is_dir() => fs::remove_dir_all(place),
        Ok(_) => fs::remove_file(place),
        Err(error) => Err(error),
    };
    match gone {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}
