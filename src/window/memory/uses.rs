//! How often each element was written, so that those written most are offered first.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::LastRoutine;

/// How often each element was written, by book, event and division.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Uses(BTreeMap<String, BTreeMap<String, u32>>);

/// Of what is not there.
const NONE: &BTreeMap<String, u32> = &BTreeMap::new();

impl Uses {
    /// Counts an element that was written.
    pub(crate) fn count(&mut self, of: &LastRoutine, element: &str) {
        let counts = self.0.entry(name(of)).or_default();
        let count = counts.entry(element.to_owned()).or_default();
        *count = count.saturating_add(1);
    }

    /// Returns how often each element was written in such a routine.
    pub(crate) fn of(&self, of: &LastRoutine) -> &BTreeMap<String, u32> {
        self.0.get(&name(of)).unwrap_or(NONE)
    }
}

fn name(of: &LastRoutine) -> String {
    [of.book.as_str(), &of.event, &of.division].join(" ")
}
