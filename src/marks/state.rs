use std::{
    path::{Path, PathBuf},
    sync::OnceLock,
};

use etcetera::BaseStrategy as _;

/// The folder of this user in which journals are kept, apart from the marks files so that a
/// shared folder never sees half a change.
#[derive(Clone, Debug)]
pub struct StateFolder(PathBuf);

/// The folder that this process was told to use.
static TOLD: OnceLock<PathBuf> = OnceLock::new();

impl StateFolder {
    /// Makes `folder` the state folder of this process, whatever its environment says; the first
    /// call counts. For tests, which must not touch what the user keeps.
    pub fn use_in_this_process(folder: impl Into<PathBuf>) {
        TOLD.get_or_init(|| folder.into());
    }

    /// Returns the folder named by `STILLCALL_STATE`, or the one that the system sets aside for
    /// programs' state; nothing when the user has no home folder.
    pub fn of_user() -> Option<Self> {
        if let Some(named) = Self::named() {
            return Some(named);
        }
        let base = etcetera::choose_base_strategy().ok()?;
        Some(Self(base.state_dir().unwrap_or_else(|| base.data_dir()).join("stillcall")))
    }

    /// Returns the folder that was named for this process or by `STILLCALL_STATE`.
    pub(crate) fn named() -> Option<Self> {
        let named = TOLD.get().cloned();
        named.or_else(|| std::env::var_os("STILLCALL_STATE").map(PathBuf::from)).map(Self)
    }

    /// Returns `folder` as the state folder.
    pub fn at(folder: impl Into<PathBuf>) -> Self {
        Self(folder.into())
    }

    /// Returns the folder.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Returns the folder for marks of clips beside which nothing can be written.
    pub fn marks(&self) -> PathBuf {
        self.0.join("marks")
    }

    /// Returns where what one decode of a clip showed is kept, by the clip's content hash.
    pub fn proof_of(&self, content_hash: &str) -> PathBuf {
        self.0.join("proofs").join(content_hash)
    }

    /// Returns where the journal of a marks file is kept, by the file's place.
    pub fn journal_of(&self, marks_file: &Path) -> PathBuf {
        let place = std::path::absolute(marks_file).unwrap_or_else(|_| marks_file.to_owned());
        let name = blake3::hash(place.as_os_str().as_encoded_bytes());
        self.0.join("journals").join(format!("{}.journal", &name.to_hex()[..32]))
    }
}
