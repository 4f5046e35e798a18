//! Frames in any order, as quickly as somebody steps.

pub(crate) mod cache;
pub(crate) mod decoder;
pub(crate) mod reader;
