//! Taking away: a clip with all that was made of it, or an athlete with all that is kept of her.

pub(crate) mod remove;
pub(crate) mod withdraw;
