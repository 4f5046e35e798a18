//! Taking in a bundle from elsewhere, which may be anything.

use std::{
    collections::BTreeSet,
    fs::{self, File},
    io::{self, Read},
    ops::ControlFlow,
    path::{Path, PathBuf},
};

use zip::{CompressionMethod, ZipArchive};

use crate::{
    library::{erase::withdrawn::Withdrawn, home::folder::Home},
    marks::StateFolder,
    store::{Unfinished, open_file, read_at_most},
    units,
};

use super::{
    manifest::{FORMAT, Listed, Manifest, VERSION, has_ending},
    opens::{self, Records},
    refused::refused,
};

/// Files that a bundle may hold.
const MOST_FILES: usize = 50_000;
/// Bytes of one file that is no clip, unpacked.
const MOST_BYTES: u64 = 16 << 20;
/// Bytes of all of them, unpacked.
const MOST_IN_ALL: u64 = 1 << 30;

/// Why a bundle was refused. Nothing is written by any of them but the last three.
#[derive(Debug, thiserror::Error)]
pub enum ImportError {
    /// It is no bundle.
    #[error("{path} is no bundle of this program: {detail}")]
    NoBundle {
        /// The file.
        path: PathBuf,
        /// What is wrong.
        detail: String,
    },
    /// It was made by a later version.
    #[error(
        "{path} was made by a newer version of this program (format {found}). Update the program"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: u64,
    },
    /// A name in it leads somewhere else.
    #[error(
        "{path} holds a file named {name:?}, which no bundle of this program has. Nothing was taken from it; ask who sent it"
    )]
    BadName {
        /// The bundle.
        path: PathBuf,
        /// The name.
        name: String,
    },
    /// It would grow beyond measure.
    #[error(
        "{path} would unpack to more than a bundle may hold ({what}). Nothing was taken from it"
    )]
    TooLarge {
        /// The bundle.
        path: PathBuf,
        /// Which bound was met.
        what: String,
    },
    /// What is in it is not what its list says.
    #[error(
        "{path}: {name} is not what the list of the bundle says. It was damaged or changed on the way; nothing was taken from it"
    )]
    Differs {
        /// The bundle.
        path: PathBuf,
        /// The file.
        name: String,
    },
    /// Files in it lie over one another.
    #[error(
        "{path}: files in it share their bytes, as no bundle of this program does. Nothing was taken from it; ask who sent it"
    )]
    Overlaps {
        /// The bundle.
        path: PathBuf,
    },
    /// It says what may be done with clips that are here already.
    #[error(
        "{path} says what may be done with clips that are here and of which nothing is noted:\n  {}\n\
         Nothing was taken from it. Look whether that is so, then import it with --records",
        .says.join("\n  ")
    )]
    Opens {
        /// The bundle.
        path: PathBuf,
        /// What it says, clip by clip.
        says: Vec<String>,
    },
    /// Something else of that name is there.
    #[error(
        "{path} is there already and differs from the bundle's. It was left as it is; import into another folder"
    )]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// A person stopped it.
    #[error("stopped; {taken} of its files are here now. Take it in again to go on")]
    Stopped {
        /// How many were taken in before.
        taken: usize,
    },
    /// The system refused.
    #[error("cannot use {path}: {source}")]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// What was taken in.
#[derive(Debug, Default)]
pub struct Imported {
    /// Files that are new.
    pub new: Vec<PathBuf>,
    /// Files that were there already, with the same content.
    pub known: usize,
    /// How many files were not taken in, because they show or name somebody who withdrew.
    pub refused: usize,
}

/// Takes a bundle's files into `folder` and its editions to where editions are kept; the library's
/// own folder, where there is one, notes what is half made.
///
/// The whole bundle is checked before anything is written, and nothing is written over. What shows
/// or names somebody who withdrew stays outside.
pub fn import(
    bundle: &Path,
    folder: &Path,
    own: (Option<&StateFolder>, Option<&Home>),
    records: Records,
) -> Result<Imported, ImportError> {
    import_telling((bundle, folder), own, records, &mut |_, _| ControlFlow::Continue(()))
}

/// Does what [`import`] does; `told` hears how many bytes of how many are done, and may stop it.
pub fn import_telling(
    (bundle, folder): (&Path, &Path),
    (state, home): (Option<&StateFolder>, Option<&Home>),
    records: Records,
    told: &mut dyn FnMut(u64, u64) -> ControlFlow<()>,
) -> Result<Imported, ImportError> {
    let mut archive = open(bundle)?;
    let mut heard = Heard::new(told);
    let mut listed = check(bundle, &mut archive, &mut heard)?;
    let withdrawn = Withdrawn::around(home, folder);
    let refused = refused(&mut archive, &listed, &withdrawn, MOST_BYTES);
    listed.retain(|file| !refused.contains(&file.name));
    let editions = state.map(|state| state.path().join("editions"));
    let mut done = Imported { refused: refused.len(), ..Imported::default() };
    let mut fresh = Vec::new();
    for file in &listed {
        let place = match file.name.split_once('/') {
            Some(("files", name)) => folder.join(name),
            Some((_, name)) => match &editions {
                Some(editions) => editions.join(name),
                None => continue,
            },
            None => continue,
        };
        match open_file(&place).and_then(|mut there| units::content_hash(&mut there)) {
            Ok(there) if there == file.hash => done.known += 1,
            Err(error) if error.kind() == io::ErrorKind::NotFound => fresh.push((place, file)),
            Ok(_) => return Err(ImportError::Exists { path: place }),
            Err(source) => return Err(ImportError::Io { path: place, source }),
        }
    }
    if records == Records::Asked {
        ask_of_records(bundle, &mut archive, &fresh)?;
    }
    // A clip without its record would be taken for one of our own when this is killed in between.
    fresh.sort_by_key(|(_, file)| !file.name.ends_with(".clip.json"));
    for (place, file) in fresh {
        let failed = |source| ImportError::Io { path: place.clone(), source };
        let entry = archive.by_name(&file.name);
        let entry = entry.map_err(|error| failed(io::Error::other(error)))?;
        if let Err(error) = unpack(heard.of(entry), file, &place, home) {
            let taken = done.new.len();
            return Err(if heard.stopped { ImportError::Stopped { taken } } else { failed(error) });
        }
        done.new.push(place);
    }
    Ok(done)
}

/// Fails where a record would say what may be done with a clip that is here.
fn ask_of_records(
    bundle: &Path,
    archive: &mut ZipArchive<File>,
    fresh: &[(PathBuf, &Listed)],
) -> Result<(), ImportError> {
    let mut says = Vec::new();
    for (place, file) in fresh {
        let failed = |source| ImportError::Io { path: bundle.to_owned(), source };
        if file.name.ends_with(".clip.json") {
            let entry = archive.by_name(&file.name);
            let mut entry = entry.map_err(|error| failed(io::Error::other(error)))?;
            let bytes = read_at_most(&mut entry, MOST_BYTES).map_err(failed)?;
            says.extend(opens::says(place, &bytes));
        }
    }
    if says.is_empty() {
        return Ok(());
    }
    Err(ImportError::Opens { path: bundle.to_owned(), says })
}

/// Writes one file of a bundle where there is none yet.
fn unpack(
    mut entry: impl Read,
    file: &Listed,
    place: &Path,
    home: Option<&Home>,
) -> io::Result<()> {
    let folder = place.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    let unfinished = Unfinished::begin(folder, "", home.map(Home::notes).as_deref())?;
    let mut out = File::create_new(unfinished.place())?;
    let written = io::copy(&mut entry.by_ref().take(file.bytes), &mut out)?;
    if written != file.bytes {
        return Err(io::ErrorKind::UnexpectedEof.into());
    }
    out.sync_all()?;
    unfinished.put(place, false)
}

fn open(path: &Path) -> Result<ZipArchive<File>, ImportError> {
    let file =
        open_file(path).map_err(|source| ImportError::Io { path: path.to_owned(), source })?;
    ZipArchive::new(file)
        .map_err(|error| ImportError::NoBundle { path: path.to_owned(), detail: error.to_string() })
}

/// Returns the files of a bundle once every one is as its list says.
fn check(
    path: &Path,
    archive: &mut ZipArchive<File>,
    heard: &mut Heard<'_>,
) -> Result<Vec<Listed>, ImportError> {
    let too_large =
        |what: &str| ImportError::TooLarge { path: path.to_owned(), what: what.to_owned() };
    if archive.len() > MOST_FILES {
        return Err(too_large("too many files"));
    }
    check_apart(path, archive)?;
    let manifest = manifest(path, archive)?;
    check_names(path, archive, &manifest)?;
    let texts = manifest.files.iter().filter(|listed| !is_clip(&listed.name));
    if texts.map(|listed| u128::from(listed.bytes)).sum::<u128>() > MOST_IN_ALL.into() {
        return Err(too_large("too many bytes in all"));
    }
    // All is read twice: to be checked, and to be written.
    let bytes = manifest.files.iter().map(|listed| listed.bytes.saturating_mul(2));
    heard.all = bytes.fold(0, u64::saturating_add);
    for Listed { name, bytes, hash } in &manifest.files {
        let differs = || ImportError::Differs { path: path.to_owned(), name: name.clone() };
        let mut entry = archive.by_name(name).map_err(|_| differs())?;
        // A clip is stored as it is, so that it takes no more room than the bundle itself.
        let is_stored = entry.compression() == CompressionMethod::Stored;
        let is_bounded = if is_clip(name) { is_stored } else { *bytes <= MOST_BYTES };
        if !is_bounded {
            return Err(too_large(name));
        }
        // What a zip says of its sizes is only a claim, so that the reading itself is bounded.
        let mut bounded = entry.by_ref().take(bytes.saturating_add(1));
        let mut counted = Counted { of: heard.of(&mut bounded), bytes: 0 };
        let found = units::content_hash(&mut counted);
        let bytes_found = counted.bytes;
        if heard.stopped {
            return Err(ImportError::Stopped { taken: 0 });
        }
        let found = found.map_err(|_| differs())?;
        if bytes_found != *bytes || found != *hash {
            return Err(differs());
        }
    }
    Ok(manifest.files)
}

/// Looks whether each file has bytes of its own: shared ones could unpack to any size.
fn check_apart(path: &Path, archive: &mut ZipArchive<File>) -> Result<(), ImportError> {
    let mut spans = Vec::with_capacity(archive.len());
    for place in 0..archive.len() {
        let no_bundle = |error: zip::result::ZipError| {
            let detail = error.to_string();
            ImportError::NoBundle { path: path.to_owned(), detail }
        };
        let entry = archive.by_index_raw(place).map_err(no_bundle)?;
        let begin = entry.header_start();
        let data = entry.data_start().unwrap_or(begin);
        spans.push((begin, data.saturating_add(entry.compressed_size())));
    }
    spans.sort_unstable();
    if spans.windows(2).any(|pair| pair[0].1 > pair[1].0) {
        return Err(ImportError::Overlaps { path: path.to_owned() });
    }
    Ok(())
}

/// Who is told how far it is.
struct Heard<'a> {
    told: &'a mut dyn FnMut(u64, u64) -> ControlFlow<()>,
    done: u64,
    all: u64,
    stopped: bool,
}

/// A reader whose reading is told.
struct HeardReader<'h, 'a, R> {
    of: R,
    heard: &'h mut Heard<'a>,
}

impl<'a> Heard<'a> {
    fn new(told: &'a mut dyn FnMut(u64, u64) -> ControlFlow<()>) -> Self {
        Self { told, done: 0, all: 0, stopped: false }
    }

    fn of<R: Read>(&mut self, of: R) -> HeardReader<'_, 'a, R> {
        HeardReader { of, heard: self }
    }
}

impl<R: Read> Read for HeardReader<'_, '_, R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.of.read(buffer)?;
        let Heard { told, done, all, stopped } = self.heard;
        *done = done.saturating_add(read as u64);
        *stopped |= told(*done, *all).is_break();
        if *stopped { Err(io::Error::other("stopped")) } else { Ok(read) }
    }
}

/// Counts what is read.
struct Counted<R> {
    of: R,
    bytes: u64,
}

impl<R: Read> Read for Counted<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.of.read(buffer)?;
        self.bytes += read as u64;
        Ok(read)
    }
}

fn manifest(path: &Path, archive: &mut ZipArchive<File>) -> Result<Manifest, ImportError> {
    let no_bundle = |detail: String| ImportError::NoBundle { path: path.to_owned(), detail };
    let mut entry = archive
        .by_name("manifest.json")
        .map_err(|_| no_bundle("it has no list of its files".to_owned()))?;
    let bytes =
        read_at_most(&mut entry, MOST_BYTES).map_err(|error| no_bundle(error.to_string()))?;
    let manifest: Manifest =
        serde_json::from_slice(&bytes).map_err(|error| no_bundle(error.to_string()))?;
    if manifest.format != FORMAT {
        return Err(no_bundle(format!("its list is of \"{}\"", manifest.format)));
    }
    if manifest.version > VERSION {
        return Err(ImportError::Newer { path: path.to_owned(), found: manifest.version });
    }
    Ok(manifest)
}

/// Looks at every name before anything is unpacked: each is listed, once, and leads nowhere else.
fn check_names(
    path: &Path,
    archive: &ZipArchive<File>,
    manifest: &Manifest,
) -> Result<(), ImportError> {
    let bad = |name: &str| ImportError::BadName { path: path.to_owned(), name: name.to_owned() };
    let mut listed = BTreeSet::new();
    for file in &manifest.files {
        if !is_plain(&file.name) || !listed.insert(file.name.to_lowercase()) {
            return Err(bad(&file.name));
        }
    }
    for name in archive.file_names() {
        let name = name.map_err(|_| bad("one that is not text"))?;
        if name != "manifest.json" && !listed.contains(&name.to_lowercase()) {
            return Err(bad(&name));
        }
    }
    Ok(())
}

/// Returns whether a name is one that this program gives: one of two folders, then letters, digits
/// and a few signs, with an ending that it reads.
fn is_plain(name: &str) -> bool {
    let Some((folder, file)) = name.split_once('/') else { return false };
    let letters = |c: char| c.is_alphanumeric() || "._-".contains(c);
    let has_ending = match folder {
        "files" => file.ends_with(".marks.json") || file.ends_with(".clip.json") || is_clip(name),
        "editions" => has_ending(file, "toml"),
        _ => false,
    };
    has_ending && file.len() <= 200 && !file.starts_with('.') && file.chars().all(letters)
}

/// Returns whether a file of a bundle is a clip.
fn is_clip(name: &str) -> bool {
    units::is_clip_name(Path::new(name))
}
