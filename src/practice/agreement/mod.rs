//! How well the calls of two or more people match, from marks files and from sittings.
//!
//! `compared` is the one form that everything is brought into: `routines` makes it of marks and
//! score sheets, `summary` makes the report of it, and `extent` counts what was compared. Nothing here ranks people: they stand in the
//! order in which they were named, under their codes.

mod asked;
mod compared;
mod correlation;
mod extent;
mod group;
mod known;
mod matching;
mod model;
mod routines;
mod summary;
mod words;

pub use compared::{Compared, ComparedUnit, Said};
pub use correlation::Correlation;
pub use extent::{ComparedCount, ComparedExtent};
pub use known::Known;
pub use matching::{Matched, MatchedMark, align};
pub use model::{Agreement, NumbersOn, Person};
pub(crate) use model::{KindLine, NumberLine, OverTime, ScoreLine};
pub use routines::compare;
pub use summary::summary;
pub use words::{between, range_words, signed};
pub(crate) use words::{
    call_words, date_words, dates_words, kind_words, number_words, score_words, share_words,
    value_words,
};
