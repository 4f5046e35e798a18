//! What was set aside of the marks: listed, shown beside them, taken back.

mod going;
mod list;
mod page;
mod shown;
mod words;

pub(crate) use page::AsidesPage;
