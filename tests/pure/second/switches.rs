//! What is not drawn, and why: where the guide does not say what holds, and where the program is wrong
//! today, with its worked test. Numbers are how often in a hundred something is drawn.

pub(super) const VALUES: usize = 10;
pub(super) const BECOMES: usize = 20;
pub(super) const OPEN_MARKS: usize = 15;

// The guide does not say what holds.

/// Value parts are no part of the formula `open`.
pub(super) const VALUE_PARTS_UNDER_OPEN: bool = false;
/// Whether elements that are not allowed count for `too_few`.
pub(super) const TOO_FEW_OF_NOT_ALLOWED: bool = false;
/// Which credit a bonus and the elements of a connection need.
pub(super) const ADDS_WITH_SOME_CREDIT: bool = false;
/// Whether an angle that keeps its credit by `gate_within` is met for a requirement that `asks` it.
pub(super) const ASKS_WITHIN: bool = false;

// Wrong today: `worked_limits.rs`.

/// Whether `floor` is drawn for every formula.
pub(super) const FLOOR_BELOW_ALL_FORMULAS: bool = false;
/// Whether neutral rules have a group, and so a limit.
pub(super) const NEUTRAL_IN_GROUPS: bool = false;
/// Whether a limit of all rules is drawn beside one of a group.
pub(super) const OVERLAPPING_CAPS: bool = false;
/// Whether a limit of all rules is drawn for single elements, and where neutral faults are apart.
pub(super) const CAPS_OF_ALL_RULES: bool = false;
/// Whether something is seen before the first element where single elements have a limit.
pub(super) const BEFORE_THE_FIRST_UNDER_CAPS: bool = false;
/// Whether what is taken once, up to a limit or not at all is drawn for the bucket of artistry.
pub(super) const SETTLED_ARTISTRY: bool = false;

// Wrong today: `worked_open.rs`.

/// Whether it is left open that something happened which may make the rest cost less.
pub(super) const OPEN_AND_KIND: bool = false;
/// Whether nobody reads an angle that only costs something.
pub(super) const OPEN_WITHOUT_GATES: bool = false;
