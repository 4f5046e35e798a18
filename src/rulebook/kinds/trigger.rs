//! The mark that brings a rule about.

use crate::{
    marks::{BodyPart, LandingOn, Manner, Phase},
    rulebook::{
        keys::{
            Part, names_some, needs_one_of, number, one_of, only, some_of, table, text, texts,
            words,
        },
        rows::{Field, Findings, Row, Space},
    },
    units::Points,
};

/// The mark that brings a rule about; empty lists take any.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trigger {
    /// A fall.
    Fall,
    /// Somebody helped.
    Spot {
        /// In which phases of a vault.
        phases: Vec<Phase>,
    },
    /// A swing that is no element; after these elements only, where the list names some.
    Swing {
        /// Tags of the element before it.
        after: Vec<String>,
    },
    /// The movement stopped.
    Stop,
    /// A body part touched.
    Contact {
        /// Which parts.
        parts: Vec<BodyPart>,
        /// In which phases.
        phases: Vec<Phase>,
        /// In which manner.
        manners: Vec<Manner>,
    },
    /// A fact of the attempt, such as the board, is one of these, or a number outside these.
    Fact {
        /// Name of the fact, as the marks file has it.
        fact: String,
        /// The values that bring the rule about.
        is: Vec<String>,
        /// Below this number, in thousandths.
        below: Option<Points>,
        /// Above this number, in thousandths.
        above: Option<Points>,
    },
    /// The landing was made on these.
    Landing {
        /// What on.
        on: Vec<LandingOn>,
    },
}

words! {
    /// The mark, as it is written.
    enum Mark {
        Fall = "fall",
        Spot = "spot",
        Swing = "swing",
        Stop = "stop",
        Contact = "contact",
        Landing = "landing",
        Fact = "fact",
    }
}

table! {
    /// The keys that say which mark.
    #[derive(Debug)]
    struct Written {
        /// The mark that brings it about.
        must mark: Option<Mark> = one_of::<Mark>();
        /// Of a swing: tags of the element that it follows.
        may after: Vec<String> = names_some(Space::Tag);
        /// Of a contact: which parts; any when left out.
        may parts: Vec<BodyPart> = some_of::<BodyPart>();
        /// Of a contact or help on a vault: in which phases; any when left out.
        may phases: Vec<Phase> = some_of::<Phase>();
        /// Of a contact: brushed or bore weight.
        may manners: Vec<Manner> = some_of::<Manner>();
        /// Of a landing: what the athlete landed on.
        may on: Vec<LandingOn> = some_of::<LandingOn>();
        /// Of a fact of the attempt: its name, such as board or mat.
        may fact: String = text();
        /// Of a fact: the values that bring the rule about.
        may is: Vec<String> = texts();
        /// Of a fact that is a number: below this it brings the rule about.
        may below: Option<Points> = number();
        /// Of a fact that is a number: above this it brings the rule about.
        may above: Option<Points> = number();
    }
}

impl Part for Trigger {
    const FIELDS: &'static [Field] = Written::FIELDS;

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let written = Written::read(row, findings);
        // A mark that is none was reported where it stands.
        let Some(mark) = written.mark else { return Self::Fall };
        let Written { after, parts, phases, manners, on, fact, is, below, above, .. } = written;
        let (trigger, own): (Self, &[&str]) = match mark {
            Mark::Fall => (Self::Fall, &["mark"]),
            Mark::Spot => (Self::Spot { phases }, &["mark", "phases"]),
            Mark::Swing => (Self::Swing { after }, &["mark", "after"]),
            Mark::Stop => (Self::Stop, &["mark"]),
            Mark::Contact => {
                let own = &["mark", "parts", "phases", "manners"];
                (Self::Contact { parts, phases, manners }, own)
            }
            Mark::Landing => (Self::Landing { on }, &["mark", "on"]),
            Mark::Fact => {
                needs_one_of(row, &["fact"], findings);
                let own = &["mark", "fact", "is", "below", "above"];
                (Self::Fact { fact, is, below, above }, own)
            }
        };
        let what = format!("the mark \"{}\"", row.word("mark"));
        only(row, Written::FIELDS, own, (&what, "take the key out"), findings);
        trigger
    }
}
