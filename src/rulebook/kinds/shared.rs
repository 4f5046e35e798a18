//! Keys that several kinds share.

use crate::rulebook::{
    keys::{Key, defines_some, flag, one_of, some_of, text, words},
    rows::Space,
};

words! {
    /// How often a rule takes its amount.
    #[derive(Default)]
    pub enum Counts {
        /// Every time.
        #[default]
        Each = "each",
        /// Once for each element.
        OncePerElement = "once-per-element",
        /// Once for each phase of a vault.
        OncePerPhase = "once-per-phase",
        /// Once in the exercise.
        Once = "once",
    }
}

words! {
    /// A kind of credit that an element earns.
    #[derive(PartialOrd, Ord, Hash)]
    pub enum Credit {
        /// It counts as a value part.
        ValuePart = "value-part",
        /// It serves requirements.
        Requirement = "requirement",
        /// It is linked to the element after it.
        Connection = "connection",
    }
}

words! {
    /// What happens to decimals beyond those kept.
    #[derive(Default)]
    pub enum Rounding {
        /// They are left out.
        #[default]
        Cut = "cut",
        /// The nearest is taken, halves up.
        Nearest = "nearest",
    }
}

/// What a rule is called.
pub(crate) const LABEL: Key<String> =
    Key::must("label", text(), "Its name as it stands on the sheet.");
/// As above.
pub(crate) const SHORTHAND: Key<String> = Key::may("shorthand", text(), "How a judge writes it.");
/// Where it is printed.
pub(crate) const WHERE: Key<String> =
    Key::may("where", text(), "Page in the club's own printed book.");
/// How often an amount is taken.
pub(crate) const COUNTS: Key<Counts> =
    Key::may("counts", one_of(), "How often the amount is taken.");
/// Groups are named by the rules in them.
pub(crate) const GROUPS: Key<Vec<String>> =
    Key::may("group", defines_some(Space::Group), "Groups for caps and for parts of the score.");
/// Credit that goes with an amount.
pub(crate) const REMOVES: Key<Vec<Credit>> =
    Key::may("removes", some_of(), "Credit that the element loses.");
/// Whose amount it is.
pub(crate) const NEUTRAL: Key<bool> = Key::may(
    "neutral",
    flag(),
    "Whether it is taken off the whole score: not halved, and off no bucket and no execution.",
);
/// Whether nothing counts.
pub(crate) const VOID: Key<bool> = Key::may("void", flag(), "Whether the exercise counts nothing.");
/// What happens to decimals.
pub(crate) const ROUNDING: Key<Rounding> =
    Key::may("rounding", one_of(), "What happens to further decimals; cut.");
