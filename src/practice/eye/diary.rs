//! The answers of one person from day to day, a line for each; the only file of this part that
//! touches the disk.

use std::{
    io,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::trainer::Tried;
use crate::store::{Begin, Keeping, Lock, Log, LogError, Readers, plain_lines};

/// Two windows may train the same person: only their lines must not run into each other.
const KEEPING: Keeping =
    Keeping { checked: false, lock: Lock::EachLine, synced: true, readers: Readers::User };

/// An answer and its day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Noted {
    /// The day, `2026-11-24`.
    pub date: String,
    /// What was drawn and answered.
    #[serde(flatten)]
    pub tried: Tried,
}

/// A diary open for writing.
#[derive(Debug)]
pub struct Diary(Log);

impl Diary {
    /// Opens the diary of a person's code in the folder, and returns what it holds; one that is
    /// not there is begun. Lines that cannot be read are passed over and stay as they are.
    ///
    /// # Errors
    ///
    /// Fails where the folder or the file cannot be written.
    pub fn open(folder: &Path, code: &str) -> Result<(Self, Vec<Noted>), LogError> {
        let path = path(folder, code);
        let mut log = Log::open(&path, Begin::Either, KEEPING)?;
        let bytes = log.bytes()?;
        if std::str::from_utf8(&bytes).is_err() {
            // What is no text at all is no diary; adding to it would hide that.
            return Err(LogError::Io { path, source: io::ErrorKind::InvalidData.into() });
        }
        Ok((Self(log), plain_lines(&bytes)))
    }

    /// Writes an answer down and returns when it is on the disk.
    ///
    /// # Errors
    ///
    /// Fails where the disk takes nothing; then nothing of it stays in the file.
    pub fn note(&mut self, noted: &Noted) -> Result<(), LogError> {
        self.0.append(noted)?;
        Ok(())
    }
}

/// Returns where a person's diary lies.
fn path(folder: &Path, code: &str) -> PathBuf {
    let plain = |c: char| if c.is_alphanumeric() || c == '_' { c } else { '-' };
    let code: String = code.chars().map(plain).collect();
    folder.join(format!("{code}.eye"))
}
