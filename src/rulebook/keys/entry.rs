//! What every table of a book can be asked.

use super::scope::{EVERYWHERE, Scope};
use crate::rulebook::rows::Field;

/// A table as it stands in a book; its answers come from the fields of these names.
pub(crate) trait Entry {
    /// The key of its table.
    fn table(&self) -> &'static str;

    /// The keys of its table.
    fn fields(&self) -> &'static [Field];

    /// Its id.
    fn id(&self) -> Option<&str> {
        None
    }

    /// Its name on the sheet.
    fn label(&self) -> Option<&str> {
        None
    }

    /// Where it holds.
    fn scope(&self) -> &Scope {
        &EVERYWHERE
    }

    /// Whether its amount comes off the whole score instead of execution.
    fn is_neutral(&self) -> bool {
        false
    }
}
