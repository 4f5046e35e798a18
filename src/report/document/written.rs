//! The ways in which a page is read.

use super::{csv, html, model::Document, text};

impl Document {
    /// Returns the page as one HTML file that needs no other and prints on A4.
    pub fn html(&self) -> String {
        html::html(self)
    }

    /// Returns the page as plain text for a terminal, at most 92 columns wide as far as names
    /// allow; charts and pictures are left out.
    pub fn text(&self) -> String {
        text::text(self)
    }

    /// Returns every row of the page as comma-separated values (RFC 4180): the part's title first,
    /// then the cells; the
    /// caution comes last.
    pub fn csv(&self) -> String {
        csv::csv(self)
    }
}
