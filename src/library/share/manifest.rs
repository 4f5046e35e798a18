//! The list that a bundle begins with: what is in it, with hashes.

use std::path::Path;

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

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

/// Returns whether a name ends in a full stop and `ending`, written in small letters.
pub(crate) fn has_ending(name: &str, ending: &str) -> bool {
    Path::new(name).extension().is_some_and(|it| it == ending)
}
