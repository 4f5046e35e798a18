//! Elements that follow one another and add to the score.

use super::{
    follow::Follow,
    rule::{Rule, Used},
    shared::{LABEL, SHORTHAND, WHERE},
};
use crate::{
    rulebook::{
        keys::{Scope, count, defines, flag, names_some, points, table},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// Elements that follow one another and add to the score.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Connection in [[connection]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        key shorthand: String = SHORTHAND;
        part scope: Scope;
        /// A tag for each element, in their order.
        must series: Vec<String> = names_some(Space::Tag);
        /// Whether they may come in any order.
        may any_order: bool = flag();
        part follow: Follow;
        /// What it adds.
        must amount: Points = points();
        /// How often it is given; without limit when left out.
        may at_most: Option<u32> = count();
        key page: String = WHERE;
    }
    then check;
}

impl Rule for Connection {
    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        used.add(&[], &self.series);
        used.add(&[], &self.follow.links);
    }
}

fn check(rule: &mut Connection, row: &Row, findings: &mut Findings<'_>) {
    if row.has("series") && rule.series.len() < 2 {
        let message = "a series has at least two elements".to_owned();
        findings.error(&row.span_of("series"), message, "give a tag for each of them");
    }
}
