//! What is drawn, and how often in a hundred: a family is left out where the guide is silent.

pub(super) const DEDUCTIONS: bool = false;
pub(super) const ANGLES: bool = false;
/// Value parts are no part of the formula `open`.
pub(super) const VALUE_PARTS_UNDER_OPEN: bool = false;
/// Whether `floor` is drawn under `open`, too.
pub(super) const FLOOR_BELOW_ALL_FORMULAS: bool = false;
pub(super) const VALUES: usize = 10;
/// Whether `each_tag` is drawn beside `connected`, `with` and `apart_from`.
pub(super) const EACH_TAG_WITH_OTHERS: bool = false;
/// Whether `apart_from` is drawn where one of the two is no series: the guide speaks of passes.
pub(super) const APART_OF_SINGLE_ELEMENTS: bool = false;
/// Whether `each_tag` is drawn where one element serves one requirement.
pub(super) const EACH_TAG_UNDER_SHARING_ONE: bool = false;
/// Whether `with` is drawn beside `each`: the guide does not say what it asks of one that is not whole.
pub(super) const WITH_OF_PARTS: bool = false;
/// Whether a series that is not whole is drawn where one element serves one requirement.
pub(super) const PARTS_OF_SERIES_UNDER_SHARING_ONE: bool = false;
/// Whether `gap` is drawn beside `links`: the guide does not say whether it is counted over a link.
pub(super) const GAP_OVER_LINKS: bool = false;
/// Whether `with` is drawn where one element serves one requirement.
pub(super) const WITH_UNDER_SHARING_ONE: bool = false;
pub(super) const COUNTED: bool = false;
pub(super) const ADDS: bool = false;
pub(super) const TEXTS: bool = false;
pub(super) const NEUTRAL_IN_GROUPS: bool = false;
pub(super) const SEVERAL_CAPS: bool = false;
pub(super) const CAPS_OF_ALL: bool = false;
pub(super) const SEVERAL_CONNECTIONS: bool = false;
pub(super) const BEFORE_THE_FIRST: bool = false;
pub(super) const OPEN_MARKS: usize = 0;
