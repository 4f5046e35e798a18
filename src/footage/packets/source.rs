use std::{
    fs::File,
    io::{self, Read, Seek, SeekFrom},
    path::{Path, PathBuf},
    sync::{
        Arc, OnceLock,
        atomic::{AtomicU64, AtomicUsize, Ordering},
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
    zeros: OnceLock<u64>,
}

/// Bytes looked at together for zeros.
const PIECE: usize = 1 << 20;
/// Bytes looked at first, which nearly always say that there are none.
const LAST: usize = 1 << 9;

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
            zeros: OnceLock::new(),
        }))
    }

    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// Returns the length in bytes when the file was opened.
    pub(crate) fn length(&self) -> u64 {
        self.length
    }

    /// Returns how many zeros the file ends with; reads them all, the first time.
    pub(crate) fn zeros_at_end(&self) -> u64 {
        *self.zeros.get_or_init(|| self.length - self.end_of_data())
    }

    /// Returns the place behind the last byte that is not zero; the end, where that cannot be read.
    fn end_of_data(&self) -> u64 {
        let (zeros, mut read) = (vec![0; PIECE], vec![0; PIECE]);
        let (mut end, mut most) = (self.length, LAST);
        while end > 0 {
            let length = usize::try_from(end).map_or(most, |left| left.min(most));
            let (begin, piece) = (end - length as u64, &mut read[..length]);
            if self.read_exactly_at(begin, piece).is_err() {
                return self.length;
            }
            if *piece != zeros[..length] {
                let last = piece.iter().rposition(|&byte| byte != 0).unwrap_or(0);
                return begin + last as u64 + 1;
            }
            (end, most) = (begin, PIECE);
        }
        0
    }

    /// Returns a reader with a position of its own, at the start.
    pub(crate) fn reader(self: &Arc<Self>) -> SourceReader {
        let left = Arc::new(AtomicUsize::new(usize::MAX));
        let end = Arc::new(AtomicU64::new(u64::MAX));
        SourceReader { source: Arc::clone(self), position: 0, left, end }
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

    fn read_exactly_at(&self, mut position: u64, mut buffer: &mut [u8]) -> io::Result<()> {
        while !buffer.is_empty() {
            match self.read_at(position, buffer) {
                Ok(0) => return Err(io::ErrorKind::UnexpectedEof.into()),
                Ok(read) => {
                    position += read as u64;
                    buffer = &mut buffer[read..];
                }
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
        Ok(())
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
    /// The byte before which the file ends for it.
    end: Arc<AtomicU64>,
}

/// Lets a file end earlier for a reader.
pub(crate) struct End(Arc<AtomicU64>);

impl End {
    pub(crate) fn set(self, end: u64) {
        self.0.store(end, Ordering::Relaxed);
    }
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

    /// Returns what can let the file end earlier.
    pub(crate) fn end(&self) -> End {
        End(Arc::clone(&self.end))
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
        let rest = self.end.load(Ordering::Relaxed).saturating_sub(self.position);
        let most = usize::try_from(rest).map_or(buffer.len(), |rest| rest.min(buffer.len()));
        let read = self.source.read_at(self.position, &mut buffer[..most])?;
        self.position += read as u64;
        Ok(read)
    }
}

impl Seek for SourceReader {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        let (base, step) = match to {
            SeekFrom::Start(position) => (position, 0),
            SeekFrom::Current(step) => (self.position, step),
            SeekFrom::End(step) => (self.end.load(Ordering::Relaxed).min(self.source.length), step),
        };
        self.position = base
            .checked_add_signed(step)
            .ok_or_else(|| io::Error::from(io::ErrorKind::InvalidInput))?;
        Ok(self.position)
    }
}
