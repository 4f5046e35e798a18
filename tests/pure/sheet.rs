//! Sheets.
