//! The marks file: JSON, replaced as a whole, never half written and never written over
//! something that could not be read.

use std::{
    fs, io,
    io::Write as _,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::model::Sheaf;

const FORMAT: &str = "stillcall marks";
const VERSION: u64 = 1;

/// A marks file as it stands on disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Stored {
    /// Random name of the document, by which its journal knows it.
    pub document: String,
    /// How much of the journal is already in this file.
    pub included: Included,
    /// The marks.
    pub sheaf: Sheaf,
}

/// The last journal entry that a marks file contains.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Included {
    /// Its sequence number; 0 when there is none.
    pub sequence: u64,
    /// Its checksum, which tells whether a journal is the one that this file grew from.
    pub checksum: String,
}

/// Why a marks file could not be read or written. Nothing is changed on disk by any of them.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// The file is not there or may not be read.
    #[error("cannot read {path}: {source}. Check the name and that you may open it")]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The file is no marks file, or a damaged one.
    #[error("{path} is not a readable marks file: {detail}. It was left as it is")]
    Malformed {
        /// The file.
        path: PathBuf,
        /// Line, column and what is wrong there.
        detail: String,
    },
    /// The file was written by a later version.
    #[error(
        "{path} was written by a newer version of this program (format {found}, this one reads up \
         to {VERSION}). Update the program; the file was left as it is"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its format version.
        found: u64,
    },
    /// The folder is read-only, full or gone.
    #[error(
        "cannot write {path}: {source}. The marks are kept in the journal; choose another place"
    )]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

#[derive(Serialize)]
struct Written<'a> {
    format: &'static str,
    version: u64,
    document: &'a str,
    included: &'a Included,
    #[serde(flatten)]
    sheaf: &'a Sheaf,
}

#[derive(Deserialize)]
struct Head {
    document: String,
    #[serde(default)]
    included: Included,
}

/// Reads a marks file.
pub fn read(path: &Path) -> Result<Stored, FileError> {
    let bytes =
        fs::read(path).map_err(|source| FileError::Unreadable { path: path.to_owned(), source })?;
    parse(&bytes, path)
}

/// Reads the bytes of a marks file; `path` only names it in errors.
pub fn parse(bytes: &[u8], path: &Path) -> Result<Stored, FileError> {
    let malformed = |detail: String| FileError::Malformed { path: path.to_owned(), detail };
    let mut keys = match serde_json::from_slice(bytes) {
        Ok(Value::Object(keys)) => keys,
        Ok(_) => return Err(malformed("it holds no table of marks".to_owned())),
        Err(error) => return Err(malformed(error.to_string())),
    };
    if keys.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(malformed(format!("\"format\" is not \"{FORMAT}\"")));
    }
    match keys.get("version").and_then(Value::as_u64) {
        Some(VERSION) => {}
        Some(found) if found > VERSION => {
            return Err(FileError::Newer { path: path.to_owned(), found });
        }
        _ => return Err(malformed("\"version\" is missing or unknown".to_owned())),
    }
    let head = Head::deserialize(Value::Object(keys.clone()))
        .map_err(|error| malformed(error.to_string()))?;
    for own in ["format", "version", "document", "included"] {
        keys.shift_remove(own);
    }
    let sheaf: Sheaf = serde_json::from_value(Value::Object(keys))
        .map_err(|error| malformed(error.to_string()))?;
    check(&sheaf).map_err(malformed)?;
    Ok(Stored { document: head.document, included: head.included, sheaf })
}

/// Looks for what would make marks ambiguous or an angle meaningless.
fn check(sheaf: &Sheaf) -> Result<(), String> {
    let mut ids: Vec<u64> = sheaf.marks.iter().map(|mark| mark.id.0).collect();
    ids.extend(sheaf.readings.iter().map(|reading| reading.id.0));
    ids.extend(sheaf.calls.iter().map(|call| call.id.0));
    ids.sort_unstable();
    if let Some((twice, _)) = ids.iter().zip(ids.iter().skip(1)).find(|(a, b)| a == b) {
        return Err(format!("the id {twice} is used twice"));
    }
    let odd = sheaf.readings.iter().find(|r| !(r.u.is_finite() && r.u.0 >= 0.0));
    match odd {
        Some(reading) => Err(format!("reading {} has a negative uncertainty", reading.id.0)),
        None => Ok(()),
    }
}

/// Returns the text of a marks file.
pub fn text(stored: &Stored) -> String {
    let written = Written {
        format: FORMAT,
        version: VERSION,
        document: &stored.document,
        included: &stored.included,
        sheaf: &stored.sheaf,
    };
    // Only a map with keys that are not text could fail here, and there is none.
    serde_json::to_string_pretty(&written).map(|text| text + "\n").unwrap_or_default()
}

/// What to do with a file that is there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Replace {
    /// Replace it.
    Allowed,
    /// Leave it and fail.
    Never,
}

/// Writes a marks file: temporary file beside it, flushed to the disk, then renamed.
pub fn write(path: &Path, text: &str, replace: Replace) -> Result<(), FileError> {
    replace_file(path, text.as_bytes(), replace)
        .map_err(|source| FileError::Unwritable { path: path.to_owned(), source })
}

/// Writes a file as a whole: temporary file beside it, flushed to the disk, then renamed.
pub fn replace_file(path: &Path, bytes: &[u8], replace: Replace) -> io::Result<()> {
    // A link is followed, so that it still points to the file afterwards.
    let target = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty());
    let mut file = tempfile::Builder::new()
        .prefix(".stillcall-")
        .tempfile_in(folder.unwrap_or(Path::new(".")))?;
    file.write_all(bytes)?;
    keep_permissions(&target, file.as_file());
    file.as_file().sync_all()?;
    let placed = match replace {
        Replace::Allowed => file.persist(&target),
        Replace::Never => file.persist_noclobber(&target),
    };
    placed.map(|_| ()).map_err(|error| error.error)
}

/// Gives the new file the rights of the one it replaces, or a usual file's: a temporary file is
/// readable by its owner only, which would lock the others of a shared folder out.
fn keep_permissions(target: &Path, file: &fs::File) {
    if let Ok(old) = fs::metadata(target) {
        // Some shares refuse; the marks matter more than the rights.
        let _ = file.set_permissions(old.permissions());
        return;
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let _ = file.set_permissions(fs::Permissions::from_mode(0o644));
    }
}

/// Returns the name of the marks file of a routine and judge beside a clip.
///
/// `<clip>.<routine>.<judge>.marks.json`; characters that a file system or a shell may refuse
/// become `-`.
pub fn path_for(clip: &Path, routine: &str, judge: &str) -> PathBuf {
    let mut name = clip.file_name().unwrap_or_default().to_owned();
    let part = |text: &str, empty: &str| {
        let plain = |c: char| if c.is_alphanumeric() || c == '_' { c } else { '-' };
        let text: String = text.chars().map(plain).collect();
        if text.is_empty() { empty.to_owned() } else { text }
    };
    name.push(format!(".{}.{}.marks.json", part(routine, "1"), part(judge, "J")));
    clip.with_file_name(name)
}

/// Returns the marks files that lie beside a clip, sorted by name.
pub fn beside(clip: &Path) -> Vec<PathBuf> {
    let Some(clip_name) = clip.file_name().map(|name| name.to_string_lossy().into_owned()) else {
        return Vec::new();
    };
    let folder = clip.parent().filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = fs::read_dir(folder.unwrap_or(Path::new("."))) else {
        return Vec::new();
    };
    let mut found: Vec<PathBuf> = entries
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            name.starts_with(&format!("{clip_name}.")) && name.ends_with(".marks.json")
        })
        .collect();
    found.sort();
    found
}
