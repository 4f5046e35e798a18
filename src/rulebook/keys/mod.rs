//! A key of a book stated once: its help, what its value must be, and what is read from it.

mod check;
mod entry;
mod key;
mod part;
mod scope;
mod table;
mod word;

pub(crate) use check::{needs_one_of, only, positive};
pub(crate) use entry::Entry;
pub(crate) use key::{
    Key, Settle, count, date, defines, defines_some, degrees, flag, inner, inner_list,
    name_by_division, names, names_some, number, numbers, one_of, points, points_list, seconds,
    some_of, span, text, texts,
};
pub(crate) use part::{Part, Source, Table, count_keys, help, join};
pub(crate) use scope::DIVISIONS;
pub use scope::Scope;
pub(crate) use table::table;
pub(crate) use word::{Word, marked, words, words_of_marks};
