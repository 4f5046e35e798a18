//! A limit of time.

use super::{
    rule::{Place, Rule, Taken, Used, Worths},
    shared::{Credit, GROUPS, LABEL, NEUTRAL, VOID, WHERE},
};
use crate::{
    rulebook::{
        keys::{
            Part, Scope, defines, names_some, needs_one_of, one_of, only, points, seconds, some_of,
            table, words,
        },
        rows::{Field, Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// A limit of time.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Time in [[time]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        part scope: Scope;
        part of: TimeOf;
        /// Shorter than this costs.
        may at_least: Option<i64> = seconds();
        /// Longer than this costs.
        may at_most: Option<i64> = seconds();
        /// When a signal is given; it stands on the card.
        may warn_at: Option<i64> = seconds();
        /// What it costs.
        may amount: Points = points();
        key void: bool = VOID;
        /// Of an element: credit that it loses.
        may removes: Vec<Credit> = some_of::<Credit>();
        key neutral: bool = NEUTRAL;
        key groups: Vec<String> = GROUPS;
        key page: String = WHERE;
    }
    then check;
}

/// What is timed: always from the first frame of a span to its last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TimeOf {
    /// The routine's own span.
    Exercise,
    /// A fall that was marked as a span.
    Fall,
    /// A stop that was marked as a span.
    Stop,
    /// An element that was marked as a span.
    Element {
        /// Element ids.
        elements: Vec<String>,
        /// Tags of elements.
        tags: Vec<String>,
    },
}

words! {
    /// What is timed, as it is written.
    enum Timed {
        Exercise = "exercise",
        Fall = "fall",
        Stop = "stop",
        Element = "element",
    }
}

table! {
    /// The keys that say what is timed.
    #[derive(Debug)]
    struct Written {
        /// What is timed, from the first to the last frame of its span.
        must of: Timed = one_of::<Timed>(), or Timed::Exercise;
        /// Of an element: which.
        may elements: Vec<String> = names_some(Space::Element);
        /// Of an element: those with one of these tags.
        may tags: Vec<String> = names_some(Space::Tag);
    }
}

impl Part for TimeOf {
    const FIELDS: &'static [Field] = Written::FIELDS;

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let Written { of, elements, tags } = Written::read(row, findings);
        let what = format!("the time of \"{}\"", row.word("of"));
        let mut alone = |of| {
            let said = (what.as_str(), "take the key out, or write of = \"element\"");
            only(row, Written::FIELDS, &["of"], said, findings);
            of
        };
        match of {
            Timed::Exercise => alone(Self::Exercise),
            Timed::Fall => alone(Self::Fall),
            Timed::Stop => alone(Self::Stop),
            Timed::Element => {
                needs_one_of(row, &["elements", "tags"], findings);
                Self::Element { elements, tags }
            }
        }
    }
}

impl Rule for Time {
    fn taken(&self, place: Place, _: &dyn Worths) -> Option<Taken<'_>> {
        let (here, again) = match self.of {
            TimeOf::Exercise => (place == Place::Exercise, false),
            TimeOf::Element { .. } => (place == Place::Element, false),
            TimeOf::Fall | TimeOf::Stop => (true, true),
        };
        let taken = Taken { once: [self.amount; 2], again, groups: &self.groups, void: self.void };
        here.then_some(taken)
    }

    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        if let TimeOf::Element { elements, tags } = &self.of {
            used.add(elements, tags);
        }
    }
}

fn check(time: &mut Time, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["at_least", "at_most"], findings);
    needs_one_of(row, &["amount", "void", "removes"], findings);
    if row.has("removes") && !matches!(time.of, TimeOf::Element { .. }) {
        let message = "only an element has credit to lose".to_owned();
        let remedy = "take the key out, or write of = \"element\"";
        findings.error(&row.span_of("removes"), message, remedy);
    }
}
