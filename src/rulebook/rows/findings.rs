//! The findings of one reading, collected as they are met.

use std::ops::Range;

use super::diagnostic::{Diagnostic, Severity, position};

/// Collects findings about one text.
pub(crate) struct Findings<'a> {
    text: &'a str,
    found: Vec<Diagnostic>,
}

impl<'a> Findings<'a> {
    /// Returns an empty collection for the text.
    pub(crate) fn new(text: &'a str) -> Self {
        Self { text, found: Vec::new() }
    }

    /// Adds an error.
    pub(crate) fn error(&mut self, span: &Range<usize>, message: String, remedy: &str) {
        self.add(Severity::Error, span, (message, remedy.to_owned()), None);
    }

    /// Adds a warning.
    pub(crate) fn warning(&mut self, span: &Range<usize>, message: String, remedy: &str) {
        self.add(Severity::Warning, span, (message, remedy.to_owned()), None);
    }

    /// Adds an error about a name that is not known.
    pub(crate) fn unknown<'n>(
        &mut self,
        span: &Range<usize>,
        (what, name): (&str, &str),
        known: impl Iterator<Item = &'n str>,
    ) {
        let known: Vec<&str> = known.collect();
        let nearest = nearest(name, known.iter().copied()).map(str::to_owned);
        let remedy = match (&nearest, known.is_empty()) {
            (Some(nearest), _) if matches!(what, "key" | "table" | "word") => {
                format!("write \"{nearest}\"; nothing unknown is passed over")
            }
            (Some(nearest), _) => {
                format!("write \"{nearest}\", or define the {what} \"{}\"", name.escape_debug())
            }
            (None, true) => format!("there is no {what} yet; define this one first"),
            (None, false) => format!("known here: {}", some_of(&known)),
        };
        let message = format!("unknown {what} \"{}\"", name.escape_debug());
        self.add(Severity::Error, span, (message, remedy), nearest);
    }

    /// Returns whether there is an error among the findings.
    pub(crate) fn any_error(&self) -> bool {
        self.found.iter().any(|finding| finding.severity == Severity::Error)
    }

    /// Returns the findings in the order of the text, each once.
    pub(crate) fn finish(mut self) -> Vec<Diagnostic> {
        self.found.sort_by(|a, b| {
            (a.span.start, a.span.end, &a.message).cmp(&(b.span.start, b.span.end, &b.message))
        });
        self.found.dedup();
        self.found
    }

    fn add(
        &mut self,
        severity: Severity,
        span: &Range<usize>,
        (message, remedy): (String, String),
        nearest: Option<String>,
    ) {
        let span = whole_characters(self.text, span);
        let (line, column) = position(self.text, span.start);
        self.found.push(Diagnostic { severity, message, span, line, column, nearest, remedy });
    }
}

/// Returns the known name nearest to `name`, or nothing when none is near.
pub(crate) fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    // Capitals and the strokes between words are what is most easily mistaken.
    let plain = |text: &str| text.to_lowercase().replace(['_', ' '], "-");
    let name = plain(name);
    let likeness = |known: &str| strsim::normalized_damerau_levenshtein(&name, &plain(known));
    known
        .map(|known| (likeness(known), known))
        .filter(|(likeness, _)| *likeness >= 0.55)
        .max_by(|(a, name_a), (b, name_b)| a.total_cmp(b).then_with(|| name_b.cmp(name_a)))
        .map(|(_, known)| known)
}

fn some_of(known: &[&str]) -> String {
    const SHOWN: usize = 8;
    let list = known[..known.len().min(SHOWN)].join(", ");
    if known.len() > SHOWN { format!("{list} and {} more", known.len() - SHOWN) } else { list }
}

/// Returns the span moved to the borders of characters inside the text.
fn whole_characters(text: &str, span: &Range<usize>) -> Range<usize> {
    let down = |at: usize| {
        (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
    };
    let start = down(span.start);
    start..down(span.end).max(start)
}
