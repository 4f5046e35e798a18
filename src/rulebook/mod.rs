//! The rules of one programme as data.
