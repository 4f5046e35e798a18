//! What may stand between two elements that follow one another, and what may not.

use crate::rulebook::{
    keys::{names_some, seconds, some_of, table, words},
    rows::Space,
};

table! {
    /// What may stand between two elements that follow one another, and what may not.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Follow {
        /// Elements with these tags may stand between: an indirect connection.
        may links: Vec<String> = names_some(Space::Tag);
        /// Marks that break the series; stop, fall and swing when left out.
        may breaks: Vec<Breaker> = some_of::<Breaker>(), or vec![Breaker::Stop, Breaker::Fall, Breaker::Swing];
        /// Longest time from the end of one element's mark to the beginning of the next one's.
        may gap: Option<i64> = seconds();
    }
}

words! {
    /// A mark that breaks a series.
    pub enum Breaker {
        /// A stop.
        Stop = "stop",
        /// A fall.
        Fall = "fall",
        /// A swing that is no element.
        Swing = "swing",
        /// Help.
        Spot = "spot",
    }
}
