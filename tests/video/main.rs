//! The video tests.
