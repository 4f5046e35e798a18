//! The sidecar's file: read, compared before it is replaced, never written over unread.

use std::{
    fs,
    path::{Path, PathBuf},
};

use super::sidecar::{ClipName, Sidecar};
use crate::{
    library::quick_id::quick_id,
    store::{DocumentError, Format, Held, Readers},
};

static FORMAT: Format = Format {
    name: "stillcall clip",
    version: 1,
    called: "clip record",
    unwritten: "Nothing was changed; free some space or check the folder",
    readers: Readers::Folder,
};

/// A sidecar with what was on disk when it was read.
#[derive(Debug)]
pub struct SidecarFile {
    path: PathBuf,
    /// What is noted.
    pub sidecar: Sidecar,
    held: Held,
}

impl SidecarFile {
    /// Reads the sidecar of a clip; an empty one where there is none.
    pub fn open(clip: &Path) -> Result<Self, DocumentError> {
        Self::at(sidecar_path(clip))
    }

    /// Reads the sidecar that lies at `path`; an empty one where there is none.
    pub(crate) fn at(path: PathBuf) -> Result<Self, DocumentError> {
        let (sidecar, held) = match FORMAT.read_if_there(&path)? {
            Some((bytes, held)) => (FORMAT.parse(&bytes, &path)?, held),
            None => Default::default(),
        };
        Ok(Self { path, sidecar, held })
    }

    /// Reads the sidecar of a clip and ties it to the clip's content where it was tied to none.
    pub fn begin(clip: &Path) -> Result<Self, DocumentError> {
        let mut file = Self::open(clip)?;
        if file.sidecar.clip.is_none() {
            file.tie(clip)?;
        }
        Ok(file)
    }

    /// Ties what is noted to the content that the clip has now.
    pub fn tie(&mut self, clip: &Path) -> Result<(), DocumentError> {
        let quick_id = quick_id(clip)
            .map_err(|source| DocumentError::Unreadable { path: clip.to_owned(), source })?;
        let name = clip.file_name().unwrap_or_default().to_string_lossy().into_owned();
        self.sidecar.clip = Some(ClipName { name, quick_id, content_hash: None });
        Ok(())
    }

    /// Returns whether there is such a file.
    pub fn exists(&self) -> bool {
        self.held.is_there()
    }

    /// Returns its path.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes it, unless somebody else changed it meanwhile.
    pub fn save(&mut self) -> Result<(), DocumentError> {
        FORMAT.write(&self.path, &text(&self.sidecar), &mut self.held)
    }
}

/// Returns where the sidecar of a clip lies.
pub fn sidecar_path(clip: &Path) -> PathBuf {
    let mut name = clip.file_name().unwrap_or_default().to_owned();
    name.push(".clip.json");
    clip.with_file_name(name)
}

/// Returns files beside a clip that are other copies of its record, as programs that keep folders in
/// step leave them when two people wrote at once: by their names, and, whatever they were renamed to,
/// by what they say of which clip they are.
pub fn copies(clip: &Path) -> Vec<PathBuf> {
    let own = sidecar_path(clip);
    let folder = clip.parent().filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = fs::read_dir(folder.unwrap_or(Path::new("."))) else { return Vec::new() };
    let stem = clip.file_name().unwrap_or_default().to_string_lossy().into_owned() + ".clip";
    let mut id = None;
    let is_copy = |path: &PathBuf| {
        if path.extension().is_none_or(|it| it != "json") || path.file_name() == own.file_name() {
            return false;
        }
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if name.starts_with(&stem) {
            return true;
        }
        let id = id.get_or_insert_with(|| quick_id(clip).unwrap_or_default());
        is_stray(path) && of_which(path).is_some_and(|of| of.quick_id == *id)
    };
    let paths = entries.flatten().map(|entry| entry.path());
    let mut found: Vec<PathBuf> = paths.filter(is_copy).collect();
    found.sort();
    found
}

/// Returns whether a file is neither the record of a clip beside it nor marks.
fn is_stray(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    match name.strip_suffix(".clip.json") {
        Some(clip) => !path.with_file_name(clip).exists(),
        None => !name.ends_with(".marks.json"),
    }
}

/// Returns of which clip a record is; nothing where the file is none.
fn of_which(path: &Path) -> Option<ClipName> {
    let (bytes, _) = FORMAT.read(path).ok()?;
    FORMAT.parse::<Sidecar>(&bytes, path).ok()?.clip
}

/// Reads a record from its bytes; `path` only names the file in errors.
pub(crate) fn parse(bytes: &[u8], path: &Path) -> Result<Sidecar, DocumentError> {
    FORMAT.parse(bytes, path)
}

pub(crate) fn text(sidecar: &Sidecar) -> String {
    FORMAT.text(sidecar)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    /// The longest name that a file can have leaves no room for that of a record.
    #[test]
    fn a_clip_with_the_longest_name_has_no_record() {
        let folder = tempfile::tempdir().expect("a folder");
        let clip = folder.path().join("c".repeat(251) + ".mp4");
        fs::write(&clip, "a clip").expect("the name is not too long for the clip");
        let mut file = SidecarFile::open(&clip).expect("no record is no error");
        assert!(!file.exists());
        assert_eq!(file.sidecar, Sidecar::default());
        assert!(file.save().is_err(), "what cannot be kept must not seem to be");
    }

    #[test]
    fn a_record_that_is_a_pipe_is_told_and_not_waited_for() {
        let folder = tempfile::tempdir().expect("a folder");
        let clip = folder.path().join("clip.mp4");
        let made = std::process::Command::new("mkfifo").arg(sidecar_path(&clip)).status();
        assert!(made.expect("mkfifo runs").success());
        let error = SidecarFile::open(&clip).expect_err("a pipe is no record").to_string();
        assert!(error.contains("clip.mp4.clip.json") && error.contains("a pipe"), "{error}");
    }
}
