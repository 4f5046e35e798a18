//! The rules of one programme as data: the model, the reader with good errors, the shipped books.
//!
//! [`read()`] is pure; only `loader`, `editions` and `watch` touch files.

mod angle;
mod ask;
mod build;
mod build_angle;
mod build_credit;
mod build_elements;
mod build_extra;
mod build_fault;
mod build_rules;
mod build_small;
mod diagnostic;
mod editions;
mod element;
mod extra;
pub(crate) mod field;
mod fields;
pub(crate) mod findings;
mod inherit;
mod lint;
mod lint_angles;
mod lint_elements;
mod lint_meets;
mod lint_numbers;
mod lint_scope;
mod lint_sums;
mod loader;
mod model;
mod number;
mod panel;
mod read;
mod reference;
pub(crate) mod row;
mod rule;
mod schema;
mod scope;
mod series;
mod shipped;
mod sums;
mod vary;
pub(crate) mod walk;
mod watch;

pub use angle::{Angle, Band, BandAmount, Credit, Decides, TurnEnd};
pub use diagnostic::{Diagnostic, Severity, render};
pub use editions::{Edition, Editions, Scored, load_scored};
pub use element::{Element, Moment, Vault};
pub use extra::{Attempts, Bonus, Limit, Step, Take, Time, TimeOf, TooFew};
pub use loader::{LoadError, load, read_beside, text_of};
pub use model::{
    Book, Class, Consequence, Division, Event, Formula, OpenCalls, SameAgain, Scoring, Sharing,
};
pub use panel::{Allowed, Beyond, Combine, Panel, Rounding};
pub use read::{ReadBook, read, read_like};
pub use reference::reference;
pub use rule::{
    Cap, Fault, FaultAmount, Merge, Need, Per, Replace, Requirement, TooMany, Trigger, ValueParts,
    When,
};
pub use schema::schema;
pub use scope::{Counts, Scope};
pub use series::{Breaker, Connection, Follow, Place, Text};
pub use shipped::{blank, shipped, shipped_text};
pub use watch::Watch;
