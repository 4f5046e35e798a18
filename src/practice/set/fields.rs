//! The tables of a set file and their keys.

use crate::rulebook::rows::{
    Field,
    Kind::{self, Count, Degrees, Flag, OneOf, Points, Seconds, Tables, Text, Texts},
    Many,
    Need::{Optional, Required},
    TableSpec,
};

/// The tables of a set file.
pub(super) const TABLES: &[TableSpec] = &[
    TableSpec { key: "set", many: Many::One, help: "Which set this is.", fields: SET },
    TableSpec {
        key: "look",
        many: Many::Any,
        help: "A span of a clip that is watched once.",
        fields: LOOK,
    },
];

const fn must(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field { key, kind, need: Required, help }
}

const fn may(key: &'static str, kind: Kind, help: &'static str) -> Field {
    Field { key, kind, need: Optional, help }
}

const SET: &[Field] = &[
    must("id", Text, "Id that sittings name."),
    must("title", Text, "Title that is shown."),
    must("book", Text, "Rule book: a name or a TOML file beside this one."),
    may("seconds", Count, "Seconds to answer after a look; without it there is no limit."),
    may("cue", Text, "What to watch, said before every look that has no cue of its own."),
    may(
        "purpose",
        OneOf(PURPOSES),
        "What the clips are shown for; without it, the club's library.",
    ),
    may("examination", Flag, "true to examine with it: every routine needs an agreed reference."),
];

/// What athletes and parents agree to, each by itself; the library's gate knows the same words.
const PURPOSES: &[&str] = &["training", "library", "course", "publication"];

const LOOK: &[Field] = &[
    must("id", Text, "Id within the set."),
    must("clip", Text, "Clip file, from the folder of this file."),
    may("clip_hash", Text, "BLAKE3 hash of the clip's bytes, so that a changed clip is noticed."),
    may("routine", Text, "Routine within the clip; an examination asks for it."),
    must("from", Seconds, "Where the span begins, in seconds of the clip."),
    must("to", Seconds, "Where it ends."),
    must("event", Text, "Event id of the book."),
    must("division", Text, "Division id of the book."),
    may("cue", Text, "What to watch, said before the look."),
    may("flag", OneOf(&["injury", "distress"]), "What nobody should meet unprepared."),
    may("on_purpose", Flag, "true to show a flagged span all the same."),
    may("question", Tables(QUESTION), "What is asked."),
];

const QUESTION: &[Field] = &[
    must("ask", OneOf(&WORDS), "What is asked."),
    may("id", Text, "Id within the look; without it the question's number."),
    may("of", Text, "What it is asked about, in words."),
    may("answer", Texts, "The reference call."),
    may("close", Flag, "true for a close call: either answer is right."),
    may("within_degrees", Degrees, "How far an angle may be off and still be right."),
    may("within_points", Points, "How far an amount may be off and still be right."),
    may("still", Seconds, "Moment of the still, in seconds of the clip."),
    may("number", Text, "What was measured or counted, as it is shown."),
    may("line", Text, "The line of the sheet or the rule."),
    may("why", Text, "Why the reference call is what it is."),
];

/// The words of the questions, in the order of [`super::question::Ask::ALL`].
const WORDS: [&str; super::question::Ask::ALL.len()] = {
    let mut words = [""; super::question::Ask::ALL.len()];
    let mut place = 0;
    while place < words.len() {
        words[place] = super::question::Ask::ALL[place].0;
        place += 1;
    }
    words
};
