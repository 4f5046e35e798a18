//! Where the texts of books lie: the only floor that touches files.

pub(crate) mod drafts;
pub(crate) mod editions;
pub(crate) mod loader;
pub(crate) mod watch;
