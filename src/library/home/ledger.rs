//! What was made, handed out and deleted: one line of JSON each, in the library's own folder.

use std::{
    fs::{File, OpenOptions},
    io::{self, Read as _, Seek as _, Write as _},
    marker::PhantomData,
    path::PathBuf,
};

use jiff::civil::Date;
use serde::{Deserialize, Serialize, de::DeserializeOwned};

use super::folder::Home;

/// A file that the program made from a clip or its marks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Made {
    /// Where it was written, absolute.
    pub path: PathBuf,
    /// Quick id of the clip; empty for a planned routine.
    pub clip: String,
    /// Code of the athlete.
    pub athlete: String,
    /// Day.
    pub on: Date,
}

/// A bundle that was handed out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedOut {
    /// Where it was written, absolute.
    pub path: PathBuf,
    /// BLAKE3 hash of the whole bundle.
    pub hash: String,
    /// For whom, in the words of who made it.
    pub to: String,
    /// Whether clips are in it.
    pub pictures: bool,
    /// Codes of the athletes in it who have not withdrawn.
    pub athletes: Vec<String>,
    /// How many of those in it have withdrawn since.
    #[serde(default)]
    pub withdrawn: u32,
    /// Day.
    pub on: Date,
}

/// A deletion. It names nobody who is filmed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Deletion {
    /// Day.
    pub on: Date,
    /// Who deleted, by role or code.
    pub by: String,
    /// Who witnessed it.
    pub witness: String,
    /// Why: `deleted` or `consent withdrawn`.
    pub why: String,
    /// Quick ids of the clips.
    pub clips: Vec<String>,
    /// How many files went.
    pub files: usize,
    /// Whether marks and numbers were kept.
    pub kept_marks: bool,
}

/// A list of such lines; changed by one process at a time.
#[derive(Debug)]
pub struct Ledger<T> {
    file: File,
    kind: PhantomData<T>,
}

/// A kind of line, and the file in which it is kept.
pub trait Entry: Serialize + DeserializeOwned {
    /// Name of the file.
    const FILE: &'static str;
}

impl Entry for Made {
    const FILE: &'static str = "made.jsonl";
}

impl Entry for HandedOut {
    const FILE: &'static str = "handed-out.jsonl";
}

impl Entry for Deletion {
    const FILE: &'static str = "deletions.jsonl";
}

impl<T: Entry> Ledger<T> {
    /// Opens the list and waits for whoever is changing it.
    pub fn open(home: &Home) -> io::Result<Self> {
        let path = home.file(T::FILE)?;
        let file =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path)?;
        file.lock()?;
        Ok(Self { file, kind: PhantomData })
    }

    /// Returns the lines; one that a crash cut short is passed over.
    pub fn lines(&mut self) -> io::Result<Vec<T>> {
        let mut bytes = Vec::new();
        self.file.rewind()?;
        self.file.read_to_end(&mut bytes)?;
        let lines = bytes.split(|&byte| byte == b'\n');
        Ok(lines.filter_map(|line| serde_json::from_slice(line).ok()).collect())
    }

    /// Adds a line.
    pub fn add(&mut self, line: &T) -> io::Result<()> {
        let end = self.file.seek(io::SeekFrom::End(0))?;
        let mut text = serde_json::to_string(line)? + "\n";
        if end > 0 {
            // What a crash cut short ends here, so that it spoils no other line.
            text.insert(0, '\n');
        }
        self.file.write_all(text.as_bytes())?;
        self.file.sync_all()
    }

    /// Puts other lines in the place of all.
    ///
    /// In the same file, because one beside it would keep what is to be forgotten.
    pub fn replace(&mut self, lines: &[T]) -> io::Result<()> {
        let mut text = String::new();
        for line in lines {
            text += &(serde_json::to_string(line)? + "\n");
        }
        self.file.rewind()?;
        self.file.write_all(text.as_bytes())?;
        self.file.set_len(text.len() as u64)?;
        self.file.sync_all()
    }
}
