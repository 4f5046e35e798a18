//! The answers of one person from day to day, a line for each; the only file of this part that
//! touches the disk.

use std::{
    fs::{self, File, OpenOptions},
    io::{self, Read as _, Seek as _, SeekFrom, Write as _},
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::trainer::Tried;

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
pub struct Diary {
    file: File,
}

impl Diary {
    /// Opens the diary of a person's code in the folder, and returns what it holds; one that is
    /// not there is begun. Lines that cannot be read are passed over and stay as they are.
    ///
    /// # Errors
    ///
    /// Fails where the folder or the file cannot be written.
    pub fn open(folder: &Path, code: &str) -> io::Result<(Self, Vec<Noted>)> {
        fs::create_dir_all(folder)?;
        let path = path(folder, code);
        let mut file = OpenOptions::new().read(true).append(true).create(true).open(path)?;
        let mut text = String::new();
        // What is no text at all is no diary; adding to it would hide that.
        file.read_to_string(&mut text)?;
        if !text.is_empty() && !text.ends_with('\n') {
            // The last line was torn by a crash: what comes next must not hang on to it.
            file.write_all(b"\n")?;
        }
        let noted = text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect();
        Ok((Self { file }, noted))
    }

    /// Writes an answer down and returns when it is on the disk.
    ///
    /// # Errors
    ///
    /// Fails where the disk takes nothing; then nothing of it stays in the file.
    pub fn note(&mut self, noted: &Noted) -> io::Result<()> {
        let end = self.file.seek(SeekFrom::End(0))?;
        let line = serde_json::to_string(noted)? + "\n";
        let written = self.file.write_all(line.as_bytes()).and_then(|()| self.file.sync_data());
        if written.is_err() {
            // Half a line is worth nothing; where it cannot be taken back, reading passes it over.
            let _ = self.file.set_len(end);
        }
        written
    }
}

/// Returns where a person's diary lies.
fn path(folder: &Path, code: &str) -> PathBuf {
    let plain = |c: char| if c.is_alphanumeric() || c == '_' { c } else { '-' };
    let code: String = code.chars().map(plain).collect();
    folder.join(format!("{code}.eye"))
}
