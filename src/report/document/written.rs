//! The ways in which a page is read.

use std::borrow::Cow;

use crate::units::visible;

use super::{csv, html, model::Document, text};

impl Document {
    /// Returns the page as one HTML file that needs no other and prints on A4.
    pub fn html(&self) -> String {
        plain(html::html(self))
    }

    /// Returns the page as plain text for a terminal, at most 92 columns wide as far as names
    /// allow; charts and pictures are left out.
    pub fn text(&self) -> String {
        plain(text::text(self))
    }

    /// Returns every row of the page as comma-separated values (RFC 4180): the part's title first,
    /// then the cells; the
    /// caution comes last.
    pub fn csv(&self) -> String {
        plain(csv::csv(self))
    }
}

/// Names and remarks come from anywhere; nothing in them may turn the text round that stands beside
/// a score.
fn plain(page: String) -> String {
    match visible(&page) {
        Cow::Borrowed(_) => page,
        Cow::Owned(plain) => plain,
    }
}
