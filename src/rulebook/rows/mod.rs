//! From TOML to checked tables, with every finding at its place; knows nothing of any rule.

pub(crate) mod diagnostic;
pub(crate) mod field;
pub(crate) mod findings;
pub(crate) mod number;
pub(crate) mod row;
pub(crate) mod walk;
