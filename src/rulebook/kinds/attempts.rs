//! How the scores of several attempts become one.

use super::{
    digits,
    rule::Rule,
    shared::{ROUNDING, Rounding},
};
use crate::{
    rulebook::{
        keys::{Scope, count, one_of, points, table, words},
        rows::{Findings, Row},
    },
    units::Points,
};

table! {
    /// How the scores of several attempts become one.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Attempts in [[attempts]] {
        part scope: Scope;
        /// The best, the mean, or all added up.
        must take: Take = one_of::<Take>(), or Take::Best;
        /// Decimals of a mean; 3 when left out.
        may digits: u32 = count(), or 3;
        key rounding: Rounding = ROUNDING;
        /// What is added where no two attempts show elements of one family and none is void.
        may unlike_adds: Option<Points> = points();
    }
    then check;
}

words! {
    /// In which way attempts become one score.
    pub enum Take {
        /// The best one.
        Best = "best",
        /// The mean of all.
        Mean = "mean",
        /// All added up.
        Sum = "sum",
    }
}

impl Rule for Attempts {}

fn check(rule: &mut Attempts, row: &Row, findings: &mut Findings<'_>) {
    digits::check(rule.digits, row, findings);
}
