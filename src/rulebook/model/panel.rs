//! How the scores of several judges become one.

use crate::units::Points;

use super::scope::Scope;

/// How the scores of several judges become one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Panel {
    /// Where it holds.
    pub scope: Scope,
    /// Which scores count.
    pub combine: Combine,
    /// Decimals of the result, at most 3.
    pub digits: u32,
    /// What happens to further decimals.
    pub rounding: Rounding,
    /// Allowed differences: from this average on, the scores may differ by that much.
    pub allowed: Vec<Allowed>,
    /// What happens beyond that.
    pub beyond: Beyond,
}

/// A difference between judges that is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Allowed {
    /// From this average on.
    pub from: Points,
    /// By how much highest and lowest counting score may differ.
    pub difference: Points,
}

/// What happens when judges differ too much, or a panel is too far from a reference score.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Beyond {
    /// The judges confer.
    #[default]
    Confer,
    /// The mean of both counts.
    Average,
    /// The mean of all scores counts, also of those that were dropped.
    MeanOfAll,
}

/// Which scores of a panel count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Combine {
    /// All.
    #[default]
    Mean,
    /// All but the highest and the lowest.
    DropEnds,
    /// So many in the middle.
    Middle(u32),
}

/// What happens to decimals beyond those kept.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rounding {
    /// They are left out.
    #[default]
    Cut,
    /// The nearest is taken, halves up.
    Nearest,
}

impl Panel {
    /// Returns the difference allowed at this average, where the book names one.
    pub(crate) fn allowed_at(&self, average: Points) -> Option<Points> {
        let reached = self.allowed.iter().filter(|allowed| average >= allowed.from);
        reached.max_by_key(|allowed| allowed.from).map(|allowed| allowed.difference)
    }
}
