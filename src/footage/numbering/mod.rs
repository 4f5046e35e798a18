//! Which packet shows which frame, and when.

pub(crate) mod facts;
pub(crate) mod prove;
pub(crate) mod table;
