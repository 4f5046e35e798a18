//! Word of a withdrawal, left in every folder: it names her by a salted hash and the clips by their
//! content, so that other computers carry it out and nothing comes back unseen.

use std::{
    collections::hash_map::RandomState,
    fs,
    hash::{BuildHasher as _, Hasher as _},
    path::{Path, PathBuf},
};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::{
    plan::{ErasePlan, ErasedContent},
    wish::{EraseWish, Shared, Witnessed},
};
use crate::{
    marks::model::Unknown,
    store::{DocumentError, Format, Readers},
};

const BEGINS: &str = "withdrawn-";
const ENDS: &str = ".stillcall.json";

static FORMAT: Format = Format {
    name: "stillcall withdrawal",
    version: 1,
    called: "word of a withdrawal",
    unwritten: "See that this user may write there; the next command of the library tries again",
    readers: Readers::Folder,
};

/// Word of one withdrawal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Tombstone {
    /// Random name of the withdrawal, the same in every folder.
    pub id: String,
    /// Day.
    pub on: Date,
    /// Random text that goes before the code, another in each folder.
    salt: String,
    /// BLAKE3 hash of salt and code. Whoever has the list of a club's codes can try them all.
    code: String,
    /// Who erased, and who looked on.
    pub witnessed: Witnessed,
    /// What became of clips that show others as well.
    pub shared: Shared,
    /// The contents of the clips.
    pub contents: Vec<ErasedContent>,
    /// The contents of what was written of them.
    pub written: Vec<ErasedContent>,
    #[serde(flatten)]
    unknown: Unknown,
}

impl Tombstone {
    /// Returns the word of a withdrawal; nothing for a plan that is none.
    pub(crate) fn of(plan: &ErasePlan) -> Option<Self> {
        let EraseWish::Athlete { code, shared } = &plan.wish else { return None };
        let salt = random();
        Some(Self {
            id: plan.id.clone(),
            on: plan.on,
            code: hashed(&salt, code.as_str()),
            salt,
            witnessed: plan.witnessed.clone(),
            shared: *shared,
            contents: plan.contents.clone(),
            written: plan.written.clone(),
            unknown: Unknown::default(),
        })
    }

    /// Returns whether it is this code that was withdrawn.
    pub fn names(&self, code: &str) -> bool {
        hashed(&self.salt, code) == self.code
    }

    /// Reads one.
    pub(crate) fn read(path: &Path) -> Result<Option<Self>, DocumentError> {
        let Some((bytes, _)) = FORMAT.read_if_there(path)? else { return Ok(None) };
        FORMAT.parse(&bytes, path).map(Some)
    }

    /// Leaves it, in the place of an older one of the same withdrawal.
    pub(crate) fn leave(&self, path: &Path) -> Result<(), DocumentError> {
        let unwritable = |source| FORMAT.unwritable(path, source);
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(unwritable)?;
        }
        let (_, mut held) = FORMAT.read_if_there(path)?.unwrap_or_default();
        FORMAT.write(path, &FORMAT.text(self), &mut held)
    }
}

/// Returns where word of a withdrawal is still to be left in a folder; nothing where all that a
/// plan knows by now is told there. A file that is there may be another computer's, and stays.
pub(crate) fn not_told(folder: &Path, plan: &ErasePlan) -> Option<PathBuf> {
    let told: Vec<Tombstone> =
        in_folder(folder).into_iter().filter(|word| word.id == plan.id).collect();
    let tells = |list: fn(&Tombstone) -> &Vec<ErasedContent>, content: &ErasedContent| {
        told.iter().any(|word| list(word).contains(content))
    };
    let is_all_told = !told.is_empty()
        && plan.contents.iter().all(|content| tells(|word| &word.contents, content))
        && plan.written.iter().all(|content| tells(|word| &word.written, content));
    let first = place_in(folder, &plan.id);
    let place = if first.exists() {
        place_in(folder, &format!("{}-{}", plan.id, &random()[..8]))
    } else {
        first
    };
    (!is_all_told).then_some(place)
}

/// Returns where word of a withdrawal is left in a folder.
pub(crate) fn place_in(folder: &Path, id: &str) -> PathBuf {
    folder.join(format!("{BEGINS}{id}{ENDS}"))
}

/// Returns a random text of 32 hexadecimal digits.
pub(crate) fn random() -> String {
    // Each of these hashers begins with numbers that the system drew by chance.
    let drawn = || RandomState::new().build_hasher().finish();
    format!("{:016x}{:016x}", drawn(), drawn())
}

/// Returns what was left in a folder.
pub(super) fn in_folder(folder: &Path) -> Vec<Tombstone> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let is_word = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        name.starts_with(BEGINS) && name.ends_with(ENDS)
    };
    let paths = entries.map(|entry| entry.path()).filter(is_word);
    paths.filter_map(|path| Tombstone::read(&path).ok().flatten()).collect()
}

fn hashed(salt: &str, code: &str) -> String {
    let text = format!("{salt} {}", code.to_ascii_lowercase());
    blake3::hash(text.as_bytes()).to_hex().to_string()
}
