//! Records in a bundle that would say what may be done with a clip that is here already: they are
//! shown and asked about, never taken in silently.

use std::{collections::BTreeSet, path::Path};

use crate::library::consent::{
    sidecar::{Purpose, Shows, Sidecar},
    sidecar_file,
};

/// What becomes of such records.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Records {
    /// Whoever takes the bundle in is asked first.
    #[default]
    Asked,
    /// They are taken in.
    Taken,
}

/// Returns what a record says that would come to lie beside a clip which has none, in words;
/// nothing where there is no such clip.
pub(super) fn says(record: &Path, bytes: &[u8]) -> Option<String> {
    let name = record.file_name()?.to_string_lossy().into_owned();
    let clip = record.with_file_name(name.strip_suffix(".clip.json")?);
    if !clip.exists() || record.exists() {
        return None;
    }
    let said = sidecar_file::parse(bytes, record).map_or_else(|error| error.to_string(), in_words);
    Some(format!("{}: {said}", clip.display()))
}

fn in_words(noted: Sidecar) -> String {
    if noted.shows == Shows::Nobody {
        return "nobody is on it".to_owned();
    }
    let athletes = noted.athletes.into_iter().map(|athlete| {
        let purposes = athlete.consents.into_iter().flat_map(|consent| consent.purposes);
        let purposes: BTreeSet<Purpose> = purposes.collect();
        let purposes: Vec<String> = purposes.iter().map(Purpose::to_string).collect();
        let agreed = if purposes.is_empty() { "nothing".to_owned() } else { purposes.join(", ") };
        format!("{} agreed to {agreed}", athlete.code)
    });
    let athletes: Vec<String> = athletes.collect();
    if athletes.is_empty() { "no consent".to_owned() } else { athletes.join("; ") }
}
