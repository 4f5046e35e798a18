//! From TOML to checked tables, with every finding at its place; knows nothing of any rule.

mod diagnostic;
mod field;
mod findings;
mod number;
mod row;
mod walk;

pub use diagnostic::{Diagnostic, Severity, counted_findings, render};
pub(crate) use field::{Field, Kind, Many, Need, Space, TableSpec};
pub(crate) use findings::{Findings, nearest};
pub(crate) use row::{Raw, Row, Value, Varies, VariesFrom};
pub(crate) use walk::{Walked, parsed, walk};
