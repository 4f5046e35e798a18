//! Elements that may be shown only so often.

use super::{
    rule::{Place, Rule, Taken, Used, Worths},
    shared::{LABEL, VOID, WHERE},
};
use crate::{
    rulebook::{
        keys::{Scope, count, defines, names_some, needs_one_of, points, table},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// Elements that may be shown only so often.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct TooMany in [[too_many]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        part scope: Scope;
        /// Which elements.
        may elements: Vec<String> = names_some(Space::Element);
        /// Elements with one of these tags.
        may tags: Vec<String> = names_some(Space::Tag);
        /// Elements of one of these classes.
        may classes: Vec<String> = names_some(Space::Class);
        /// How often they may be shown; 0 when they are forbidden.
        must at_most: u32 = count();
        /// What each one more costs.
        may amount: Points = points();
        key void: bool = VOID;
        key page: String = WHERE;
    }
    then check;
}

impl Rule for TooMany {
    fn taken(&self, place: Place, _: &dyn Worths) -> Option<Taken<'_>> {
        (place == Place::Element).then(|| Taken::alone([self.amount; 2], self.void))
    }

    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        used.add(&self.elements, &self.tags);
        used.classes.extend(self.classes.iter().map(String::as_str));
    }
}

fn check(_: &mut TooMany, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["elements", "tags", "classes"], findings);
    needs_one_of(row, &["amount", "void"], findings);
}
