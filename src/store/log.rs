use std::{
    fs::{self, File, OpenOptions, TryLockError},
    io::{self, Read as _, Seek as _, SeekFrom, Write as _},
    path::{Path, PathBuf},
};

use serde::Serialize;

use super::{
    held_at::lies_at,
    lines::checksum_of,
    reading::about_to_read,
    replace::free_beside,
    rights::{Readers, own_folder},
    unfinished::Unfinished,
};

/// A file that grows by one line for each thing that happened.
#[derive(Debug)]
pub struct Log {
    path: PathBuf,
    file: File,
    keeping: Keeping,
    /// Where the last whole line ends, as far as this program wrote or cut it; unknown as long as
    /// it did neither, and where others write too.
    end: Option<u64>,
}

/// How a log is kept.
#[derive(Clone, Copy, Debug)]
pub struct Keeping {
    /// Whether each line begins with its checksum. Where it does, a torn end is copied to a file of
    /// its own and cut off, see [`Log::keep_whole`]; where not, it stays, and the next line begins
    /// behind it.
    pub checked: bool,
    /// What keeps two programs apart.
    pub lock: Lock,
    /// Whether a line is on the disk when it counts as written, or only with the system.
    pub synced: bool,
    /// Who may read it, where it is begun here.
    pub readers: Readers,
}

/// What keeps two programs apart that use the same log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lock {
    /// Held as long as the log is open; who comes second is told.
    Refused,
    /// Held as long as the log is open; who comes second waits.
    Waited,
    /// Held while a line is written.
    EachLine,
}

/// What is done where there is no such file yet, or one already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Begin {
    /// It is begun, with its folder, where there is none.
    Either,
    /// One that is there already is an error.
    New,
    /// One that is not there is an error.
    Existing,
}

/// Why a log could not be kept.
#[derive(Debug, thiserror::Error)]
pub enum LogError {
    /// Another program has it open.
    #[error("{path} is in use in another window. Close it there first")]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// The disk is full, read-only or gone.
    #[error("cannot keep {path}: {source}. Free some space or check the folder")]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// How often a log is opened anew because another one lies in its place by now.
const MOST_TRIES: u32 = 1_000;

impl Log {
    /// Opens a log.
    pub fn open(path: &Path, begin: Begin, keeping: Keeping) -> Result<Self, LogError> {
        about_to_read(path);
        let failed = |source| LogError::Io { path: path.to_owned(), source };
        let mut options = OpenOptions::new();
        options.read(true).write(true);
        match begin {
            Begin::Either => options.create(true).truncate(false),
            Begin::New => options.create_new(true),
            Begin::Existing => &mut options,
        };
        if let (Begin::Either, Some(folder)) = (begin, path.parent()) {
            own_folder(folder).map_err(failed)?;
        }
        keeping.readers.of_new(&mut options);
        let mut tries = 0;
        let file = loop {
            let file = options.open(path).map_err(failed)?;
            match keeping.lock {
                Lock::Refused => match file.try_lock() {
                    Ok(()) => {}
                    Err(TryLockError::WouldBlock) => {
                        return Err(LogError::Busy { path: path.to_owned() });
                    }
                    Err(TryLockError::Error(source)) => return Err(failed(source)),
                },
                Lock::Waited => file.lock().map_err(failed)?,
                Lock::EachLine => break file,
            }
            // Whoever was waited for may have put another file in its place, or taken it away. Some
            // shares number their files anew each time, so that nobody can tell.
            tries += 1;
            if tries == MOST_TRIES || lies_at(&file, path).map_err(failed)? {
                break file;
            }
        };
        if keeping.synced && file.metadata().map_err(failed)?.len() == 0 {
            flush_folder(path);
        }
        Ok(Self { path: path.to_owned(), file, keeping, end: None })
    }

    /// Returns its path.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Returns all that it holds.
    pub fn bytes(&mut self) -> Result<Vec<u8>, LogError> {
        let mut bytes = Vec::new();
        let read = self.file.rewind().and_then(|()| self.file.read_to_end(&mut bytes));
        self.told(read)?;
        Ok(bytes)
    }

    /// Appends a line and returns its checksum. Where that fails, nothing of it stays; where not
    /// even that can be had, nothing is appended until what stayed is taken off.
    pub fn append(&mut self, record: &impl Serialize) -> Result<String, LogError> {
        let json = serde_json::to_string(record).map_err(io::Error::from);
        let json = self.told(json)?;
        let is_alone = match self.keeping.lock {
            Lock::EachLine => self.file.lock(),
            _ => Ok(()),
        };
        self.told(is_alone)?;
        let written = self.write_line(&json);
        if self.keeping.lock == Lock::EachLine {
            // The system lets go of it with the file at the latest.
            let _ = self.file.unlock();
        }
        self.told(written)?;
        Ok(checksum_of(&json))
    }

    /// Cuts off what follows the first `whole` bytes, after keeping a copy of the file aside,
    /// because nothing that a person entered is lost. Returns the copy, where there was anything.
    pub fn keep_whole(&mut self, whole: usize) -> Result<Option<PathBuf>, LogError> {
        self.cut(whole as u64, "torn")
    }

    /// Empties the log, after keeping a copy of it aside under `why`. Returns the copy, where there
    /// was anything.
    pub fn begin_anew(&mut self, why: &str) -> Result<Option<PathBuf>, LogError> {
        self.cut(0, why)
    }

    /// Puts other lines in the place of all, in a log without checksums that is locked as long as it
    /// is open. A crash leaves the old lines or the new ones.
    pub fn replace(&mut self, records: &[impl Serialize]) -> Result<(), LogError> {
        let written = self.write_anew(records);
        self.told(written)
    }

    fn write_anew(&mut self, records: &[impl Serialize]) -> io::Result<()> {
        let mut text = String::new();
        for record in records {
            text += &(serde_json::to_string(record)? + "\n");
        }
        // A link is followed, so that it still points to the file afterwards.
        let target = self.path.canonicalize()?;
        let unfinished = Unfinished::beside(&target)?;
        let mut file = unfinished.create(self.keeping.readers)?;
        // Before it is there: whoever waits for the old one looks for this one next.
        file.lock()?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
        unfinished.put(&target, true)?;
        self.file = file;
        self.end = Some(text.len() as u64);
        Ok(())
    }

    fn write_line(&mut self, json: &str) -> io::Result<()> {
        let end = self.whole_end()?;
        let line = if self.keeping.checked {
            format!("{} {json}\n", checksum_of(json))
        } else if self.is_torn(end)? {
            // What a crash cut short ends here, so that it spoils no other line.
            format!("\n{json}\n")
        } else {
            format!("{json}\n")
        };
        // One write call, so that a crash leaves either the whole line or a torn end.
        let written = self.file.write_all(line.as_bytes());
        let written =
            written.and_then(|()| if self.keeping.synced { self.file.sync_data() } else { Ok(()) });
        if written.is_err() {
            // Half a line would end the log for the next reader. Where it cannot be taken off now,
            // the next line tries again.
            let _ = self.file.set_len(end);
        }
        if self.keeping.lock != Lock::EachLine {
            self.end = Some(if written.is_ok() { end + line.len() as u64 } else { end });
        }
        written
    }

    fn cut(&mut self, whole: u64, why: &str) -> Result<Option<PathBuf>, LogError> {
        let cut = self.file.metadata().and_then(|facts| {
            let aside = if facts.len() > whole { Some(self.keep_aside(why)?) } else { None };
            if aside.is_some() {
                self.file.set_len(whole)?;
            }
            Ok(aside)
        });
        self.end = cut.as_ref().ok().map(|_| whole);
        self.told(cut)
    }

    /// Goes to the end of the last whole line, and takes off what follows it: of a log that nobody
    /// else writes, that is what an earlier line left which was cut short.
    fn whole_end(&mut self) -> io::Result<u64> {
        let end = self.file.seek(SeekFrom::End(0))?;
        match self.end {
            Some(whole) if whole < end => {
                self.file.set_len(whole)?;
                self.file.seek(SeekFrom::Start(whole))
            }
            _ => Ok(end),
        }
    }

    /// Returns whether the last line has no end.
    fn is_torn(&mut self, end: u64) -> io::Result<bool> {
        let Some(last) = end.checked_sub(1) else { return Ok(false) };
        let mut byte = [0];
        self.file.seek(SeekFrom::Start(last))?;
        self.file.read_exact(&mut byte)?;
        Ok(byte != *b"\n")
    }

    fn keep_aside(&self, why: &str) -> io::Result<PathBuf> {
        let unfinished = Unfinished::beside(&self.path)?;
        fs::copy(&self.path, unfinished.place())?;
        let aside = free_beside(&self.path, why);
        unfinished.put(&aside, false)?;
        Ok(aside)
    }

    fn told<T>(&self, result: io::Result<T>) -> Result<T, LogError> {
        result.map_err(|source| LogError::Io { path: self.path.clone(), source })
    }
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
