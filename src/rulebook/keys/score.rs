//! Keys of how a score is built.

use crate::rulebook::rows::field::{
    Field,
    Kind::{Count, Flag, Names, NamesSome, OneOf, Points, Table, Tables},
    Space,
};

use super::common::{CONSEQUENCES, DIVISIONS, EVENTS, WHERE, may, must};

/// Keys of `[[scoring]]`.
pub(crate) const SCORING: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must(
        "formula",
        OneOf(&["start-minus", "start-minus-half", "buckets", "open"]),
        "How the score is built.",
    ),
    may("start", Points, "Start value before anything is missing; a vault brings its own."),
    may("floor", Points, "The score is never lower than this unless it is void."),
    may("ceiling", Points, "The score is never higher than this."),
    may(
        "buckets",
        Table(&[
            must("value_parts", Points, "Full bucket of value parts."),
            must("requirements", Points, "Full bucket of requirements."),
            must("artistry", Points, "Full bucket of artistry."),
            must("execution", Points, "Full bucket of execution."),
        ]),
        "The four buckets of the formula \"buckets\".",
    ),
    may("execution", Points, "Execution before deductions, for the formula \"open\"."),
    may("best", Count, "How many elements count, for the formula \"open\"."),
    may(
        "difficulty_at_most",
        Points,
        "The most that elements and requirements make together, for the formula \"open\".",
    ),
    may(
        "limits",
        Tables(&[
            must("tags", NamesSome(Space::Tag), "Elements with one of these tags."),
            may("at_most", Count, "At most so many of them count."),
            may("at_least", Count, "So many of the places are kept for them."),
        ]),
        "Which elements may be among the best.",
    ),
    may("sharing", OneOf(&["many", "one"]), "How many requirements one element may serve."),
    may(
        "same_counts",
        Count,
        "How often the same element counts as a value part; 1 when left out.",
    ),
    may(
        "same_again",
        OneOf(&["anywhere", "other-connection"]),
        "Where the same element counts again: anywhere, or only with another element before or after it.",
    ),
    may("not_allowed", OneOf(CONSEQUENCES), "What an element not allowed brings."),
    may("not_allowed_amount", Points, "The amount for \"not_allowed\"."),
    may("unlisted_vault", OneOf(CONSEQUENCES), "What a vault outside the list brings."),
    may("unlisted_vault_amount", Points, "The amount for \"unlisted_vault\"."),
    may("not_as_announced", OneOf(CONSEQUENCES), "What a vault other than announced brings."),
    may("not_as_announced_amount", Points, "The amount for \"not_as_announced\"."),
];

/// Keys of `[[value_parts]]`.
pub(crate) const VALUE_PARTS: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must(
        "need",
        Tables(&[
            must("class", Names(Space::Class), "Class of the elements."),
            must("count", Count, "How many."),
            must("price", Points, "What each missing one costs."),
        ]),
        "Class by class.",
    ),
    may(
        "higher_replaces",
        Flag,
        "Whether a higher class may fill a lower place; true when left out.",
    ),
    WHERE,
];

/// Keys of `[[attempts]]`.
pub(crate) const ATTEMPTS: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must("take", OneOf(&["best", "mean", "sum"]), "The best, the mean, or all added up."),
    may("digits", Count, "Decimals of a mean; 3 when left out."),
    may("rounding", OneOf(&["cut", "nearest"]), "What happens to further decimals; cut."),
];

/// Keys of `[[panel]]`.
pub(crate) const PANEL: &[Field] = &[
    EVENTS,
    DIVISIONS,
    may(
        "combine",
        OneOf(&["mean", "drop-ends", "middle"]),
        "Which scores count; all when left out.",
    ),
    may("middle", Count, "How many in the middle count, for \"middle\"."),
    may("digits", Count, "Decimals of the result; 3 when left out."),
    may("rounding", OneOf(&["cut", "nearest"]), "What happens to further decimals; cut."),
    may(
        "allowed",
        Tables(&[
            must("from", Points, "From this average on."),
            must("difference", Points, "The scores may differ by this much."),
        ]),
        "Differences between judges that are allowed.",
    ),
    may(
        "beyond",
        OneOf(&["confer", "average", "mean-of-all"]),
        "What happens beyond that: the judges confer, the mean with the reference, or of all.",
    ),
];
