//! The video tests.
mod generated;
