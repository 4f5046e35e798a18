//! Locks are of a file and not of its name, which may lead to another one by now.

use std::{
    fs::{File, TryLockError},
    io,
    path::Path,
};

use same_file::Handle;

use super::reading::about_to_read;

/// Returns whether somebody holds the lock of the file; one that cannot be opened nobody does.
pub fn is_in_use(path: &Path) -> bool {
    about_to_read(path);
    let tried = File::open(path).map(|file| file.try_lock());
    matches!(tried, Ok(Err(TryLockError::WouldBlock)))
}

/// Returns whether the name still leads to the open file. Who waited for its lock may hold that of
/// one which was replaced meanwhile.
pub(super) fn lies_at(file: &File, path: &Path) -> io::Result<bool> {
    let there = match Handle::from_path(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
        there => there?,
    };
    Ok(Handle::from_file(file.try_clone()?)? == there)
}
