//! A rule book as values: what the reader makes of a file and the evaluator works from.

use crate::rulebook::{
    keys::{Source, Table},
    kinds::{
        angle::Angle,
        attempts::Attempts,
        bonus::Bonus,
        bonus_limit::BonusLimit,
        cap::Cap,
        class::Class,
        connection::Connection,
        division::Division,
        element::{Element, joined},
        event::Event,
        fault::Fault,
        head::{HEAD, OpenCalls},
        merge::Merge,
        panel::Panel,
        replace::Replace,
        requirement::Requirement,
        rule::Rule,
        scoring::Scoring,
        text::Text,
        time::Time,
        too_few::TooFew,
        too_many::TooMany,
        value_parts::ValueParts,
        when::When,
    },
    rows::TableSpec,
};

/// Makes the book from the list of its kinds of rule: its lists, how they are read, looked up by
/// event and division (every one, or only the first), and gone through, and the tables of a file.
macro_rules! book {
    ($(
        $(#[doc = $about:literal])+
        $rules:ident: $kind:ident => $which:ident $vis:vis $look_up:ident;
    )+) => {
        /// One programme's rules in one edition.
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct Book {
            /// Id that marks files name.
            pub id: String,
            /// Title in the programme's words.
            pub title: String,
            /// Edition.
            pub edition: String,
            /// First day of validity, `2026-01-01`; empty when open.
            pub valid_from: String,
            /// Last day of validity; empty when open.
            pub valid_to: String,
            /// Name or path that it was read from.
            pub source: String,
            /// BLAKE3 hash of the file's text, in hex.
            pub hash: String,
            /// How open calls are decided for the score that is shown.
            pub open_calls: OpenCalls,
            /// Divisions, easiest first.
            pub divisions: Vec<Division>,
            /// Events in the book's order.
            pub events: Vec<Event>,
            /// Classes of elements, lowest first.
            pub classes: Vec<Class>,
            /// Elements and vaults.
            pub elements: Vec<Element>,
            $( $(#[doc = $about])+ pub $rules: Vec<$kind>, )+
        }

        /// The tables of a rule book in the order in which they are read best.
        pub(crate) const TABLES: &[TableSpec] = &[
            HEAD,
            Division::SPEC,
            Event::SPEC,
            Class::SPEC,
            $( $kind::SPEC, )+
            Element::SPEC,
        ];

        impl Book {
            /// Takes the rules and the elements from where they are read.
            pub(crate) fn fill(&mut self, source: &mut impl Source) {
                $( self.$rules = source.each(); )+
                self.elements = joined(source.each());
            }

            /// Exchanges one table's list with that of another book, or everything where it is no list
            /// of rules or elements.
            pub(crate) fn exchange(&mut self, table: &str, other: &mut Self) {
                match table {
                    $( table if table == $kind::KEY => {
                        std::mem::swap(&mut self.$rules, &mut other.$rules);
                    } )+
                    table if table == Element::KEY => {
                        std::mem::swap(&mut self.elements, &mut other.elements);
                    }
                    _ => std::mem::swap(self, other),
                }
            }

            /// Returns the rules of all kinds.
            pub(crate) fn rules(&self) -> Vec<&dyn Rule> {
                let mut rules: Vec<&dyn Rule> = Vec::new();
                $( rules.extend(self.$rules.iter().map(|rule| rule as &dyn Rule)); )+
                rules
            }

            $( book! { @$which $(#[doc = $about])+ $rules: $kind => $vis $look_up } )+
        }
    };

    (@each $(#[doc = $about:literal])+ $rules:ident: $kind:ident => $vis:vis $look_up:ident) => {
        $(#[doc = $about])+
        ///
        /// Returns those of the event and division, in the book's order.
        $vis fn $look_up(&self, event: &str, division: &str) -> Vec<&$kind> {
            self.$rules.iter().filter(|rule| rule.scope.covers(event, division)).collect()
        }
    };
    (@first $(#[doc = $about:literal])+ $rules:ident: $kind:ident => $vis:vis $look_up:ident) => {
        $(#[doc = $about])+
        ///
        /// Returns the first of the event and division.
        $vis fn $look_up(&self, event: &str, division: &str) -> Option<&$kind> {
            self.$rules.iter().find(|rule| rule.scope.covers(event, division))
        }
    };
}

book! {
    /// How the score is built.
    scorings: Scoring => first pub scoring;
    /// How many value parts are asked for.
    value_parts: ValueParts => first pub(crate) value_parts_of;
    /// What a routine must show.
    requirements: Requirement => each pub(crate) requirements_of;
    /// What adds to the score where elements follow one another.
    connections: Connection => each pub(crate) connections_of;
    /// Texts of compulsory routines.
    texts: Text => first pub text_of;
    /// What is asked of angles.
    angles: Angle => each pub(crate) angles_in;
    /// Faults a judge writes down.
    faults: Fault => each pub faults_of;
    /// What follows from a fall, a spot, a swing, a stop, a contact, a landing.
    whens: When => each pub(crate) whens_of;
    /// What replaces what.
    replaces: Replace => each pub(crate) replaces_of;
    /// Limits on what a group of rules can cost.
    caps: Cap => each pub(crate) caps_of;
    /// Small faults that together make a larger one.
    merges: Merge => each pub(crate) merges_of;
    /// Elements that may be shown only so often.
    too_many: TooMany => each pub(crate) too_many_of;
    /// What too few elements cost.
    too_few: TooFew => each pub(crate) too_few_of;
    /// Limits of time.
    times: Time => each pub(crate) times_of;
    /// What adds to the score.
    bonuses: Bonus => each pub(crate) bonuses_of;
    /// Limits on what bonuses add together.
    bonus_limits: BonusLimit => each pub(crate) bonus_limits_of;
    /// How the scores of several attempts become one.
    attempts: Attempts => first pub attempts_of;
    /// How the scores of several judges become one.
    panels: Panel => each pub(crate) panels_of;
}
