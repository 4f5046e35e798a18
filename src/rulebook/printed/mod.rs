//! The tables and their keys as a person or an editor reads them.

pub(crate) mod reference;
pub(crate) mod schema;
