//! What is drawn, and how often in a hundred: a family is left out where the guide is silent.

pub(super) const DEDUCTIONS: bool = true;
pub(super) const BECOMES: usize = 20;
/// Value parts are no part of the formula `open`.
pub(super) const VALUE_PARTS_UNDER_OPEN: bool = true;
/// Whether `floor` is drawn under `open`, too.
pub(super) const FLOOR_BELOW_ALL_FORMULAS: bool = true;
pub(super) const VALUES: usize = 10;
/// Whether `each_tag` is drawn beside `connected`, `with` and `apart_from`.
pub(super) const EACH_TAG_WITH_OTHERS: bool = true;
/// Whether `apart_from` is drawn where one of the two is no series: the guide speaks of passes.
pub(super) const APART_OF_SINGLE_ELEMENTS: bool = true;
/// Whether `each_tag` is drawn where one element serves one requirement.
pub(super) const EACH_TAG_UNDER_SHARING_ONE: bool = true;
/// Whether `with` is drawn beside `each`: the guide does not say what it asks of one that is not whole.
pub(super) const WITH_OF_PARTS: bool = true;
/// Whether a series that is not whole is drawn where one element serves one requirement.
pub(super) const PARTS_OF_SERIES_UNDER_SHARING_ONE: bool = true;
/// Whether `gap` is drawn beside `links`: the guide does not say whether it is counted over a link.
pub(super) const GAP_OVER_LINKS: bool = true;
/// Whether `with` is drawn where one element serves one requirement.
pub(super) const WITH_UNDER_SHARING_ONE: bool = true;
pub(super) const COUNTED: bool = true;
pub(super) const TEXTS: bool = true;
pub(super) const NEUTRAL_IN_GROUPS: bool = true;
/// Whether a limit of all rules is drawn beside one of a group.
pub(super) const OVERLAPPING_CAPS: bool = true;
/// Whether a limit of all rules is drawn for single elements, and where neutral faults are apart.
pub(super) const CAPS_OF_ALL_RULES: bool = true;
pub(super) const SEVERAL_CONNECTIONS: bool = true;
/// Whether it is left open that a rule was broken which may make others cost less.
pub(super) const OPEN_AND_KIND: bool = false;
/// Whether something is seen before the first element where single elements have a limit.
pub(super) const BEFORE_THE_FIRST_UNDER_CAPS: bool = true;
pub(super) const OPEN_MARKS: usize = 15;
/// Whether what stands between two elements of a series loses the credit of a connection.
pub(super) const LINKS_THAT_LOSE_CREDIT: bool = true;
/// Whether what is taken once, or up to a limit, is drawn for the bucket of artistry.
pub(super) const SETTLED_ARTISTRY: bool = true;
/// Whether `links` is drawn where an element that serves one requirement may not serve another.
pub(super) const LINKS_WITHOUT_SHARING: bool = true;
/// Whether `too_few` is drawn beside elements that are not allowed: the guide does not say whether they
/// count.
pub(super) const TOO_FEW_OF_NOT_ALLOWED: bool = false;
/// Whether an element that may add something loses some of its credit: the guide does not say which it
/// needs.
pub(super) const ADDS_WITH_SOME_CREDIT: bool = false;
/// Whether `only_first` and `only_last` are drawn beside `links`.
pub(super) const ENDS_BESIDE_LINKS: bool = true;
/// Whether `links` is drawn for connections.
pub(super) const LINKS_OF_CONNECTIONS: bool = true;
/// Whether `gate_within` is drawn for an angle that a requirement asks: the guide does not say whether one
/// that keeps its credit is met.
pub(super) const ASKS_WITHIN: bool = false;
/// Whether nobody reads an angle that only costs something.
pub(super) const OPEN_WITHOUT_GATES: bool = false;
/// Whether a series that another is apart from is drawn as one that may be whole in part.
pub(super) const PARTS_OF_PASSES: bool = true;
