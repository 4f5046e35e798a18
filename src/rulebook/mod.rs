//! The rules of one programme as data: the model, the reader with good errors, the shipped books.
//!
//! [`read()`] is pure; only `files` touches files.

mod files;
mod keys;
mod lint;
mod model;
mod printed;
mod read;
pub(crate) mod rows;

pub(crate) use files::editions::Scored;
pub use files::editions::{Edition, Editions, load_scored};
pub use files::loader::{LoadError, load, read_beside, text_of};
pub use files::shipped::{blank, shipped, shipped_text};
pub use files::watch::Watch;
pub use model::angle::{Angle, Credit, Decides, TurnEnd};
pub(crate) use model::angle::{Band, BandAmount};
pub use model::book::{Book, Division, Event};
pub(crate) use model::book::{Class, Consequence, Formula, OpenCalls, SameAgain, Scoring, Sharing};
pub use model::element::Element;
pub(crate) use model::element::{Moment, Vault};
pub(crate) use model::extra::TimeOf;
pub use model::extra::{Attempts, Bonus, Limit, Step, Take, Time, TooFew};
pub use model::panel::{Allowed, Beyond, Combine, Panel, Rounding};
pub use model::rule::{Cap, Fault, FaultAmount, Replace, Requirement, ValueParts};
pub(crate) use model::rule::{Merge, Need, Per, TooMany, Trigger, When};
pub use model::scope::{Counts, Scope};
pub(crate) use model::series::{Breaker, Follow};
pub use model::series::{Connection, Place, Text};
pub use printed::reference::reference;
pub use printed::schema::schema;
pub use read::book::{ReadBook, read, read_like};
pub use rows::diagnostic::{Diagnostic, Severity, render};
