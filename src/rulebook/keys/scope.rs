//! Where a rule applies.

use super::{
    key::{Key, Settle, names_some},
    part::Part,
};
use crate::rulebook::rows::{Field, Findings, Row, Space};

/// Which events and divisions a rule covers; an empty list covers all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scope {
    /// Event ids.
    pub events: Vec<String>,
    /// Division ids.
    pub divisions: Vec<String>,
}

/// Where what names neither events nor divisions holds.
pub(crate) static EVERYWHERE: Scope = Scope { events: Vec::new(), divisions: Vec::new() };

const EVENTS: Key<Vec<String>> =
    Key::may("events", names_some(Space::Event), "Events it holds on; all when left out.");

/// Divisions in which something holds.
pub(crate) const DIVISIONS: Key<Vec<String>> =
    Key::may("divisions", names_some(Space::Division), "Divisions it holds in; all when left out.");

impl Part for Scope {
    const FIELDS: &'static [Field] = &[EVENTS.fields()[0], DIVISIONS.fields()[0]];

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        Self {
            events: Settle::settle(EVENTS.value(row, findings)),
            divisions: Settle::settle(DIVISIONS.value(row, findings)),
        }
    }
}

impl Scope {
    /// Returns whether the rule covers the event in the division.
    pub fn covers(&self, event: &str, division: &str) -> bool {
        self.covers_event(event) && self.covers_division(division)
    }

    /// Returns whether the rule covers the event in some division.
    pub(crate) fn covers_event(&self, event: &str) -> bool {
        self.events.is_empty() || self.events.iter().any(|id| id == event)
    }

    /// Returns whether the rule covers the division.
    pub(crate) fn covers_division(&self, division: &str) -> bool {
        self.divisions.is_empty() || self.divisions.iter().any(|id| id == division)
    }
}
