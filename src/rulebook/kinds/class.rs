//! A class of elements, such as low or high value.

use crate::{
    rulebook::{
        keys::{defines, points, table, text},
        rows::Space,
    },
    units::Points,
};

table! {
    /// A class of elements, lowest first.
    #[derive(Clone, Debug, Default, PartialEq, Eq)]
    pub struct Class in [[class]] {
        /// Short name.
        must id: String = defines(Space::Class);
        /// Its name.
        must name: String = text();
        /// Worth of one element, for books that add elements up.
        may value: Points = points();
    }
}
