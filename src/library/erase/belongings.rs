//! What belongs to clips and athletes outside the folders: lists, histories, what was being made.

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

use super::{error::EraseError, names::name, seek::Sighted, wish::Places};
use crate::{
    library::{
        consent::code::Code,
        home::{
            ledger::{HandedOut, Ledger, Made},
            shelf::Shelf,
        },
        index::database::{Index, IndexError},
    },
    marks::StateFolder,
    store::{TEMPORARY, read_text},
};

/// The library's lists of what was made and handed out.
#[derive(Debug)]
pub(crate) struct Belongings {
    /// What was made.
    pub made: Vec<Made>,
    /// What was handed out.
    pub handed_out: Vec<HandedOut>,
    /// The names and the words of the searches that are kept.
    pub searches: Vec<String>,
}

impl Belongings {
    pub(crate) fn read(places: Places<'_>) -> Result<Self, EraseError> {
        let made = Ledger::<Made>::open(places.home)?.lines()?;
        let handed_out = Ledger::<HandedOut>::open(places.home)?.lines()?;
        let searches = Shelf::read(places.home)?.searches;
        let searches = searches.into_iter().flat_map(|(name, words)| [name, words]).collect();
        Ok(Self { made, handed_out, searches })
    }

    /// Returns what lies unfinished beside what was made and handed out.
    pub(crate) fn unfinished(&self) -> Vec<PathBuf> {
        let paths = self.made.iter().map(|made| &made.path);
        let paths = paths.chain(self.handed_out.iter().map(|bundle| &bundle.path));
        let folders: BTreeSet<&Path> = paths.filter_map(|path| path.parent()).collect();
        let entries = folders.into_iter().flat_map(|folder| fs::read_dir(folder).into_iter());
        let ours = entries.flatten().flatten().map(|entry| entry.path());
        let ours = ours.filter(|path| name(path).starts_with(TEMPORARY));
        ours.flat_map(|path| if path.is_dir() { files_below(&path) } else { vec![path] }).collect()
    }
}

/// Returns whether the index tells of her, or of one of these files.
pub(crate) fn is_indexed<'p>(
    index: &Index,
    code: Option<&Code>,
    paths: impl Iterator<Item = &'p PathBuf>,
) -> Result<bool, IndexError> {
    if let Some(code) = code {
        let rows: Option<i64> = index.one(
            "SELECT (SELECT count(*) FROM routines WHERE athlete = ?1)
                 + (SELECT count(*) FROM filmed WHERE athlete = ?1)",
            [code.as_str()],
        )?;
        if rows.unwrap_or_default() > 0 {
            return Ok(true);
        }
    }
    for path in paths {
        let rows: Option<i64> = index.one(
            "SELECT (SELECT count(*) FROM clips WHERE path = ?1)
                 + (SELECT count(*) FROM routines WHERE marks = ?1)",
            [path.to_string_lossy()],
        )?;
        if rows.unwrap_or_default() > 0 {
            return Ok(true);
        }
    }
    Ok(false)
}

/// Returns the athlete's own lists among the files.
pub(crate) fn skills_of(code: &Code, sighted: &Sighted) -> Vec<PathBuf> {
    let paths = sighted.files.iter().map(|sight| &sight.path);
    let lists = paths.filter(|path| name(path).ends_with(".skills.toml"));
    let is_hers = |path: &&PathBuf| {
        let of = name(path).trim_end_matches(".skills.toml").to_owned();
        let says = || {
            let text = read_text(path).ok()?;
            let list: toml::Table = text.parse().ok()?;
            Some(list.get("athlete")?.as_str()?.to_owned())
        };
        code.is(&of) || says().is_some_and(|of| code.is(&of))
    };
    lists.filter(is_hers).cloned().collect()
}

/// Returns every undo history, and what was set aside of one.
pub(crate) fn journals(state: &StateFolder) -> Vec<PathBuf> {
    let mut found = files_below(&state.path().join("journals"));
    found.sort();
    found
}

/// Returns every file below a folder.
pub(crate) fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => found.extend(files_below(&path)),
            _ => found.push(path),
        }
    }
    found
}
