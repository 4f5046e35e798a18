//! What is said of keys of which no routine was found whose score they change.

use super::TypedKey;
use crate::rulebook::rows::{Diagnostic, Findings};

/// Collects what is said, each at its place.
pub(crate) struct Sifted<'t>(Findings<'t>);

impl<'t> Sifted<'t> {
    pub(crate) fn new(text: &'t str) -> Self {
        Self(Findings::new(text))
    }

    /// Says that none of so many routines came to another score with another value at the key.
    pub(crate) fn idle(&mut self, key: &TypedKey, tried: usize) {
        let what = match key.item.as_str() {
            "" => format!("\"{}\"", key.key),
            item => format!("{item} in \"{}\"", key.key),
        };
        let message = format!("no routine that was tried shows that this changes a score: {what}");
        let remedy = format!(
            "{tried} routines were tried; think of one in which it counts, else take it out, or look \
             what else here keeps it from counting"
        );
        self.0.warning(&key.span, message, &remedy);
    }

    pub(crate) fn finish(self) -> Vec<Diagnostic> {
        self.0.finish()
    }
}
