//! The sitting's file: one line per step, each flushed to the disk before anything else happens.
//!
//! A line is a checksum, a space and the record as JSON, and the first says what is sat. A line
//! whose checksum is wrong ends the file: it is the torn tail of a crash.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::record::{Begun, Record};
use crate::store::{
    Begin, Keeping, Lock, Log, LogError, Readers, about_to_read, read_file, whole_lines,
};

const KEEPING: Keeping =
    Keeping { checked: true, lock: Lock::Refused, synced: true, readers: Readers::Folder };
const FORMAT: &str = "stillcall sitting";
const VERSION: u64 = 1;

/// Why a sitting could not be kept or read.
#[derive(Debug, thiserror::Error)]
pub enum SittingError {
    /// The file is not there, or the disk is full, read-only or gone.
    #[error("cannot keep the sitting {path}: {source}. Free some space or check the folder")]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// Another window sits it.
    #[error("{path} is being sat in another window. Close it there first")]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// The file is no sitting, or one whose beginning is damaged.
    #[error("{path} is no readable sitting. It was left as it is")]
    Malformed {
        /// The file.
        path: PathBuf,
    },
    /// The file was written by a later version.
    #[error(
        "{path} was written by a newer version of this program. Update it; the file was left as it is"
    )]
    Newer {
        /// The file.
        path: PathBuf,
    },
}

impl From<LogError> for SittingError {
    fn from(error: LogError) -> Self {
        match error {
            LogError::Busy { path } => Self::Busy { path },
            LogError::Io { path, source } => Self::Io { path, source },
        }
    }
}

#[derive(Serialize, Deserialize)]
struct Head {
    format: String,
    version: u64,
    begun: Begun,
}

/// A sitting's file open for appending, locked against other windows.
#[derive(Debug)]
pub struct SittingFile(Log);

impl SittingFile {
    /// Begins a new file; one that is there already is an error.
    pub fn create(path: &Path, begun: &Begun) -> Result<Self, SittingError> {
        let mut log = Log::open(path, Begin::New, KEEPING)?;
        log.append(&Head { format: FORMAT.to_owned(), version: VERSION, begun: begun.clone() })?;
        Ok(Self(log))
    }

    /// Opens a file to go on with it, and returns what it holds. A torn tail is kept aside and cut
    /// off.
    pub fn open(path: &Path) -> Result<(Self, Begun, Vec<Record>), SittingError> {
        let mut log = Log::open(path, Begin::Existing, KEEPING)?;
        let read = parse(&log.bytes()?, path)?;
        log.keep_whole(read.whole_bytes)?;
        Ok((Self(log), read.begun, read.records))
    }

    /// Appends one record and returns when it is on the disk.
    pub fn append(&mut self, record: &Record) -> Result<(), SittingError> {
        self.0.append(record)?;
        Ok(())
    }

    /// Returns the file's path.
    pub fn path(&self) -> &Path {
        self.0.path()
    }
}

/// Reads a sitting without going on with it.
pub fn read(path: &Path) -> Result<(Begun, Vec<Record>), SittingError> {
    let bytes =
        read_file(path).map_err(|source| SittingError::Io { path: path.to_owned(), source })?;
    let read = parse(&bytes, path)?;
    Ok((read.begun, read.records))
}

/// Returns where a person's sitting of this number is kept: beside the set.
pub fn path_for(set_file: &Path, person: &str, number: usize) -> PathBuf {
    set_file.with_file_name(format!("{}{number:03}.sitting", beginning(set_file, person)))
}

/// Returns the person's sittings of the set, the oldest first.
pub fn files_of(set_file: &Path, person: &str) -> Vec<PathBuf> {
    let begins = beginning(set_file, person);
    about_to_read(set_file);
    let folder = set_file.parent().filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = fs::read_dir(folder.unwrap_or(Path::new("."))) else { return Vec::new() };
    let mut found: Vec<PathBuf> = entries
        .flatten()
        .filter(|entry| {
            let name = entry.file_name().to_string_lossy().into_owned();
            name.strip_prefix(&begins)
                .and_then(|rest| rest.strip_suffix(".sitting"))
                .is_some_and(|number| number.bytes().all(|byte| byte.is_ascii_digit()))
        })
        .map(|entry| set_file.with_file_name(entry.file_name()))
        .collect();
    // By number, so that the thousandth comes after the 999th.
    found.sort_by_key(|path| (path.as_os_str().len(), path.clone()));
    found
}

/// Returns every sitting beside the set that is named after it, by name.
pub(crate) fn all_of(set_file: &Path) -> Vec<PathBuf> {
    let begins = format!("{}.", set_file.file_stem().unwrap_or_default().to_string_lossy());
    let folder = set_file.parent().filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = fs::read_dir(folder.unwrap_or(Path::new("."))) else { return Vec::new() };
    let names = entries.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned());
    let mut names: Vec<String> =
        names.filter(|name| name.starts_with(&begins) && name.ends_with(".sitting")).collect();
    names.sort();
    names.into_iter().map(|name| set_file.with_file_name(name)).collect()
}

fn beginning(set_file: &Path, person: &str) -> String {
    let stem = set_file.file_stem().unwrap_or_default().to_string_lossy();
    let plain = |c: char| if c.is_alphanumeric() || c == '_' { c } else { '-' };
    let person: String = person.chars().map(plain).collect();
    format!("{stem}.{person}.")
}

struct Contents {
    begun: Begun,
    records: Vec<Record>,
    whole_bytes: usize,
}

fn parse(bytes: &[u8], path: &Path) -> Result<Contents, SittingError> {
    let malformed = || SittingError::Malformed { path: path.to_owned() };
    let mut lines = whole_lines(bytes);
    let first = lines.next().ok_or_else(malformed)?;
    let told: serde_json::Value = serde_json::from_str(first.json).map_err(|_| malformed())?;
    if told["format"] == FORMAT && told["version"].as_u64().is_some_and(|found| found > VERSION) {
        return Err(SittingError::Newer { path: path.to_owned() });
    }
    let head: Head = serde_json::from_value(told).map_err(|_| malformed())?;
    if head.format != FORMAT || head.version != VERSION {
        return Err(malformed());
    }
    let mut contents = Contents { begun: head.begun, records: Vec::new(), whole_bytes: first.end };
    for line in lines {
        let Ok(record) = serde_json::from_str(line.json) else { break };
        contents.records.push(record);
        contents.whole_bytes = line.end;
    }
    Ok(contents)
}
