use std::collections::BTreeMap;

use crate::library::index::{
    database::{Index, IndexError},
    entry::MOMENTS,
};

use super::parse::PURPOSES;

/// Words of a search that a name follows, and where the names stand.
const NAMED: &[(&str, &str)] = &[
    ("event", "SELECT event AS name FROM routines"),
    ("division", "SELECT division AS name FROM routines"),
    ("athlete", "SELECT athlete AS name FROM routines UNION SELECT athlete FROM filmed"),
    ("judge", "SELECT judge AS name FROM routines"),
    ("book", "SELECT book AS name FROM routines"),
    ("edition", "SELECT edition AS name FROM routines"),
    ("element", "SELECT element AS name FROM elements"),
    ("requirement", "SELECT requirement AS name FROM requirements"),
    ("fault", "SELECT rule AS name FROM faults"),
];

/// What may follow a word of a search, in alphabetical order: names that occur in the library.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KnownNames(BTreeMap<&'static str, Vec<String>>);

impl KnownNames {
    /// Returns what may follow `word`; nothing where no name does.
    pub fn after(&self, word: &str) -> &[String] {
        self.0.get(word).map_or(&[], Vec::as_slice)
    }
}

impl<const N: usize> From<[(&'static str, &[&str]); N]> for KnownNames {
    fn from(names: [(&'static str, &[&str]); N]) -> Self {
        let owned = |names: &[&str]| names.iter().map(|&name| name.to_owned()).collect();
        Self(names.into_iter().map(|(word, names)| (word, owned(names))).collect())
    }
}

/// Returns what may follow each word.
pub fn known(index: &Index) -> Result<KnownNames, IndexError> {
    let mut known: KnownNames =
        [("moment", &MOMENTS[..]), ("pictures", &PURPOSES), ("sets", &PURPOSES)].into();
    for (word, names) in NAMED {
        let sql = format!("SELECT DISTINCT name FROM ({names}) WHERE name <> '' ORDER BY name");
        known.0.insert(word, index.list(&sql, |row| row.get(0))?);
    }
    Ok(known)
}
