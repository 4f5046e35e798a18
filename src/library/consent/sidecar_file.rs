//! The sidecar's file: read, compared before it is replaced, never written over unread.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use serde::Serialize;
use serde_json::Value;

use crate::library::quick_id::quick_id;
use crate::marks::file::{Replace, replace_file};

use super::sidecar::{ClipName, Sidecar};

const FORMAT: &str = "stillcall clip";
const VERSION: u64 = 1;

/// Why a sidecar could not be read or written. Nothing is changed on disk by any of them.
#[derive(Debug, thiserror::Error)]
pub enum SidecarError {
    /// It may not be read.
    #[error("cannot read {path}: {source}. Check that you may open it")]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// It is no sidecar, or a damaged one.
    #[error(
        "{path} is not a readable clip record: {detail}. It was left as it is; mend it or fetch an \
         older copy"
    )]
    Malformed {
        /// The file.
        path: PathBuf,
        /// What is wrong and where.
        detail: String,
    },
    /// It was written by a later version.
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
    /// Somebody else changed it since it was read.
    #[error(
        "{path} was changed by somebody else meanwhile. Nothing was overwritten; look at both and \
         note it again:\n{}", .differences.join("\n")
    )]
    Changed {
        /// The file.
        path: PathBuf,
        /// What differs, key by key.
        differences: Vec<String>,
    },
    /// The folder is read-only, full or gone.
    #[error(
        "cannot write {path}: {source}. Nothing was changed; free some space or check the folder"
    )]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// A sidecar with what was on disk when it was read.
#[derive(Debug)]
pub struct SidecarFile {
    path: PathBuf,
    /// What is noted.
    pub sidecar: Sidecar,
    /// Hash of the bytes as last read or written; nothing when there was no file.
    on_disk: Option<blake3::Hash>,
}

#[derive(Serialize)]
struct Written<'a> {
    format: &'static str,
    version: u64,
    #[serde(flatten)]
    sidecar: &'a Sidecar,
}

impl SidecarFile {
    /// Reads the sidecar of a clip; an empty one where there is none.
    pub fn open(clip: &Path) -> Result<Self, SidecarError> {
        let path = sidecar_path(clip);
        let bytes = read(&path)?;
        let sidecar = bytes.as_deref().map(|bytes| parse(bytes, &path)).transpose()?;
        let on_disk = bytes.map(|bytes| blake3::hash(&bytes));
        Ok(Self { path, sidecar: sidecar.unwrap_or_default(), on_disk })
    }

    /// Reads the sidecar of a clip and ties it to the clip's content where it was tied to none.
    pub fn begin(clip: &Path) -> Result<Self, SidecarError> {
        let mut file = Self::open(clip)?;
        if file.sidecar.clip.is_none() {
            file.tie(clip)?;
        }
        Ok(file)
    }

    /// Ties what is noted to the content that the clip has now.
    pub fn tie(&mut self, clip: &Path) -> Result<(), SidecarError> {
        let quick_id = quick_id(clip)
            .map_err(|source| SidecarError::Unreadable { path: clip.to_owned(), source })?;
        let name = clip.file_name().unwrap_or_default().to_string_lossy().into_owned();
        self.sidecar.clip = Some(ClipName { name, quick_id, content_hash: None });
        Ok(())
    }

    /// Returns whether there is such a file.
    pub fn exists(&self) -> bool {
        self.on_disk.is_some()
    }

    /// Returns its path.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes it, unless somebody else changed it meanwhile.
    pub fn save(&mut self) -> Result<(), SidecarError> {
        self.check_untouched()?;
        let text = text(&self.sidecar);
        let replace = if self.exists() { Replace::Allowed } else { Replace::Never };
        match replace_file(&self.path, text.as_bytes(), replace) {
            Ok(()) => {
                self.on_disk = Some(blake3::hash(text.as_bytes()));
                Ok(())
            }
            // Another program was quicker between the look and the writing.
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                self.check_untouched()?;
                Err(SidecarError::Unwritable { path: self.path.clone(), source: error })
            }
            Err(source) => Err(SidecarError::Unwritable { path: self.path.clone(), source }),
        }
    }

    fn check_untouched(&self) -> Result<(), SidecarError> {
        let Some(bytes) = read(&self.path)? else {
            // A file that was taken away is simply written again.
            return Ok(());
        };
        if Some(blake3::hash(&bytes)) == self.on_disk {
            return Ok(());
        }
        let differences = match parse(&bytes, &self.path) {
            Ok(theirs) => differences(&self.sidecar, &theirs),
            Err(error) => vec![error.to_string()],
        };
        Err(SidecarError::Changed { path: self.path.clone(), differences })
    }
}

/// Returns where the sidecar of a clip lies.
pub fn sidecar_path(clip: &Path) -> PathBuf {
    let mut name = clip.file_name().unwrap_or_default().to_owned();
    name.push(".clip.json");
    clip.with_file_name(name)
}

/// Returns files beside a clip that look like other copies of its sidecar, as programs that keep
/// folders in step leave them when two people wrote at once.
pub fn copies(clip: &Path) -> Vec<PathBuf> {
    let own = sidecar_path(clip);
    let folder = clip.parent().filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = fs::read_dir(folder.unwrap_or(Path::new("."))) else { return Vec::new() };
    let stem = clip.file_name().unwrap_or_default().to_string_lossy().into_owned() + ".clip";
    let is_copy = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let rest = name.strip_prefix(&stem).unwrap_or_default();
        Path::new(rest).extension().is_some_and(|it| it == "json")
            && path.file_name() != own.file_name()
    };
    let mut found: Vec<PathBuf> =
        entries.flatten().map(|entry| entry.path()).filter(is_copy).collect();
    found.sort();
    found
}

/// Reads the bytes of a sidecar; `path` only names it in errors.
pub(crate) fn parse(bytes: &[u8], path: &Path) -> Result<Sidecar, SidecarError> {
    let malformed = |detail: String| SidecarError::Malformed { path: path.to_owned(), detail };
    let mut keys = match serde_json::from_slice(bytes) {
        Ok(Value::Object(keys)) => keys,
        Ok(_) => return Err(malformed("it holds no table".to_owned())),
        Err(error) => return Err(malformed(error.to_string())),
    };
    if keys.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(malformed(format!("\"format\" is not \"{FORMAT}\"")));
    }
    match keys.get("version").and_then(Value::as_u64) {
        Some(VERSION) => {}
        Some(found) if found > VERSION => {
            return Err(SidecarError::Newer { path: path.to_owned(), found });
        }
        _ => return Err(malformed("\"version\" is missing or unknown".to_owned())),
    }
    keys.shift_remove("format");
    keys.shift_remove("version");
    serde_json::from_value(Value::Object(keys)).map_err(|error| malformed(error.to_string()))
}

/// Returns the text of a sidecar.
pub(crate) fn text(sidecar: &Sidecar) -> String {
    let written = Written { format: FORMAT, version: VERSION, sidecar };
    // Only a map with keys that are not text could fail here, and there is none.
    serde_json::to_string_pretty(&written).map(|text| text + "\n").unwrap_or_default()
}

/// Returns what differs between two sidecars, one line a key.
pub(crate) fn differences(ours: &Sidecar, theirs: &Sidecar) -> Vec<String> {
    let keys = |sidecar| match serde_json::to_value(sidecar) {
        Ok(Value::Object(keys)) => keys,
        _ => serde_json::Map::new(),
    };
    let (ours, theirs) = (keys(ours), keys(theirs));
    let mut names: Vec<&String> = ours.keys().chain(theirs.keys()).collect();
    names.sort();
    names.dedup();
    let shown = |value: Option<&Value>| value.map_or("nothing".to_owned(), Value::to_string);
    let differing = names.into_iter().filter(|name| ours.get(*name) != theirs.get(*name));
    differing
        .map(|name| {
            let [here, there] = [&ours, &theirs].map(|keys| shown(keys.get(name)));
            format!("  {name}: here {here}, in the file {there}")
        })
        .collect()
}

fn read(path: &Path) -> Result<Option<Vec<u8>>, SidecarError> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(source) => Err(SidecarError::Unreadable { path: path.to_owned(), source }),
    }
}
