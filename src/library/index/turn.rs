//! One at a time works on the index, and a scan gives way to who must not wait.

use std::{
    fs::{File, TryLockError},
    io,
    ops::ControlFlow,
    path::{Path, PathBuf},
    thread::sleep,
    time::{Duration, Instant},
};

use super::{database::IndexError, progress::ScanProgress};
use crate::{
    library::home::folder::Home,
    store::{open_file, own_file},
};

/// How long to wait for a scan to give way: it looks before every file and every MiB.
const PATIENCE: Duration = Duration::from_secs(10);
const PAUSE: Duration = Duration::from_millis(10);

/// The right to work on the index; given back when it is dropped.
#[derive(Debug)]
pub(crate) struct Turn {
    _lock: File,
}

impl Turn {
    /// Takes the turn of a scan, which waits for nobody.
    pub(crate) fn of_scan(home: &Home) -> Result<Self, IndexError> {
        if is_wanted(home) {
            return Err(IndexError::Busy);
        }
        Self::tried(home)?.ok_or(IndexError::Busy)
    }

    /// Asks a scan that is running to stop, and takes the turn as soon as it has.
    pub(crate) fn now(home: &Home) -> Result<Self, IndexError> {
        let (path, asked) = made(home, ASKED)?;
        asked.lock().map_err(|error| failed(&path, &error))?;
        let since = Instant::now();
        loop {
            if let Some(turn) = Self::tried(home)? {
                return Ok(turn);
            }
            if since.elapsed() > PATIENCE {
                return Err(IndexError::Busy);
            }
            sleep(PAUSE);
        }
    }

    fn tried(home: &Home) -> Result<Option<Self>, IndexError> {
        let (path, file) = made(home, "scan.lock")?;
        match file.try_lock() {
            Ok(()) => Ok(Some(Self { _lock: file })),
            Err(TryLockError::WouldBlock) => Ok(None),
            Err(TryLockError::Error(error)) => Err(failed(&path, &error)),
        }
    }
}

const ASKED: &str = "scan.asked";

/// Returns whether somebody asks the scan that is running to give way.
pub(crate) fn is_wanted(home: &Home) -> bool {
    // A lock that several may share, so that two scans that look do not take each other for one
    // who asks.
    let tried = open_file(&home.path().join(ASKED)).map(|file| file.try_lock_shared());
    matches!(tried, Ok(Err(TryLockError::WouldBlock)))
}

/// Returns one who is told how far a scan is, and stops it also where somebody asks it to give way.
pub(super) fn yielding<'a>(
    home: &'a Home,
    told: &'a mut dyn FnMut(ScanProgress) -> ControlFlow<()>,
) -> impl FnMut(ScanProgress) -> ControlFlow<()> + 'a {
    move |progress| if is_wanted(home) { ControlFlow::Break(()) } else { told(progress) }
}

fn made(home: &Home, name: &str) -> Result<(PathBuf, File), IndexError> {
    let path = home.file(name).map_err(|error| failed(home.path(), &error))?;
    let file = own_file(&path).map_err(|error| failed(&path, &error))?;
    Ok((path, file))
}

fn failed(path: &Path, error: &io::Error) -> IndexError {
    IndexError::Io { path: path.to_owned(), detail: error.to_string() }
}
