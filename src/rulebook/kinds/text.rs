//! The elements of a compulsory routine, and what a routine that differs from it costs.

use super::{
    rule::{Place, Rule, Taken, Used, Worths},
    shared::{LABEL, NEUTRAL, WHERE},
};
use crate::{
    rulebook::{
        keys::{Scope, defines, names_some, needs_one_of, number, points, table},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// The elements of a compulsory routine in their order.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Text in [[text]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        part scope: Scope;
        /// Its elements in their order.
        must elements: Vec<String> = names_some(Space::Element);
        /// What an element left out costs.
        may left_out: Points = points();
        /// And how many times its own worth.
        may left_out_value: Points = number();
        /// What an element that is not in the text costs.
        may added: Points = points();
        /// What an element in another place of the order costs.
        may swapped: Points = points();
        key neutral: bool = NEUTRAL;
        key page: String = WHERE;
    }
    then check;
}

impl Rule for Text {
    /// At an element it takes what is added or stands elsewhere, at none what is left out.
    fn taken(&self, place: Place, worths: &dyn Worths) -> Option<Taken<'_>> {
        let left_out = |id: &String| self.left_out + worths.of(id).scaled(self.left_out_value);
        let mut amounts: Vec<Points> = match place {
            Place::Element => vec![self.added, self.swapped],
            Place::Exercise => self.elements.iter().map(left_out).collect(),
        };
        amounts.retain(|amount| *amount > Points::ZERO);
        let least = amounts.iter().min().copied()?;
        let most = match place {
            Place::Element => amounts.iter().max().copied()?,
            Place::Exercise => amounts.iter().copied().sum(),
        };
        Some(Taken::alone([least, most], false))
    }

    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        used.add(&self.elements, &[]);
    }
}

fn check(_: &mut Text, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["left_out", "left_out_value", "added", "swapped"], findings);
}
