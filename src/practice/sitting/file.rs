//! The sitting's file: one line per step, each flushed to the disk before anything else happens.
//!
//! A line is a checksum, a space and the record as JSON, and the first says what is sat. A line
//! whose checksum is wrong ends the file: it is the torn tail of a crash. It is kept aside and cut
//! off.

use std::{
    fs::{self, File, OpenOptions, TryLockError},
    io::{self, Seek as _, SeekFrom, Write as _},
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::record::{Begun, Record};

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

#[derive(Serialize, Deserialize)]
struct Head {
    format: String,
    version: u64,
    begun: Begun,
}

/// A sitting's file open for appending, locked against other windows.
#[derive(Debug)]
pub struct SittingFile {
    path: PathBuf,
    file: File,
}

impl SittingFile {
    /// Begins a new file; one that is there already is an error.
    pub fn create(path: &Path, begun: &Begun) -> Result<Self, SittingError> {
        let failed = |source| SittingError::Io { path: path.to_owned(), source };
        let file = OpenOptions::new()
            .read(true)
            .write(true)
            .create_new(true)
            .open(path)
            .map_err(failed)?;
        let mut sitting = Self { path: path.to_owned(), file };
        sitting.lock()?;
        let head = Head { format: FORMAT.to_owned(), version: VERSION, begun: begun.clone() };
        let json = serde_json::to_string(&head).map_err(|error| failed(error.into()))?;
        sitting.write(&json)?;
        flush_folder(path);
        Ok(sitting)
    }

    /// Opens a file to go on with it, and returns what it holds. A torn tail is kept aside and cut
    /// off.
    pub fn open(path: &Path) -> Result<(Self, Begun, Vec<Record>), SittingError> {
        let failed = |source| SittingError::Io { path: path.to_owned(), source };
        let file = OpenOptions::new().read(true).write(true).open(path).map_err(failed)?;
        let mut sitting = Self { path: path.to_owned(), file };
        sitting.lock()?;
        let bytes = fs::read(path).map_err(failed)?;
        let read = parse(&bytes, path)?;
        if bytes.len() > read.whole_bytes {
            keep_aside(path).map_err(failed)?;
            sitting.file.set_len(read.whole_bytes as u64).map_err(failed)?;
        }
        sitting.file.seek(SeekFrom::End(0)).map_err(failed)?;
        Ok((sitting, read.begun, read.records))
    }

    /// Appends one record and returns when it is on the disk.
    pub fn append(&mut self, record: &Record) -> Result<(), SittingError> {
        let json = serde_json::to_string(record)
            .map_err(|error| SittingError::Io { path: self.path.clone(), source: error.into() })?;
        self.write(&json)
    }

    /// Returns the file's path.
    pub fn path(&self) -> &Path {
        &self.path
    }

    fn lock(&self) -> Result<(), SittingError> {
        let path = self.path.clone();
        match self.file.try_lock() {
            Ok(()) => Ok(()),
            Err(TryLockError::WouldBlock) => Err(SittingError::Busy { path }),
            Err(TryLockError::Error(source)) => Err(SittingError::Io { path, source }),
        }
    }

    fn write(&mut self, json: &str) -> Result<(), SittingError> {
        let path = self.path.clone();
        let failed = |source| SittingError::Io { path, source };
        let end = match self.file.stream_position() {
            Ok(end) => end,
            Err(source) => return Err(failed(source)),
        };
        // One write call, so that a crash leaves either the whole line or a torn tail.
        let line = format!("{} {json}\n", checksum_of(json));
        let written = self.file.write_all(line.as_bytes()).and_then(|()| self.file.sync_data());
        if let Err(source) = written {
            // Half a line would end the file for the next reader: take it back before trying again.
            let _ = self.file.set_len(end);
            let _ = self.file.seek(SeekFrom::Start(end));
            return Err(failed(source));
        }
        Ok(())
    }
}

/// Reads a sitting without going on with it.
pub fn read(path: &Path) -> Result<(Begun, Vec<Record>), SittingError> {
    let bytes =
        fs::read(path).map_err(|source| SittingError::Io { path: path.to_owned(), source })?;
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
    let mut lines = bytes.split_inclusive(|&byte| byte == b'\n');
    let first = lines.next().ok_or_else(malformed)?;
    let json = json_of(first).ok_or_else(malformed)?;
    let told: serde_json::Value = serde_json::from_str(json).map_err(|_| malformed())?;
    if told["format"] == FORMAT && told["version"].as_u64().is_some_and(|found| found > VERSION) {
        return Err(SittingError::Newer { path: path.to_owned() });
    }
    let head: Head = serde_json::from_value(told).map_err(|_| malformed())?;
    if head.format != FORMAT || head.version != VERSION {
        return Err(malformed());
    }
    let mut contents =
        Contents { begun: head.begun, records: Vec::new(), whole_bytes: first.len() };
    for line in lines {
        let Some(record) = json_of(line).and_then(|json| serde_json::from_str(json).ok()) else {
            break;
        };
        contents.records.push(record);
        contents.whole_bytes += line.len();
    }
    Ok(contents)
}

fn json_of(line: &[u8]) -> Option<&str> {
    let text = std::str::from_utf8(line.strip_suffix(b"\n")?).ok()?;
    let (checksum, json) = text.split_once(' ')?;
    (checksum == checksum_of(json)).then_some(json)
}

fn checksum_of(json: &str) -> String {
    blake3::hash(json.as_bytes()).to_hex()[..16].to_owned()
}

/// Copies the file to a name of its own, because nothing that a person entered is lost.
fn keep_aside(path: &Path) -> io::Result<()> {
    let mut number = 1;
    let mut aside = path.with_extension(format!("torn-{number}"));
    while aside.exists() {
        number += 1;
        aside = path.with_extension(format!("torn-{number}"));
    }
    fs::copy(path, aside).map(|_| ())
}

/// Flushes the folder's entry of a new file, where the system knows such a thing.
fn flush_folder(path: &Path) {
    #[cfg(unix)]
    {
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        if let Ok(folder) = File::open(folder.unwrap_or(Path::new("."))) {
            let _ = folder.sync_all();
        }
    }
    #[cfg(not(unix))]
    let _ = path;
}
