//! The findings of one reading, collected as they are met.

use std::{collections::BTreeMap, ops::Range};

use super::diagnostic::{Diagnostic, MOST_MADE, Severity};

/// Collects findings about one text, so many errors and so many warnings at most: a file in which
/// everything is wrong is told as soon as one in which little is.
pub(crate) struct Findings<'a> {
    text: &'a str,
    /// By place and message, each once.
    found: BTreeMap<(usize, usize, String, Severity), Diagnostic>,
    errors: usize,
    warnings: usize,
}

impl<'a> Findings<'a> {
    /// Returns an empty collection for the text.
    pub(crate) fn new(text: &'a str) -> Self {
        Self { text, found: BTreeMap::new(), errors: 0, warnings: 0 }
    }

    /// Adds an error.
    pub(crate) fn error(&mut self, span: &Range<usize>, message: String, remedy: &str) {
        self.add(Severity::Error, span, (message, remedy.to_owned()), None);
    }

    /// Adds an error that is told however many there are already.
    pub(crate) fn first_error(&mut self, span: &Range<usize>, message: String, remedy: &str) {
        self.errors = self.errors.min(MOST_MADE - 1);
        self.error(span, message, remedy);
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
        if self.errors >= MOST_MADE {
            return;
        }
        let mut known: Vec<&str> = known.collect();
        let mut told = std::collections::BTreeSet::new();
        known.retain(|name| told.insert(*name));
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
        self.errors > 0
    }

    /// Returns where the errors begin.
    pub(crate) fn error_places(&self) -> Vec<usize> {
        let errors = self.found.values().filter(|finding| finding.is_error());
        errors.map(|finding| finding.span.start).collect()
    }

    /// Returns an empty collection for the same text.
    pub(crate) fn beside(&self) -> Self {
        Self::new(self.text)
    }

    /// Takes the warnings of another collection over whose place is sound.
    pub(crate) fn take(&mut self, other: Self, is_sound: impl Fn(usize) -> bool) {
        let warnings = other.found.into_values().filter(|finding| !finding.is_error());
        for one in warnings.filter(|finding| is_sound(finding.span.start)) {
            self.add(one.severity, &one.span, (one.message, one.remedy), one.nearest);
        }
    }

    /// Returns the findings in the order of the text, each once.
    pub(crate) fn finish(self) -> Vec<Diagnostic> {
        let mut found: Vec<Diagnostic> = self.found.into_values().collect();
        let (mut at, mut line, mut column) = (0, 1, 1);
        for finding in &mut found {
            // In one walk through the text, which may be long.
            for letter in self.text[at..finding.span.start].chars() {
                (line, column) = if letter == '\n' { (line + 1, 1) } else { (line, column + 1) };
            }
            at = finding.span.start;
            (finding.line, finding.column) = (line, column);
        }
        found
    }

    fn add(
        &mut self,
        severity: Severity,
        span: &Range<usize>,
        (message, remedy): (String, String),
        nearest: Option<String>,
    ) {
        let made = match severity {
            Severity::Error => &mut self.errors,
            Severity::Warning => &mut self.warnings,
        };
        if *made >= MOST_MADE {
            return;
        }
        let span = whole_characters(self.text, span);
        let place = (span.start, span.end, message.clone(), severity);
        self.found.entry(place).or_insert_with(|| {
            *made += 1;
            // Where that is in lines is found in the end.
            Diagnostic { severity, message, span, line: 1, column: 1, nearest, remedy }
        });
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
