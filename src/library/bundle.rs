//! One file for another club: marks, records and rule books, with a list of hashes.

use std::{
    collections::BTreeMap,
    fs::{self, File},
    io::{self, Read, Write as _},
    path::{Path, PathBuf},
};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use zip::{CompressionMethod, ZipWriter, write::SimpleFileOptions};

use super::{
    ask::today,
    file::{self, SidecarFile, sidecar_path},
};
use crate::marks::{self, StateFolder, file::Stored};

pub(super) const FORMAT: &str = "stillcall bundle";
pub(super) const VERSION: u64 = 1;

/// The list that comes first in a bundle.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
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
    Sidecar(#[from] super::SidecarError),
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
    /// Codes of the athletes, sorted.
    pub athletes: Vec<String>,
    /// BLAKE3 hash of the bundle.
    pub hash: String,
}

/// Writes the marks files with the records of their clips and the editions they were scored under
/// into one bundle.
///
/// Names of files become hashes, what was noted of camera and place stays behind, and there are no
/// pictures in it.
pub fn export(
    marks_files: &[PathBuf],
    state: Option<&StateFolder>,
    out: &Path,
) -> Result<Bundled, BundleError> {
    let mut done = Bundled::default();
    let files = gather(marks_files, state, &mut done)?;
    if done.marks == 0 {
        return Err(BundleError::Empty);
    }
    let unwritable = |detail: String| BundleError::Unwritable { path: out.to_owned(), detail };
    let folder = out.parent().filter(|folder| !folder.as_os_str().is_empty());
    let mut file = tempfile::Builder::new()
        .prefix(".stillcall-")
        .tempfile_in(folder.unwrap_or(Path::new(".")))
        .map_err(|error| unwritable(error.to_string()))?;
    write(file.as_file_mut(), &files).map_err(|error| unwritable(error.to_string()))?;
    file.as_file().sync_all().map_err(|error| unwritable(error.to_string()))?;
    let written = file.persist_noclobber(out).map_err(|error| unwritable(error.error.to_string()));
    written?;
    done.hash = File::open(out)
        .and_then(|mut file| crate::units::content_hash(&mut file))
        .map_err(|error| unwritable(error.to_string()))?;
    Ok(done)
}

/// Returns the files of a bundle by name.
fn gather(
    marks_files: &[PathBuf],
    state: Option<&StateFolder>,
    done: &mut Bundled,
) -> Result<BTreeMap<String, Vec<u8>>, BundleError> {
    let mut files = BTreeMap::new();
    for path in marks_files {
        let (name, stored) = without_names(path, state)?;
        let routine = &stored.sheaf.routine;
        done.athletes.push(routine.athlete.clone());
        for (name, text) in editions(state, &routine.book_hash) {
            files.insert(format!("editions/{name}"), text);
        }
        if let Some(of) = &stored.sheaf.clip
            && let Some((record, athletes)) = record(path, &of.quick_id)?
        {
            done.records += usize::from(
                files.insert(format!("files/{}.clip.json", of.quick_id), record).is_none(),
            );
            done.athletes.extend(athletes);
        }
        let text = marks::file::text(&stored).into_bytes();
        done.marks += usize::from(files.insert(format!("files/{name}"), text).is_none());
    }
    done.athletes.retain(|code| !code.is_empty());
    done.athletes.sort();
    done.athletes.dedup();
    Ok(files)
}

/// Returns a marks file with the clip's hash in the place of its name.
fn without_names(
    path: &Path,
    state: Option<&StateFolder>,
) -> Result<(String, Stored), BundleError> {
    let document = marks::file::read(path)?.document;
    let mut sheaf = marks::load(path, state)?;
    let stem = match &mut sheaf.clip {
        Some(clip) => {
            clip.name.clone_from(&clip.quick_id);
            clip.quick_id.clone()
        }
        None => format!("planned-{}", &blake3::hash(document.as_bytes()).to_hex()[..16]),
    };
    let name = marks::path_for(Path::new(&stem), &sheaf.routine.id, &sheaf.routine.judge);
    let name = name.to_string_lossy().into_owned();
    let included = marks::file::Included::default();
    Ok((name, Stored { document, included, sheaf }))
}

/// Text of a record, and the codes in it.
type Record = (Vec<u8>, Vec<String>);

/// Returns the record of the clip beside a marks file, without what tells of camera and place, and
/// the codes in it.
fn record(marks_file: &Path, quick_id: &str) -> Result<Option<Record>, BundleError> {
    let name = marks_file.file_name().unwrap_or_default().to_string_lossy().into_owned();
    // The clip's name is what comes before `.<routine>.<judge>.marks.json`.
    let Some(clip) = name.strip_suffix(".marks.json").and_then(|name| name.rsplitn(3, '.').nth(2))
    else {
        return Ok(None);
    };
    let clip = marks_file.with_file_name(clip);
    if !sidecar_path(&clip).exists() {
        return Ok(None);
    }
    let mut noted = SidecarFile::open(&clip)?.sidecar;
    noted.source.clear();
    noted.notes.clear();
    noted.unknown.clear();
    if let Some(clip) = &mut noted.clip {
        if clip.quick_id != quick_id {
            return Ok(None);
        }
        clip.name.clone_from(&clip.quick_id);
    }
    for agreed in &mut noted.agreed {
        if let Some(rest) =
            agreed.marks.strip_prefix(&*clip.file_name().unwrap_or_default().to_string_lossy())
        {
            agreed.marks = format!("{quick_id}{rest}");
        }
    }
    let athletes = noted.athletes.iter().map(|athlete| athlete.code.clone()).collect();
    Ok(Some((file::text(&noted).into_bytes(), athletes)))
}

/// Returns the kept texts of an edition.
fn editions(state: Option<&StateFolder>, hash: &str) -> Vec<(String, Vec<u8>)> {
    let plain = !hash.is_empty() && hash.chars().all(|c| c.is_ascii_hexdigit());
    let Some(state) = state.filter(|_| plain) else { return Vec::new() };
    let entries = fs::read_dir(state.path().join("editions")).into_iter().flatten().flatten();
    let of_it = entries.filter_map(|entry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_of_it = name.starts_with(&format!("{hash}.")) && has_ending(&name, "toml");
        Some((name, fs::read(entry.path()).ok().filter(|_| is_of_it)?))
    });
    of_it.collect()
}

fn write(out: &mut File, files: &BTreeMap<String, Vec<u8>>) -> io::Result<()> {
    let listed = files.iter().map(|(name, bytes)| Listed {
        name: name.clone(),
        bytes: bytes.len() as u64,
        hash: blake3::hash(bytes).to_hex().to_string(),
    });
    let manifest = Manifest {
        format: FORMAT.to_owned(),
        version: VERSION,
        made: today(),
        files: listed.collect(),
    };
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
    let mut archive = ZipWriter::new(out);
    archive.start_file("manifest.json", options)?;
    archive.write_all(serde_json::to_string_pretty(&manifest)?.as_bytes())?;
    for (name, bytes) in files {
        archive.start_file(name.as_str(), options)?;
        archive.write_all(bytes)?;
    }
    archive.finish()?;
    Ok(())
}

/// Returns whether a name ends in a full stop and `ending`, written in small letters.
pub(super) fn has_ending(name: &str, ending: &str) -> bool {
    Path::new(name).extension().is_some_and(|it| it == ending)
}

/// Reads at most `most` bytes; more is an error.
pub(super) fn read_at_most(reader: &mut impl Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    reader.take(most + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > most {
        return Err(io::Error::new(io::ErrorKind::FileTooLarge, "it is larger than it may be"));
    }
    Ok(bytes)
}
