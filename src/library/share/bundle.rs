//! One file for another club: marks, records, rule books and, where it may be, clips, with a list
//! of hashes.

use std::{
    collections::BTreeMap,
    fs::File,
    io::{self, Read, Write as _},
    path::{Path, PathBuf},
};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use zip::{CompressionMethod, ZipWriter, write::SimpleFileOptions};

use crate::{
    library::consent::{
        ask::{Refused, today},
        sidecar_file::SidecarError,
    },
    marks::{self, StateFolder},
    units,
};

use super::outgoing::{Content, Outgoing, WithClips};

pub(crate) const FORMAT: &str = "stillcall bundle";
pub(crate) const VERSION: u64 = 1;

/// The list that comes first in a bundle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Manifest {
    /// What it is.
    pub format: String,
    /// Version of the format.
    pub version: u64,
    /// Day on which it was made.
    pub made: Date,
    /// Everything in it.
    pub files: Vec<Listed>,
}

/// One file of a bundle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Listed {
    /// Name in the bundle: `files/NAME` or `editions/NAME`.
    pub name: String,
    /// Length in bytes.
    pub bytes: u64,
    /// BLAKE3 hash in hex.
    pub hash: String,
}

/// Why a bundle could not be made.
#[derive(Debug, thiserror::Error)]
pub enum BundleError {
    /// There was nothing to put in.
    #[error(
        "nothing to put into the bundle; look at what `stillcall library find` says to the same words"
    )]
    Empty,
    /// A marks file or record could not be read.
    #[error(transparent)]
    Marks(#[from] marks::FileError),
    /// A record could not be read.
    #[error(transparent)]
    Sidecar(#[from] SidecarError),
    /// A clip could not be copied.
    #[error("{clip}: {detail}. Nothing was handed out")]
    Clip {
        /// The clip.
        clip: PathBuf,
        /// What went wrong.
        detail: String,
    },
    /// The bundle could not be written.
    #[error(
        "cannot write {path}: {detail}. Nothing was handed out; check the folder and the free space"
    )]
    Unwritable {
        /// The bundle.
        path: PathBuf,
        /// What went wrong.
        detail: String,
    },
}

/// What went into a bundle.
#[derive(Debug, Default)]
pub struct Bundled {
    /// How many marks files.
    pub marks: usize,
    /// How many records of clips.
    pub records: usize,
    /// How many clips.
    pub clips: usize,
    /// Clips that stayed behind, with the reasons; their marks went all the same.
    pub stayed: Vec<Refused>,
    /// Codes of the athletes, sorted.
    pub athletes: Vec<String>,
    /// BLAKE3 hash of the bundle.
    pub hash: String,
}

/// Writes the marks files with the records of their clips and the editions they were scored under
/// into one bundle, and the clips too where `clips` asks for them and their records allow it.
///
/// Names of files become hashes, and what was noted of camera and place stays behind.
pub fn export(
    marks_files: &[PathBuf],
    clips: Option<&WithClips<'_>>,
    state: Option<&StateFolder>,
    out: &Path,
) -> Result<Bundled, BundleError> {
    let unwritable = |detail: String| BundleError::Unwritable { path: out.to_owned(), detail };
    let said = |error: io::Error| unwritable(error.to_string());
    let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new("."));
    // Copies of clips may be large, so that they lie where the bundle will.
    let copies = tempfile::Builder::new().prefix(".stillcall-").tempdir_in(folder).map_err(said)?;
    let mut going = Outgoing::new(state, clips, copies.path());
    for path in marks_files {
        going.take(path)?;
    }
    let (files, mut done) = going.finish();
    if done.marks == 0 {
        return Err(BundleError::Empty);
    }
    let mut file =
        tempfile::Builder::new().prefix(".stillcall-").tempfile_in(folder).map_err(said)?;
    write(file.as_file_mut(), &files).map_err(said)?;
    file.as_file().sync_all().map_err(said)?;
    file.persist_noclobber(out).map_err(|error| unwritable(error.error.to_string()))?;
    done.hash =
        File::open(out).and_then(|mut file| units::content_hash(&mut file)).map_err(said)?;
    Ok(done)
}

fn write(out: &mut File, files: &BTreeMap<String, Content>) -> io::Result<()> {
    let listed = files.iter().map(|(name, content)| {
        let (bytes, hash) = match content {
            Content::Text(text) => (text.len() as u64, blake3::hash(text).to_hex().to_string()),
            Content::Clip(path) => {
                let mut file = File::open(path)?;
                (file.metadata()?.len(), units::content_hash(&mut file)?)
            }
        };
        Ok(Listed { name: name.clone(), bytes, hash })
    });
    let manifest = Manifest {
        format: FORMAT.to_owned(),
        version: VERSION,
        made: today(),
        files: listed.collect::<io::Result<_>>()?,
    };
    let packed = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    // A clip cannot be packed any closer; stored as it is, nobody can claim that it unpacks to more.
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut archive = ZipWriter::new(out);
    archive.start_file("manifest.json", packed)?;
    archive.write_all(serde_json::to_string_pretty(&manifest)?.as_bytes())?;
    for (name, content) in files {
        match content {
            Content::Text(text) => {
                archive.start_file(name.as_str(), packed)?;
                archive.write_all(text)?;
            }
            Content::Clip(path) => {
                archive.start_file(name.as_str(), stored.large_file(true))?;
                io::copy(&mut File::open(path)?, &mut archive)?;
            }
        }
    }
    archive.finish()?;
    Ok(())
}

/// Returns whether a name ends in a full stop and `ending`, written in small letters.
pub(crate) fn has_ending(name: &str, ending: &str) -> bool {
    Path::new(name).extension().is_some_and(|it| it == ending)
}

/// Reads at most `most` bytes; more is an error.
pub(crate) fn read_at_most(reader: &mut impl Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    reader.take(most + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > most {
        return Err(io::Error::new(io::ErrorKind::FileTooLarge, "it is larger than it may be"));
    }
    Ok(bytes)
}
