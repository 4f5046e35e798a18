//! Pages over the clip screen: the sheet of keys, and pages of the rule book.

pub(crate) mod find;
pub(crate) mod help;
pub(crate) mod reference;
mod showing;
