//! The rules of one programme as data: the model, the reader with good errors, the shipped books.
//!
//! Floors, each above those before it: `rows` (a file as checked tables), `keys` (a key stated
//! once), `kinds` (one file for each kind of rule), `model` (the list of the kinds, and what others
//! ask), `lint`, `read`, `typed` (a book with another value at one key), `edit` (a text changed in place by
//! forms); beside them `printed`, `shipped` and `files`, the only one that touches files.

mod edit;
mod files;
mod keys;
mod kinds;
mod lint;
mod model;
mod printed;
mod read;
pub(crate) mod rows;
mod shipped;
mod typed;

pub(crate) use edit::{Draft, Pasted, Reading, RowAt, SHAPES};
pub(crate) use files::drafts::{OpenedBook, open_draft, save_draft};
pub(crate) use files::editions::Scored;
pub use files::editions::{Edition, Editions};
pub use files::loader::{LoadError, load, read_beside, text_beside, text_of};
pub use files::watch::Watch;
pub use keys::Scope;
pub use kinds::angle::{Angle, Decides, TurnEnd};
pub use kinds::attempts::{Attempts, Take};
pub(crate) use kinds::band::{Band, BandAmount};
pub use kinds::bonus::Bonus;
pub use kinds::bonus_limit::BonusLimit;
pub use kinds::cap::Cap;
pub(crate) use kinds::cap::Per;
pub use kinds::connection::Connection;
pub(crate) use kinds::consequence::Consequence;
pub use kinds::division::Division;
pub use kinds::element::Element;
pub(crate) use kinds::element::{Moment, Vault};
pub use kinds::event::Event;
pub use kinds::fault::{Fault, FaultAmount};
pub(crate) use kinds::follow::{Breaker, Follow, LostBreaks};
pub(crate) use kinds::head::OpenCalls;
pub(crate) use kinds::ledger::{Holds, Ledger, ScorePart};
pub(crate) use kinds::merge::Merge;
pub use kinds::panel::{Allowed, Beyond, Combine, Panel};
pub use kinds::replace::Replace;
pub use kinds::requirement::{Place, Requirement};
pub use kinds::scoring::ElementLimit;
pub(crate) use kinds::scoring::{SameAgain, Scoring, Sharing};
pub use kinds::shared::{Counts, Credit, Rounding};
pub use kinds::text::Text;
pub use kinds::time::Time;
pub(crate) use kinds::time::TimeOf;
pub use kinds::too_few::{TooFew, TooFewStep};
pub(crate) use kinds::too_many::TooMany;
pub(crate) use kinds::trigger::Trigger;
pub use kinds::value_parts::ValueParts;
pub(crate) use kinds::when::When;
pub use model::book::Book;
pub(crate) use model::book::TABLES;
pub use printed::reference::reference;
pub use printed::schema::schema;
pub use read::book::{ReadBook, read, read_like};
pub(crate) use rows::nearest;
pub use rows::{Diagnostic, Severity, counted_findings, render};
pub use shipped::{blank, shipped, shipped_text};
pub(crate) use typed::{Named, OtherTable, Sifted, TypedBook, TypedKey, TypedRow};
