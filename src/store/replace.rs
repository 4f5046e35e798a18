use std::{
    ffi::OsStr,
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use tempfile::NamedTempFile;

use super::rights::{Readers, take_over, temporary};

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
    let (target, file) = beside(path, bytes, readers)?;
    if readers == Readers::Folder
        && let Ok(replaced) = fs::metadata(&target)
    {
        take_over(file.as_file(), &replaced);
    }
    file.as_file().sync_all()?;
    let placed = match replace {
        Replacing::Allowed => file.persist(&target),
        Replacing::Never => file.persist_noclobber(&target),
    };
    placed.map(drop).map_err(|error| error.error)
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

/// Returns where the file lies and a temporary one beside it, because only within one folder is
/// renaming one step.
fn beside(path: &Path, bytes: &[u8], readers: Readers) -> io::Result<(PathBuf, NamedTempFile)> {
    // A link is followed, so that it still points to the file afterwards.
    let target = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty());
    let mut file = temporary(folder.unwrap_or(Path::new(".")), OsStr::new(""), readers)?;
    file.write_all(bytes)?;
    Ok((target, file))
}
