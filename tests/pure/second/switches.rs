//! What is not drawn, and why. Numbers are how often in a hundred something is drawn.

pub(super) const VALUES: usize = 10;
pub(super) const BECOMES: usize = 20;
pub(super) const OPEN_MARKS: usize = 15;

// What the guide says only since this was written, and the second evaluator does not know.

/// Whether elements that are not allowed stand beside `too_few`.
pub(super) const TOO_FEW_OF_NOT_ALLOWED: bool = false;
/// Whether elements of a bonus or a connection lose some of their credit.
pub(super) const ADDS_WITH_SOME_CREDIT: bool = false;
/// Whether a requirement `asks` for an angle that may keep its credit by `gate_within`.
pub(super) const ASKS_WITHIN: bool = false;
/// Whether it is left open that something happened which may make the rest cost less.
pub(super) const OPEN_AND_KIND: bool = false;
/// Whether nobody reads an angle that only costs something.
pub(super) const OPEN_WITHOUT_GATES: bool = false;
