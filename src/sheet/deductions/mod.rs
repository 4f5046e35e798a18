//! What is taken off, and what limits it.

pub(crate) mod angles;
pub(crate) mod bonuses;
pub(crate) mod charge;
pub(crate) mod charges;
pub(crate) mod compulsory;
pub(crate) mod limits;
pub(crate) mod times;
