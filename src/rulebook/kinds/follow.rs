//! What may stand between two elements that follow one another, and what may not.

use crate::rulebook::{
    keys::{names_some, one_of, seconds, some_of, table, words},
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
        /// Where an element that lost the credit "connection" breaks it: behind itself, on both sides, or
        /// nowhere.
        may lost_breaks: LostBreaks = one_of::<LostBreaks>();
    }
}

words! {
    /// Where an element that lost the credit "connection" breaks a series.
    #[derive(Default)]
    pub enum LostBreaks {
        /// Behind itself; where it only stands between two others, nowhere.
        #[default]
        Behind = "behind",
        /// On both sides, also where it only stands between.
        Both = "both-sides",
        /// Nowhere.
        Nowhere = "nowhere",
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
