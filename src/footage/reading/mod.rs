//! Frames in any order, as quickly as somebody steps.

pub(crate) mod cache;
pub(crate) mod decoder;
mod helper;
pub(crate) mod means;
pub(crate) mod reader;
mod shared;
mod worker;
