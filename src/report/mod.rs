//! What leaves the program: pages that a person prints or sends.

mod sheet_page;

pub use sheet_page::{Still, sheet_page};
