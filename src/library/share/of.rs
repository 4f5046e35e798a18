//! Of whom a file tells.

use std::{collections::BTreeSet, path::Path};

use crate::{
    library::{consent::ask::filmed, quick_id::quick_id},
    marks::Sheaf,
};

/// The clips and athletes that a file tells of or shows, as pairs of quick id and code; empty for
/// what is made of a rule book alone.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Of(BTreeSet<(String, String)>);

impl Of {
    /// Returns the clip and the athlete of one routine.
    pub fn routine(sheaf: &Sheaf) -> Self {
        [sheaf].into_iter().collect()
    }

    /// Returns a clip with everybody who is noted or judged on it.
    pub fn clip(clip: &Path) -> Self {
        let mut of = Self::default();
        of.take_clip(clip);
        of
    }

    /// Takes in a clip with everybody who is noted or judged on it.
    pub(super) fn take_clip(&mut self, clip: &Path) {
        let id = quick_id(clip).unwrap_or_default();
        self.0.insert((id.clone(), String::new()));
        self.0.extend(filmed(clip).into_iter().map(|athlete| (id.clone(), athlete)));
    }

    pub(super) fn is_of_clip(&self, quick_id: &str) -> bool {
        self.0.iter().any(|(clip, _)| clip == quick_id)
    }

    /// Returns the codes, sorted, each once.
    pub(super) fn athletes(&self) -> Vec<String> {
        let codes: BTreeSet<&String> = self.0.iter().map(|(_, athlete)| athlete).collect();
        codes.into_iter().filter(|code| !code.is_empty()).cloned().collect()
    }

    /// Returns the quick ids of the clips, sorted, each once.
    pub(super) fn clips(&self) -> Vec<String> {
        let ids: BTreeSet<&String> = self.0.iter().map(|(clip, _)| clip).collect();
        ids.into_iter().filter(|id| !id.is_empty()).cloned().collect()
    }

    /// Returns each clip with each athlete; one empty pair where it is of nobody, because that it
    /// left is written down all the same.
    pub(super) fn each(&self) -> impl Iterator<Item = (&str, &str)> {
        let nobody = self.0.is_empty().then_some(("", ""));
        self.0.iter().map(|(clip, athlete)| (clip.as_str(), athlete.as_str())).chain(nobody)
    }
}

impl Extend<Self> for Of {
    fn extend<T: IntoIterator<Item = Self>>(&mut self, others: T) {
        self.0.extend(others.into_iter().flat_map(|other| other.0));
    }
}

impl<'a> FromIterator<&'a Sheaf> for Of {
    fn from_iter<T: IntoIterator<Item = &'a Sheaf>>(sheaves: T) -> Self {
        sheaves.into_iter().map(Sheaf::whose).collect()
    }
}

impl FromIterator<(String, String)> for Of {
    fn from_iter<T: IntoIterator<Item = (String, String)>>(pairs: T) -> Self {
        Self(pairs.into_iter().filter(|pair| *pair != Default::default()).collect())
    }
}
