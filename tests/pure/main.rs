//! The pure tests.

mod books;
mod geometry_decide;
mod rulebook;
mod saltmarsh;
mod sheet;
mod sheet_laws;
mod trade;
