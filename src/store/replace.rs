use std::{
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use super::{
    rights::{Readers, take_over},
    unfinished::Unfinished,
};

/// What to do with a file that is there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Replacing {
    /// Replacing it.
    Allowed,
    /// Leave it and fail.
    Never,
}

/// Writes a file as a whole: temporary file beside it, flushed to the disk, then renamed.
pub fn replace_file(path: &Path, bytes: &[u8], replace: Replacing) -> io::Result<()> {
    place_file(path, bytes, replace, Readers::Folder)
}

/// Writes a file as a whole that nobody but this user may read.
pub fn replace_private(path: &Path, bytes: &[u8]) -> io::Result<()> {
    place_file(path, bytes, Replacing::Allowed, Readers::User)
}

pub(super) fn place_file(
    path: &Path,
    bytes: &[u8],
    replace: Replacing,
    readers: Readers,
) -> io::Result<()> {
    // A link is followed, so that it still points to the file afterwards.
    let target = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let unfinished = Unfinished::beside(&target)?;
    let mut file = unfinished.create(readers)?;
    file.write_all(bytes)?;
    if readers == Readers::Folder
        && let Ok(replaced) = fs::metadata(&target)
    {
        take_over(&file, &replaced);
    }
    file.sync_all()?;
    unfinished.put(&target, replace == Replacing::Allowed)
}

/// Returns a name beside a file that is not taken, under which something is kept aside.
pub fn free_beside(path: &Path, why: &str) -> PathBuf {
    let mut number = 1;
    loop {
        let aside = path.with_extension(format!("{why}-{number}"));
        if !aside.exists() {
            return aside;
        }
        number += 1;
    }
}
