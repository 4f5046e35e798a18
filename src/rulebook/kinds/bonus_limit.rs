//! A limit on what bonuses add together.

use super::{
    rule::Rule,
    shared::{LABEL, WHERE},
};
use crate::{
    rulebook::keys::{Scope, points, table, text},
    units::Points,
};

table! {
    /// A limit on what the bonuses and connections of an exercise add together.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct BonusLimit in [[bonus_limit]] {
        /// Short name.
        must id: String = text();
        key label: String = LABEL;
        part scope: Scope;
        /// The most that they add; of several limits the lowest holds.
        must at_most: Points = points();
        key page: String = WHERE;
    }
}

impl Rule for BonusLimit {}
