//! An apparatus or kind of exercise.

use crate::rulebook::{
    keys::{DIVISIONS, defines, table, text},
    rows::Space,
};

table! {
    /// An apparatus.
    #[derive(Clone, Debug, Default, PartialEq, Eq)]
    pub struct Event in [[event]] {
        /// Short name: vault, bars, beam, floor.
        must id: String = defines(Space::Event);
        /// Its name.
        must name: String = text();
        key divisions: Vec<String> = DIVISIONS;
    }
}
