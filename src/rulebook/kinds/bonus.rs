//! Something that adds to the score.

use super::{
    rule::{Rule, Used},
    shared::{LABEL, WHERE},
};
use crate::{
    rulebook::{
        keys::{Scope, count, defines, names_some, needs_one_of, points, table, text, texts},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// Something that adds to the score.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Bonus in [[bonus]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        part scope: Scope;
        /// Elements that earn it.
        may elements: Vec<String> = names_some(Space::Element);
        /// Elements with one of these tags earn it.
        may tags: Vec<String> = names_some(Space::Tag);
        /// A fact of the attempt that earns it, in place of elements.
        may fact: String = text();
        /// Of a fact: the values that earn it.
        may is: Vec<String> = texts();
        /// What it adds.
        must amount: Points = points();
        /// How often it is given; 1 when left out.
        may at_most: u32 = count(), or 1;
        /// Rules that take it away at the same element.
        may unless: Vec<String> = names_some(Space::Rule);
        key page: String = WHERE;
    }
    then check;
}

impl Rule for Bonus {
    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        used.add(&self.elements, &self.tags);
    }
}

fn check(_: &mut Bonus, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["elements", "tags", "fact"], findings);
}
