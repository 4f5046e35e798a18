//! The kinds of table that a book has, one file each: what it holds, its keys, what is checked,
//! what warnings ask of it. The list of kinds is in `model/book.rs`.

pub(crate) mod angle;
pub(crate) mod attempts;
pub(crate) mod band;
pub(crate) mod bonus;
pub(crate) mod bonus_limit;
pub(crate) mod cap;
pub(crate) mod class;
pub(crate) mod connection;
pub(crate) mod consequence;
mod digits;
pub(crate) mod division;
pub(crate) mod element;
pub(crate) mod event;
pub(crate) mod fault;
pub(crate) mod follow;
pub(crate) mod head;
pub(crate) mod ledger;
pub(crate) mod merge;
pub(crate) mod panel;
pub(crate) mod replace;
pub(crate) mod requirement;
pub(crate) mod rule;
pub(crate) mod scoring;
pub(crate) mod shared;
pub(crate) mod text;
pub(crate) mod time;
pub(crate) mod too_few;
pub(crate) mod too_many;
pub(crate) mod trigger;
pub(crate) mod value_parts;
pub(crate) mod when;
