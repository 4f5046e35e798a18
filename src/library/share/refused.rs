//! What of a bundle is not taken in, because somebody on it withdrew.

use std::{collections::BTreeSet, fs::File, path::Path};

use serde::Deserialize;
use zip::ZipArchive;

use super::manifest::Listed;
use crate::{library::erase::withdrawn::Withdrawn, marks, store::read_at_most};

/// What of a record is asked.
#[derive(Deserialize)]
struct RecordHead {
    #[serde(default)]
    athletes: Vec<AthleteHead>,
}

#[derive(Deserialize)]
struct AthleteHead {
    code: String,
}

/// Returns the names of files that are not taken in: what was written of somebody who withdrew, the
/// clips on which she is, and whatever was erased by its content.
pub(super) fn refused(
    archive: &mut ZipArchive<File>,
    listed: &[Listed],
    withdrawn: &Withdrawn,
    most: u64,
) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    if withdrawn.all().is_empty() {
        return names;
    }
    for file in listed {
        let of = |ending: &str| file.name.strip_suffix(ending);
        let mut bytes = || read_at_most(&mut archive.by_name(&file.name).ok()?, most).ok();
        let clip = if let Some(stem) = of(".clip.json") {
            let names = bytes().is_some_and(|bytes| is_recorded(&bytes, withdrawn));
            names.then_some(stem)
        } else if let Some(stem) = of(".marks.json") {
            let names = bytes().is_some_and(|bytes| is_judged(&bytes, &file.name, withdrawn));
            stem.rsplitn(3, '.').nth(2).filter(|_| names)
        } else {
            None
        };
        if let Some(clip) = clip {
            names.extend([file.name.clone(), clip.to_owned()]);
        }
        if withdrawn.names_content(&file.hash) {
            names.insert(file.name.clone());
        }
    }
    names.retain(|name| listed.iter().any(|file| file.name == *name));
    names
}

fn is_recorded(bytes: &[u8], withdrawn: &Withdrawn) -> bool {
    let record: Option<RecordHead> = serde_json::from_slice(bytes).ok();
    let athletes = record.map(|record| record.athletes).unwrap_or_default();
    athletes.iter().any(|athlete| withdrawn.since(&athlete.code).is_some())
}

fn is_judged(bytes: &[u8], name: &str, withdrawn: &Withdrawn) -> bool {
    let marks = marks::file::parse(bytes, Path::new(name));
    marks.is_ok_and(|marks| withdrawn.since(&marks.sheaf.routine.athlete).is_some())
}
