//! Files that are being made. Each is noted first, so that the next start takes away what a kill
//! left behind, half a clip in a hidden file being footage that nobody knows of, and so that nobody
//! takes away what somebody is still at work on.

use std::{
    collections::hash_map::RandomState,
    fs::{self, File, OpenOptions},
    hash::{BuildHasher as _, Hasher as _},
    io::{self, Write as _},
    path::{Path, PathBuf},
    sync::OnceLock,
};

use tempfile::TempPath;

use super::{
    held_at::is_in_use,
    reading::{open_file, read_at_most},
    rights::{Readers, own_folder},
};

/// What the names of files begin with that are not whole yet.
pub const TEMPORARY: &str = ".stillcall-";

/// Bytes of a place, at most.
const LONGEST: u64 = 1 << 16;

/// Where this process notes the files of its own that it is making.
static NOTES: OnceLock<PathBuf> = OnceLock::new();

/// A file, or a folder of files, that is being made. Where it was not put in its place it goes when
/// this does.
#[derive(Debug)]
pub struct Unfinished {
    place: PathBuf,
    note: Option<Note>,
}

/// Tells the place; locked as long as this program runs, and taken away with it.
#[derive(Debug)]
struct Note {
    path: PathBuf,
    _locked: File,
}

/// Lets this process note in a folder what it writes as a whole; the first call counts.
pub fn note_unfinished_in(notes: PathBuf) {
    NOTES.get_or_init(|| notes);
}

impl Unfinished {
    /// Chooses a place in `folder` that does not exist yet, and notes it in the folder of notes
    /// before anything is there. Without one the program cannot remember anything.
    pub fn begin(folder: &Path, ending: &str, notes: Option<&Path>) -> io::Result<Self> {
        let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        let drawn = RandomState::new().build_hasher().finish();
        let name = format!("at-{drawn:016x}");
        let place = std::path::absolute(folder)?.join(format!("{TEMPORARY}{name}{ending}"));
        let note = notes.map(|notes| Note::of(&place, notes, &name)).transpose()?;
        Ok(Self { place, note })
    }

    /// Begins a file of our own beside the one that it will replace. One that cannot be noted is
    /// written all the same: what a person entered matters more.
    pub(super) fn beside(target: &Path) -> io::Result<Self> {
        let folder = target.parent().unwrap_or(Path::new(""));
        match Self::begin(folder, "", NOTES.get().map(PathBuf::as_path)) {
            Err(_) => Self::begin(folder, "", None),
            begun => begun,
        }
    }

    /// Returns where it is being made.
    pub fn place(&self) -> &Path {
        &self.place
    }

    /// Makes the file, for these readers.
    pub(super) fn create(&self, readers: Readers) -> io::Result<File> {
        let mut options = OpenOptions::new();
        options.read(true).write(true).create_new(true);
        readers.of_new(&mut options);
        options.open(&self.place)
    }

    /// Puts the file in its place, in that of another one only where that is wanted.
    pub fn put(self, target: &Path, over: bool) -> io::Result<()> {
        let file = TempPath::try_from_path(&self.place)?;
        let put = if over { file.persist(target) } else { file.persist_noclobber(target) };
        put.map_err(|error| error.error)
    }
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        // Mostly it is in its place by now, and not here. Where it cannot be taken away, the note
        // stays for the next start.
        if take_away(&self.place).is_ok()
            && let Some(note) = &self.note
        {
            let _ = fs::remove_file(&note.path);
        }
    }
}

impl Note {
    fn of(place: &Path, notes: &Path, name: &str) -> io::Result<Self> {
        own_folder(notes)?;
        let path = notes.join(name);
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        Readers::User.of_new(&mut options);
        let mut file = options.open(&path)?;
        // Locked first: a note that is not locked is of a program that is gone.
        file.lock()?;
        if !path.exists() {
            // Another program started between the two, and took it for such a one.
            return Self::of(place, notes, name);
        }
        file.write_all(place.as_os_str().as_encoded_bytes())?;
        file.sync_all()?;
        Ok(Self { path, _locked: file })
    }
}

/// Returns whether a program that is at work here is writing a file of such a name, or one in a
/// folder of such a name.
pub fn is_being_made(path: &Path, notes: &Path) -> bool {
    path.ancestors().any(|place| {
        let name = place.file_name().unwrap_or_default().to_string_lossy();
        let Some(name) = name.strip_prefix(TEMPORARY) else { return false };
        is_in_use(&notes.join(name.split('.').next().unwrap_or_default()))
    })
}

/// Takes away what programs left unfinished that are gone; returns what could not be, with why.
pub fn clear_unfinished(notes: &Path) -> Vec<(PathBuf, io::Error)> {
    let Ok(notes) = fs::read_dir(notes) else { return Vec::new() };
    let cleared = notes.flatten().filter_map(|note| clear(&note.path()).err());
    cleared.collect()
}

fn clear(note: &Path) -> Result<(), (PathBuf, io::Error)> {
    let Ok(file) = open_file(note) else { return Ok(()) };
    if file.try_lock().is_err() {
        return Ok(());
    }
    // Read once it is locked: before, its program may not have written it yet.
    let place = read_at_most(&file, LONGEST).ok().and_then(|it| String::from_utf8(it).ok());
    let Some(place) = place.map(PathBuf::from) else { return Ok(()) };
    // Whatever else a note may say, nothing but such a file is taken away.
    let is_ours = |name: &std::ffi::OsStr| name.to_string_lossy().starts_with(TEMPORARY);
    if place.file_name().is_some_and(is_ours) {
        take_away(&place).map_err(|error| (place, error))?;
    }
    match fs::remove_file(note) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err((note.to_owned(), error)),
        _ => Ok(()),
    }
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
