//! How many elements of each class a routine needs.

use std::cmp::Ordering;

use super::{rule::Rule, shared::WHERE};
use crate::{
    rulebook::{
        keys::{Scope, count, flag, inner_list, names, points, table},
        rows::Space,
    },
    units::Points,
};

table! {
    /// How many elements of each class a routine needs.
    #[derive(Clone, Debug, PartialEq)]
    pub struct ValueParts in [[value_parts]] {
        part scope: Scope;
        /// Class by class.
        must need: Vec<Need> = inner_list::<Need>();
        /// Whether a higher class may fill a lower place; true when left out.
        may higher_replaces: bool = flag(), or true;
        key page: String = WHERE;
    }
}

table! {
    /// Value parts of one class.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Need {
        /// Class of the elements.
        must class: String = names(Space::Class);
        /// How many.
        must count: u32 = count();
        /// What each missing one costs.
        must price: Points = points();
    }
}

impl Rule for ValueParts {}

impl ValueParts {
    /// Returns whether an element of a class in this place of the order may fill one of that.
    pub fn takes(&self, own: Option<usize>, asked: Option<usize>) -> bool {
        match own.cmp(&asked) {
            Ordering::Equal => true,
            Ordering::Greater => self.higher_replaces,
            Ordering::Less => false,
        }
    }
}
