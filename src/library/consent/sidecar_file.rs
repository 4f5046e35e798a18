//! The sidecar's file: read, compared before it is replaced, never written over unread.

use std::{
    fs,
    path::{Path, PathBuf},
};

use super::sidecar::{ClipName, Sidecar};
use crate::{
    library::quick_id::quick_id,
    store::{DocumentError, Format, Held},
};

static FORMAT: Format = Format {
    name: "stillcall clip",
    version: 1,
    called: "clip record",
    unwritten: "Nothing was changed; free some space or check the folder",
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

/// Returns files beside a clip that look like other copies of its sidecar, as programs that keep
/// folders in step leave them when two people wrote at once.
pub fn copies(clip: &Path) -> Vec<PathBuf> {
    let own = sidecar_path(clip);
    let folder = clip.parent().filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = fs::read_dir(folder.unwrap_or(Path::new("."))) else { return Vec::new() };
    let stem = clip.file_name().unwrap_or_default().to_string_lossy().into_owned() + ".clip";
    let is_copy = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let rest = name.strip_prefix(&stem).unwrap_or_default();
        Path::new(rest).extension().is_some_and(|it| it == "json")
            && path.file_name() != own.file_name()
    };
    let mut found: Vec<PathBuf> =
        entries.flatten().map(|entry| entry.path()).filter(is_copy).collect();
    found.sort();
    found
}

pub(crate) fn text(sidecar: &Sidecar) -> String {
    FORMAT.text(sidecar)
}
