//! Which elements count, for which places and requirements.

pub(crate) mod apart;
pub(crate) mod best;
pub(crate) mod candidates;
pub(crate) mod connections;
pub(crate) mod earned;
pub(crate) mod elements;
pub(crate) mod matching;
pub(crate) mod one_each;
pub(crate) mod requirements;
pub(crate) mod series;
pub(crate) mod value_parts;
