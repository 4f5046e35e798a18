//! The window tests.
