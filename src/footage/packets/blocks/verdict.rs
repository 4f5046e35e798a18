//! What is known of a packet's picture.

/// What is known of a packet's picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// Every byte is accounted for.
    Whole,
    /// The bytes do not add up.
    Broken,
    /// It is of a kind that is not read.
    Unknown,
}
