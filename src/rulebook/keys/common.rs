//! Keys and words that several tables share.

use crate::rulebook::rows::field::{
    Field,
    Kind::{self, DefinesSome, Flag, NamesSome, OneOf, Seconds, SomeOf, Text},
    Need::{Optional, Required},
    Space,
};

/// Returns a key that must be there.
pub(crate) const fn must(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field { key, kind, need: Required, help }
}

/// Returns a key that may be left out.
pub(crate) const fn may(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field { key, kind, need: Optional, help }
}

/// Where a rule holds.
pub(crate) const EVENTS: Field =
    may("events", NamesSome(Space::Event), "Events it holds on; all when left out.");
/// As above.
pub(crate) const DIVISIONS: Field =
    may("divisions", NamesSome(Space::Division), "Divisions it holds in; all when left out.");
/// What a rule is called.
pub(crate) const LABEL: Field = must("label", Text, "Its name as it stands on the sheet.");
/// As above.
pub(crate) const SHORTHAND: Field = may("shorthand", Text, "How a judge writes it.");
/// Where it is printed.
pub(crate) const WHERE: Field = may("where", Text, "Page in the club's own printed book.");
/// How often an amount is taken.
pub(crate) const COUNTS: Field =
    may("counts", OneOf(COUNTS_WORDS), "How often the amount is taken.");
/// Groups are named by the rules in them.
pub(crate) const GROUP: Field = may("group", DefinesSome(Space::Group), "Group for a cap.");
/// Credit that goes with an amount.
pub(crate) const REMOVES: Field = may("removes", SomeOf(CREDITS), "Credit that the element loses.");
/// Whose amount it is.
pub(crate) const NEUTRAL: Field = may(
    "neutral",
    Flag,
    "Whether it is taken off the whole score: not halved, and off no bucket and no execution.",
);
/// Whether nothing counts.
pub(crate) const VOID: Field = may("void", Flag, "Whether the exercise counts nothing.");
/// What may stand between two elements that follow one another.
pub(crate) const LINKS: Field = may(
    "links",
    NamesSome(Space::Tag),
    "Elements with these tags may stand between: an indirect connection.",
);
/// What breaks a series.
pub(crate) const BREAKS: Field = may(
    "breaks",
    SomeOf(BREAKERS),
    "Marks that break the series; stop, fall and swing when left out.",
);
/// How long it may take.
pub(crate) const GAP: Field = may(
    "gap",
    Seconds,
    "Longest time from the end of one element's mark to the beginning of the next one's.",
);

/// Words for how often an amount is taken.
pub(crate) const COUNTS_WORDS: &[&str] = &["each", "once-per-element", "once-per-phase", "once"];
/// Words for kinds of credit.
pub(crate) const CREDITS: &[&str] = &["value-part", "requirement", "connection"];
/// Words for consequences; an amount is written as `amount`.
pub(crate) const CONSEQUENCES: &[&str] = &["no-credit", "amount", "void"];
/// Words for marks that break a series.
pub(crate) const BREAKERS: &[&str] = &["stop", "fall", "swing", "spot"];
/// Words for body parts, as in the marks file.
pub(crate) const BODY_PARTS: &[&str] =
    &["head", "back", "seat", "hips", "knees", "feet", "hand", "body"];
/// Words for phases, as in the marks file.
pub(crate) const PHASES: &[&str] = &["first_flight", "support", "second_flight", "landing"];
/// Words for quantities, as in the marks file.
pub(crate) const QUANTITIES: &[&str] = &[
    "body-line",
    "repulsion",
    "off-vertical",
    "split",
    "kick",
    "turn",
    "trunk",
    "bend",
    "twist",
    "length",
    "offset",
    "knee-distance",
];
/// Words for moments, as in the marks file.
pub(crate) const MOMENTS: &[&str] =
    &["hand_contact", "hand_release", "heel_lift", "heel_drop", "landing"];

#[cfg(test)]
mod tests {
    use serde::de::DeserializeOwned;

    use super::{BODY_PARTS, MOMENTS, PHASES, QUANTITIES};
    use crate::{
        marks::{BodyPart, Phase, Quantity},
        rulebook::Moment,
    };

    fn all_stand_for<T: DeserializeOwned>(words: &[&str]) -> Vec<T> {
        let value = |word: &&str| serde_json::from_value((*word).into()).unwrap();
        words.iter().map(value).collect()
    }

    #[test]
    fn the_words_are_those_of_the_marks_file() {
        assert_eq!(all_stand_for::<Quantity>(QUANTITIES), Quantity::ALL);
        all_stand_for::<BodyPart>(BODY_PARTS);
        all_stand_for::<Phase>(PHASES);
        all_stand_for::<Moment>(MOMENTS);
    }
}
