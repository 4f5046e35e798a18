use std::{
    fs, io,
    io::BufWriter,
    path::{Path, PathBuf},
};

use image::ImageFormat;

use crate::{
    footage::{DecodeError, Decoder, Footage},
    units::Orientation,
};

/// Why a still could not be written.
#[derive(Debug, thiserror::Error)]
pub enum StillError {
    /// The frame could not be had.
    #[error(transparent)]
    Decode(#[from] DecodeError),
    /// The target exists and is no file.
    #[error("{}: is not a file, so no picture is written there; give another name", .path.display())]
    NotAFile {
        /// The target.
        path: PathBuf,
    },
    /// The clip would overwrite itself.
    #[error("{}: is the clip itself; give another name for the picture", .path.display())]
    Clip {
        /// The target.
        path: PathBuf,
    },
    /// The system refused.
    #[error("{}: cannot be written ({cause}); check the folder and the free space", .path.display())]
    Unwritable {
        /// The target.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
}

/// Writes frame `k` as a PNG: upright, square pixels, right colours, full resolution; turned
/// otherwise than its file says where `turn` is given.
///
/// The file appears whole or not at all; an older picture of that name is replaced.
pub fn still(
    footage: &Footage,
    k: usize,
    turn: Option<Orientation>,
    out: &Path,
) -> Result<(), StillError> {
    check(footage, out)?;
    let picture = Decoder::new(footage, 1).picture(k)?;
    let image = image::DynamicImage::from(picture.to_rgba_turned(turn)).into_rgb8();
    let unwritable = |cause| StillError::Unwritable { path: out.to_owned(), cause };
    // A file beside the target, because only within one folder is renaming one step.
    let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty());
    let mut file =
        tempfile::NamedTempFile::new_in(folder.unwrap_or(Path::new("."))).map_err(unwritable)?;
    image
        .write_to(&mut BufWriter::new(&mut file), ImageFormat::Png)
        .map_err(|error| unwritable(io::Error::other(error)))?;
    allow_reading(&file).map_err(unwritable)?;
    file.as_file().sync_all().map_err(unwritable)?;
    file.persist(out).map_err(|error| unwritable(error.error))?;
    Ok(())
}

fn check(footage: &Footage, out: &Path) -> Result<(), StillError> {
    let path = || out.to_owned();
    if out.file_name().is_none() {
        return Err(StillError::NotAFile { path: path() });
    }
    match fs::metadata(out) {
        Ok(facts) if !facts.is_file() => return Err(StillError::NotAFile { path: path() }),
        Ok(_) => {}
        Err(_) => return Ok(()),
    }
    match (fs::canonicalize(out), fs::canonicalize(footage.path())) {
        (Ok(target), Ok(clip)) if target == clip => Err(StillError::Clip { path: path() }),
        _ => Ok(()),
    }
}

/// Gives the picture the rights of an ordinary new file; a temporary one is private.
#[cfg(unix)]
fn allow_reading(file: &tempfile::NamedTempFile) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.as_file().set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn allow_reading(_: &tempfile::NamedTempFile) -> io::Result<()> {
    Ok(())
}
