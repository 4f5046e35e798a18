//! The table itself, in a part for each screen: what can be asked for there, and by which keys.

pub(crate) mod aside;
pub(crate) mod clip;
pub(crate) mod erase;
pub(crate) mod hand;
pub(crate) mod judges;
pub(crate) mod library;
pub(crate) mod pair;
pub(crate) mod points;
pub(crate) mod practice;
pub(crate) mod start;
