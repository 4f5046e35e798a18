use std::{
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use tempfile::NamedTempFile;

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
    let (target, file) = beside(path, bytes)?;
    keep_permissions(&target, file.as_file());
    file.as_file().sync_all()?;
    let placed = match replace {
        Replacing::Allowed => file.persist(&target),
        Replacing::Never => file.persist_noclobber(&target),
    };
    placed.map(drop).map_err(|error| error.error)
}

/// Writes a file as a whole that nobody but this user may read.
pub fn replace_private(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let (target, file) = beside(path, bytes)?;
    file.as_file().sync_all()?;
    file.persist(target).map(drop).map_err(|error| error.error)
}

/// Returns where the file lies and a temporary one beside it, because only within one folder is
/// renaming one step.
fn beside(path: &Path, bytes: &[u8]) -> io::Result<(PathBuf, NamedTempFile)> {
    // A link is followed, so that it still points to the file afterwards.
    let target = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new("."));
    let mut file = tempfile::Builder::new().prefix(".stillcall-").tempfile_in(folder)?;
    file.write_all(bytes)?;
    Ok((target, file))
}

/// Gives the new file the rights of the one it replaces, or a usual file's: a temporary file is
/// readable by its owner only, which would lock the others of a shared folder out.
fn keep_permissions(target: &Path, file: &fs::File) {
    if let Ok(old) = fs::metadata(target) {
        // Some shares refuse; what is written matters more than the rights.
        let _ = file.set_permissions(old.permissions());
        return;
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let _ = file.set_permissions(fs::Permissions::from_mode(0o644));
    }
}
