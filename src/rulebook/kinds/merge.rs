//! Small faults that together make a larger one.

use super::rule::Rule;
use crate::{
    rulebook::{
        keys::{Scope, count, names, points, table},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// Small faults of one rule that together make a larger one at the same element.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Merge in [[merge]] {
        part scope: Scope;
        /// The rule.
        must rule: String = names(Space::Rule);
        /// The small amount.
        must of: Points = points();
        /// How many of them.
        must count: u32 = count(), or 2;
        /// The amount that they make.
        must into: Points = points();
    }
    then check;
}

impl Rule for Merge {}

fn check(merge: &mut Merge, row: &Row, findings: &mut Findings<'_>) {
    if merge.count < 2 {
        let message = "it takes at least two to merge".to_owned();
        findings.error(&row.span_of("count"), message, "write 2 or more");
    }
}
