//! Sets for practice: made of what was found, played only where it may be.

pub(crate) mod look;
pub(crate) mod make_set;
