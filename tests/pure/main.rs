//! The pure tests.
