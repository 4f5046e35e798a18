//! What the library keeps for itself: its folder, its list of folders and searches, its ledgers.

pub(crate) mod day;
pub(crate) mod folder;
pub(crate) mod ledger;
pub(crate) mod shelf;
