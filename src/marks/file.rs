//! The marks file: JSON, replaced as a whole, never half written and never written over
//! something that could not be read.

use std::{
    fs,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};
use serde_json::Value;

pub use super::trail::Included;
use super::{model::Sheaf, trail::Trail};
use crate::store::{DocumentError, Format, Readers, Replacing, about_to_read, replace_file};

/// A marks file.
pub static FORMAT: Format = Format {
    name: "stillcall marks",
    version: 1,
    called: "marks file",
    unwritten: "The marks are kept in the journal; choose another place",
    readers: Readers::Folder,
};

/// A marks file as it stands on disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Stored {
    /// Random name of the document, by which its journal knows it.
    pub document: String,
    /// How much of the journal is already in this file.
    pub included: Included,
    /// What led here.
    pub past: Past,
    /// The marks.
    pub sheaf: Sheaf,
}

/// What led to the marks in a file, so that another version of it can be joined with it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Past {
    /// The steps.
    pub trail: Trail,
    /// The last step of each other version that was joined with this one.
    pub joined: Vec<Included>,
}

impl Stored {
    /// Returns a copy of marks for others, which goes its own way: under another document's name,
    /// so that it is taken for no version of these.
    pub(crate) fn copy_of(document: &str, sheaf: Sheaf) -> Self {
        let hash = blake3::hash(format!("copy of {document}").as_bytes());
        Self::anew(hash.to_hex()[..16].to_owned(), sheaf)
    }

    /// Returns marks that no step led to.
    pub fn anew(document: String, sheaf: Sheaf) -> Self {
        Self { document, included: Included::default(), past: Past::default(), sheaf }
    }
}

#[derive(Serialize)]
struct Written<'a> {
    document: &'a str,
    included: &'a Included,
    #[serde(skip_serializing_if = "str::is_empty")]
    trail: &'a str,
    #[serde(skip_serializing_if = "<[Included]>::is_empty")]
    joined: &'a [Included],
    #[serde(flatten)]
    sheaf: &'a Sheaf,
}

#[derive(Deserialize)]
struct Head {
    document: String,
    #[serde(default)]
    included: Included,
    #[serde(default)]
    trail: String,
    #[serde(default)]
    joined: Vec<Included>,
}

/// Reads a marks file.
pub fn read(path: &Path) -> Result<Stored, DocumentError> {
    let (bytes, _) = FORMAT.read(path)?;
    parse(&bytes, path)
}

/// Reads the bytes of a marks file; `path` only names it in errors.
pub fn parse(bytes: &[u8], path: &Path) -> Result<Stored, DocumentError> {
    let malformed = |detail: String| FORMAT.malformed(path, detail);
    let mut keys = FORMAT.keys(bytes, path)?;
    let head = Head::deserialize(Value::Object(keys.clone()))
        .map_err(|error| malformed(error.to_string()))?;
    for own in ["document", "included", "trail", "joined"] {
        keys.shift_remove(own);
    }
    let sheaf: Sheaf = serde_json::from_value(Value::Object(keys))
        .map_err(|error| malformed(error.to_string()))?;
    check(&sheaf).map_err(malformed)?;
    let trail = Trail::read(&head.trail, &head.included);
    let past = Past { trail, joined: head.joined };
    Ok(Stored { document: head.document, included: head.included, past, sheaf })
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
    // There is room above it for everything that is still to be entered.
    if let Some(last) = ids.last().filter(|last| **last > u64::MAX / 2) {
        return Err(format!("the id {last} is too high"));
    }
    let odd = sheaf.readings.iter().find(|r| !(r.u.is_finite() && r.u.0 >= 0.0));
    match odd {
        Some(reading) => Err(format!("reading {} has a negative uncertainty", reading.id.0)),
        None => Ok(()),
    }
}

/// Returns the text of a marks file.
pub fn text(stored: &Stored) -> String {
    FORMAT.text(&Written {
        document: &stored.document,
        included: &stored.included,
        trail: stored.past.trail.as_str(),
        joined: &stored.past.joined,
        sheaf: &stored.sheaf,
    })
}

/// Writes a marks file, whatever stands in it now.
pub fn write(path: &Path, text: &str, replace: Replacing) -> Result<(), DocumentError> {
    replace_file(path, text.as_bytes(), replace).map_err(|source| FORMAT.unwritable(path, source))
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
    about_to_read(clip);
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

/// Returns a name that no other document, or journal, has: place, time and process together.
pub(super) fn random_name(path: &Path) -> String {
    let mut hasher = blake3::Hasher::new();
    hasher.update(path.as_os_str().as_encoded_bytes());
    hasher.update(&std::process::id().to_le_bytes());
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    hasher.update(&now.unwrap_or_default().as_nanos().to_le_bytes());
    hasher.finalize().to_hex()[..16].to_owned()
}
