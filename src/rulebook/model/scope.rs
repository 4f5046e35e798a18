//! Where a rule applies, and how often.

/// Which events and divisions a rule covers; an empty list covers all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scope {
    /// Event ids.
    pub events: Vec<String>,
    /// Division ids.
    pub divisions: Vec<String>,
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

/// How often a rule takes its amount.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Counts {
    /// Every time.
    #[default]
    Each,
    /// Once for each element.
    OncePerElement,
    /// Once for each phase of a vault.
    OncePerPhase,
    /// Once in the exercise.
    Once,
}
