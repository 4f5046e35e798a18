//! Which elements count, for which places and requirements.

mod assign;
pub(crate) mod best;
pub(crate) mod connections;
pub(crate) mod earned;
pub(crate) mod elements;
pub(crate) mod linked;
pub(crate) mod matching;
pub(crate) mod requirements;
pub(crate) mod series;
mod slots;
pub(crate) mod value_parts;
mod ways;
