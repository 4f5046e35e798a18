use std::{
    fs::File,
    io::{self, Read, Seek, SeekFrom},
    path::{Path, PathBuf},
    sync::{
        Arc,
        atomic::{AtomicUsize, Ordering},
    },
    time::SystemTime,
};

use crate::footage::{error::OpenError, source_state::SourceState};

/// The chosen file, opened once.
///
/// All readers share the one handle, so that nothing else is ever opened under its name, not even
/// when the file is moved or another one takes its place. Other processes are handed it too, so
/// that nobody may rely on its position.
#[derive(Debug)]
pub(crate) struct Source {
    file: File,
    path: PathBuf,
    length: u64,
    modified: Option<SystemTime>,
    /// Whether the file lies under its name here, so that one may ask what became of it.
    is_named: bool,
}

/// Opens a file that exists and is a regular file.
pub(crate) fn open_clip(path: &Path) -> Result<File, OpenError> {
    let unreadable = |cause| OpenError::unreadable(path, cause);
    // Asked before opening, because opening a pipe would wait for its other end.
    let facts = std::fs::metadata(path).map_err(unreadable)?;
    if !facts.is_file() {
        return Err(OpenError::NotAFile { path: path.to_owned() });
    }
    File::open(path).map_err(unreadable)
}

impl Source {
    /// Opens a file that exists, holds something and is a regular file.
    pub(crate) fn open(path: &Path) -> Result<Arc<Self>, OpenError> {
        Self::of(open_clip(path)?, path, true)
    }

    /// Takes over a file that somebody else opened; its name serves to speak of it and no more.
    pub(crate) fn handed(file: File, path: &Path) -> Result<Arc<Self>, OpenError> {
        Self::of(file, path, false)
    }

    fn of(file: File, path: &Path, is_named: bool) -> Result<Arc<Self>, OpenError> {
        let facts = file.metadata().map_err(|cause| OpenError::unreadable(path, cause))?;
        if facts.len() == 0 {
            return Err(OpenError::Empty { path: path.to_owned() });
        }
        Ok(Arc::new(Self {
            file,
            path: path.to_owned(),
            length: facts.len(),
            modified: facts.modified().ok(),
            is_named,
        }))
    }

    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// Returns the length in bytes when the file was opened.
    pub(crate) fn length(&self) -> u64 {
        self.length
    }

    /// Returns a reader with a position of its own, at the start.
    pub(crate) fn reader(self: &Arc<Self>) -> SourceReader {
        let left = Arc::new(AtomicUsize::new(usize::MAX));
        SourceReader { source: Arc::clone(self), position: 0, left }
    }

    /// Says what became of the file since it was opened.
    pub(crate) fn state(&self) -> SourceState {
        if !self.is_named {
            return SourceState::Same;
        }
        match std::fs::metadata(&self.path) {
            Err(_) => SourceState::Gone,
            Ok(facts) if facts.len() < self.length => SourceState::Shorter,
            Ok(facts) if facts.len() != self.length || facts.modified().ok() != self.modified => {
                SourceState::Changed
            }
            Ok(_) => SourceState::Same,
        }
    }

    /// Returns the open file for another process.
    pub(crate) fn file(&self) -> io::Result<File> {
        self.file.try_clone()
    }

    fn read_at(&self, position: u64, buffer: &mut [u8]) -> io::Result<usize> {
        #[cfg(unix)]
        return std::os::unix::fs::FileExt::read_at(&self.file, buffer, position);
        #[cfg(windows)]
        return std::os::windows::fs::FileExt::seek_read(&self.file, buffer, position);
    }
}

/// Reads a [`Source`] from a position of its own.
#[derive(Debug)]
pub(crate) struct SourceReader {
    source: Arc<Source>,
    position: u64,
    /// Bytes that may still be read.
    left: Arc<AtomicUsize>,
}

/// Holds a reader to so many bytes, wherever in the file, until it is let go.
pub(crate) struct Leash(Arc<AtomicUsize>);

impl Leash {
    /// Lets the reader read on for ever, and returns whether more was asked for than it gave.
    pub(crate) fn let_go(self) -> bool {
        self.0.swap(usize::MAX, Ordering::Relaxed) == 0
    }
}

impl SourceReader {
    /// Lets at most `bytes` be read, until the leash is let go.
    pub(crate) fn leash(&self, bytes: usize) -> Leash {
        self.left.store(bytes, Ordering::Relaxed);
        Leash(Arc::clone(&self.left))
    }
}

impl Read for SourceReader {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let left = self.left.load(Ordering::Relaxed);
        if left < buffer.len() {
            self.left.store(0, Ordering::Relaxed);
            return Err(io::Error::from(io::ErrorKind::FileTooLarge));
        }
        if left < usize::MAX {
            self.left.store(left - buffer.len(), Ordering::Relaxed);
        }
        let read = self.source.read_at(self.position, buffer)?;
        self.position += read as u64;
        Ok(read)
    }
}

impl Seek for SourceReader {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let (base, step) = match to {
            SeekFrom::Start(position) => (position, 0),
            SeekFrom::Current(step) => (self.position, step),
            SeekFrom::End(step) => (self.source.length, step),
        };
        self.position = base
            .checked_add_signed(step)
            .ok_or_else(|| io::Error::from(io::ErrorKind::InvalidInput))?;
        Ok(self.position)
    }
}
