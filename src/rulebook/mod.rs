//! The rules of one programme as data: the model, the reader with good errors, the shipped books.
//!
//! [`read`] is pure; only `loader` touches a file.

mod ask;
mod build;
mod build_elements;
mod build_rules;
mod diagnostic;
mod field;
mod fields;
mod findings;
mod lint;
mod lint_scope;
mod lint_sums;
mod loader;
pub mod model;
mod number;
mod read;
mod row;
mod schema;
mod vary;
mod walk;

pub use diagnostic::{Diagnostic, Severity, render};
pub use loader::{LoadError, blank, load, shipped, shipped_text};
pub use model::{
    Angle, Band, BandAmount, Book, Cap, Class, Consequence, Counts, Credit, Division, Element,
    Event, Fault, FaultAmount, Formula, Moment, Need, OpenCalls, Per, Replace, Requirement, Scope,
    Scoring, Sharing, Trigger, ValueParts, Vault, When,
};
pub use read::read;
pub use schema::schema;
