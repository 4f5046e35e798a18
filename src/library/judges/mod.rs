//! Several judges of one routine side by side, and what they agree on.

pub(crate) mod agree;
pub(crate) mod given;
pub(crate) mod reference;
pub(crate) mod settle;
