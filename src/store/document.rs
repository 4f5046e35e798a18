use std::{
    io,
    path::{Path, PathBuf},
};

use serde::{Serialize, de::DeserializeOwned};
use serde_json::{Map, Value};

use super::{
    reading::read_file,
    replace::{Replacing, place_file},
    rights::Readers,
};

/// A kind of document: a JSON file that says its format and version, and is replaced only while it
/// is still the one that was read.
#[derive(Debug, PartialEq, Eq)]
pub struct Format {
    /// What `format` says in it.
    pub name: &'static str,
    /// What `version` says in it; a higher one is refused.
    pub version: u64,
    /// What people call it.
    pub called: &'static str,
    /// What to do, and what is safe, where it cannot be written.
    pub unwritten: &'static str,
    /// Who may read it, where it is new.
    pub readers: Readers,
}

/// Which bytes a file had when it was last read or written here.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Held(Option<blake3::Hash>);

/// Why a document could not be read or written. Nothing is changed on disk by any of them.
#[derive(Debug, thiserror::Error)]
pub enum DocumentError {
    /// The file is not there or may not be read.
    #[error("cannot read {path}: {source}. Check the name and that you may open it")]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The file is another one, or damaged.
    #[error(
        "{path} is not a readable {}: {detail}. It was left as it is; mend it or fetch an older \
         copy", .of.called
    )]
    Malformed {
        /// The file.
        path: PathBuf,
        /// What it should be.
        of: &'static Format,
        /// What is wrong and where.
        detail: String,
    },
    /// The file was written by a later version.
    #[error(
        "{path} was written by a newer version of this program (format {found}, this one reads up \
         to {}). Update the program; the file was left as it is", .of.version
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// What it is.
        of: &'static Format,
        /// Its format version.
        found: u64,
    },
    /// Somebody else changed it since it was read.
    #[error(
        "{path} was changed by somebody else meanwhile. Nothing was overwritten; look at both and \
         do it again:\n{}", .differences.join("\n")
    )]
    Changed {
        /// The file.
        path: PathBuf,
        /// What differs, key by key.
        differences: Vec<String>,
    },
    /// The folder is read-only, full or gone.
    #[error("cannot write {path}: {source}. {}", .of.unwritten)]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What it is.
        of: &'static Format,
        /// What the system said.
        source: io::Error,
    },
}

impl Held {
    /// Returns whether there was such a file.
    pub const fn is_there(self) -> bool {
        self.0.is_some()
    }

    fn of(bytes: &[u8]) -> Self {
        Self(Some(blake3::hash(bytes)))
    }
}

#[derive(Serialize)]
struct Written<'a, T> {
    format: &'static str,
    version: u64,
    #[serde(flatten)]
    content: &'a T,
}

impl Format {
    /// Reads the bytes of a file.
    pub fn read(&self, path: &Path) -> Result<(Vec<u8>, Held), DocumentError> {
        let bytes = read_file(path)
            .map_err(|source| DocumentError::Unreadable { path: path.to_owned(), source })?;
        let held = Held::of(&bytes);
        Ok((bytes, held))
    }

    /// Reads the bytes of a file; nothing where there is none.
    pub fn read_if_there(&self, path: &Path) -> Result<Option<(Vec<u8>, Held)>, DocumentError> {
        match self.read(path) {
            Ok(read) => Ok(Some(read)),
            Err(DocumentError::Unreadable { source, .. })
                // No file can have a name that the disk does not take, so that none is there.
                if matches!(
                    source.kind(),
                    io::ErrorKind::NotFound | io::ErrorKind::InvalidFilename
                ) =>
            {
                Ok(None)
            }
            Err(error) => Err(error),
        }
    }

    /// Returns the keys that bytes hold, without those that every document has; `path` only names
    /// the file in errors.
    pub fn keys(
        &'static self,
        bytes: &[u8],
        path: &Path,
    ) -> Result<Map<String, Value>, DocumentError> {
        let malformed = |detail: String| self.malformed(path, detail);
        let mut keys = match serde_json::from_slice(bytes) {
            Ok(Value::Object(keys)) => keys,
            Ok(_) => return Err(malformed("it holds no table".to_owned())),
            Err(error) => return Err(malformed(error.to_string())),
        };
        if keys.get("format").and_then(Value::as_str) != Some(self.name) {
            return Err(malformed(format!("\"format\" is not \"{}\"", self.name)));
        }
        match keys.get("version").and_then(Value::as_u64) {
            Some(found) if found == self.version => {}
            Some(found) if found > self.version => {
                return Err(DocumentError::Newer { path: path.to_owned(), of: self, found });
            }
            _ => return Err(malformed("\"version\" is missing or unknown".to_owned())),
        }
        keys.shift_remove("format");
        keys.shift_remove("version");
        Ok(keys)
    }

    /// Returns what bytes hold; `path` only names the file in errors.
    pub fn parse<T: DeserializeOwned>(
        &'static self,
        bytes: &[u8],
        path: &Path,
    ) -> Result<T, DocumentError> {
        let keys = self.keys(bytes, path)?;
        serde_json::from_value(Value::Object(keys))
            .map_err(|error| self.malformed(path, error.to_string()))
    }

    /// Returns the text of a document.
    pub fn text(&self, content: &impl Serialize) -> String {
        let written = Written { format: self.name, version: self.version, content };
        // Only a map with keys that are not text could fail here, and there is none.
        serde_json::to_string_pretty(&written).map(|text| text + "\n").unwrap_or_default()
    }

    /// Writes a file, unless somebody else changed it since it was read; one that was taken away is
    /// simply written again.
    pub fn write(
        &'static self,
        path: &Path,
        text: &str,
        held: &mut Held,
    ) -> Result<(), DocumentError> {
        self.check_untouched(path, text, *held)?;
        let replace = if held.is_there() { Replacing::Allowed } else { Replacing::Never };
        match place_file(path, text.as_bytes(), replace, self.readers) {
            Ok(()) => {
                *held = Held::of(text.as_bytes());
                Ok(())
            }
            Err(source) => {
                if source.kind() == io::ErrorKind::AlreadyExists {
                    // Another program was quicker between the look and the writing.
                    self.check_untouched(path, text, *held)?;
                }
                Err(self.unwritable(path, source))
            }
        }
    }

    /// Returns the error of a file that is none of these.
    pub fn malformed(&'static self, path: &Path, detail: String) -> DocumentError {
        DocumentError::Malformed { path: path.to_owned(), of: self, detail }
    }

    /// Returns the error of a file that cannot be written.
    pub fn unwritable(&'static self, path: &Path, source: io::Error) -> DocumentError {
        DocumentError::Unwritable { path: path.to_owned(), of: self, source }
    }

    fn check_untouched(&self, path: &Path, ours: &str, held: Held) -> Result<(), DocumentError> {
        match self.read_if_there(path)? {
            Some((theirs, now)) if now != held => Err(DocumentError::Changed {
                path: path.to_owned(),
                differences: differences(ours.as_bytes(), &theirs),
            }),
            _ => Ok(()),
        }
    }
}

/// Returns what differs between two documents, one line a key.
fn differences(ours: &[u8], theirs: &[u8]) -> Vec<String> {
    let [ours, theirs] = [ours, theirs].map(serde_json::from_slice::<Map<String, Value>>);
    let (ours, theirs) = match (ours, theirs) {
        (Ok(ours), Ok(theirs)) => (ours, theirs),
        (_, Err(error)) | (Err(error), _) => return vec![format!("  it cannot be read: {error}")],
    };
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
