//! One rule that stands in the place of others.

use super::rule::Rule;
use crate::rulebook::{
    keys::{Scope, names, names_some, table},
    rows::Space,
};

table! {
    /// A rule that stands in the place of others at the same element.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Replace in [[replace]] {
        part scope: Scope;
        /// The rule that stays.
        must rule: String = names(Space::Rule);
        /// The rules that go.
        must drops: Vec<String> = names_some(Space::Rule);
    }
}

impl Rule for Replace {}
