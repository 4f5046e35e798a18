use serde::{Serialize, Serializer};

/// A statistic, or why there is none.
pub type Stat<T> = Result<T, Undefined>;

/// Why a statistic cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, thiserror::Error)]
pub enum Undefined {
    /// Nothing to compare.
    #[error("nothing to compare")]
    Nothing,
    /// Too few items.
    #[error("needs at least {needed} items, there {} only {found}", if *found == 1 { "is" } else { "are" })]
    TooFew {
        /// How many it takes.
        needed: usize,
        /// How many there are.
        found: usize,
    },
    /// Too few people.
    #[error("needs at least two people who answered the same")]
    OnePerson,
    /// Every answer is the same, so that agreement beyond chance has no meaning.
    #[error("all answers are the same one, so chance alone explains them")]
    OneCategory,
    /// Every value is the same, so that there is nothing to tell apart.
    #[error("all values are the same, so there is nothing to tell apart")]
    NoSpread,
    /// Some answers are missing and this statistic takes none.
    #[error("some answers are missing")]
    Gaps,
    /// What neither person saw leaves no trace, so that chance has no meaning.
    #[error("what neither of them saw is not counted, so chance has no meaning here")]
    OneSided,
    /// A value is no number, or lies outside the categories.
    #[error("one of the values is not usable")]
    Unusable,
}

impl Serialize for Undefined {
    /// Writes the words, so that a reader of the JSON sees why.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
