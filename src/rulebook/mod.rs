//! The rules of one programme as data: the model, the reader with good errors, the shipped books.
//!
//! [`read`] is pure; only `loader` touches a file.

mod angle;
mod ask;
mod build;
mod build_elements;
mod build_rules;
mod build_small;
mod diagnostic;
mod element;
mod field;
mod fields;
mod findings;
mod lint;
mod lint_scope;
mod lint_sums;
mod loader;
mod model;
mod number;
mod panel;
mod read;
mod reference;
mod row;
mod rule;
mod schema;
mod vary;
mod walk;

pub use angle::{Angle, Band, BandAmount, Credit};
pub use diagnostic::{Diagnostic, Severity, render};
pub use element::{Element, Moment, Vault};
pub use loader::{LoadError, blank, load, shipped, shipped_text};
pub use model::{
    Book, Class, Consequence, Division, Event, Formula, OpenCalls, Scope, Scoring, Sharing,
};
pub use panel::{Allowed, Combine, Panel, Rounding};
pub use read::read;
pub use reference::reference;
pub use rule::{
    Cap, Counts, Fault, FaultAmount, Merge, Need, Per, Replace, Requirement, TooMany, Trigger,
    ValueParts, When,
};
pub use schema::schema;
