//! What is wrong with a rule book's text, shown with its line and a caret under it.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::ops::Range;

use crate::units::counted;

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The book cannot be used.
    Error,
    /// The book can be used, but this is hardly meant.
    Warning,
}

/// One finding in a rule book's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// How bad it is.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// The bytes of the text it is about.
    pub span: Range<usize>,
    /// Line, counted from 1.
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
    /// The known name nearest to what was written.
    pub nearest: Option<String>,
    /// What to do about it.
    pub remedy: String,
}

impl Diagnostic {
    /// Returns whether the book cannot be used because of it.
    pub fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }
}

/// Findings that are written out, at most: each walks through the text, and nobody reads more before
/// mending these.
const MOST: usize = 200;
/// Errors, and warnings, that are made of one text, at most.
pub(crate) const MOST_MADE: usize = 400;

/// Returns how many findings of one sort there are, in words; beyond some nobody counted.
pub fn counted_findings(count: usize, what: &str) -> String {
    let more = if count < MOST_MADE { "" } else { " or more" };
    counted(count, what) + more
}

/// Returns the findings as text, each with its line and a caret under the place.
pub fn render(diagnostics: &[Diagnostic], text: &str, name: &str) -> String {
    let renderer = Renderer::plain();
    let mut pages: Vec<String> = diagnostics
        .iter()
        .take(MOST)
        .map(|diagnostic| renderer.render(&[report(diagnostic, text, name)]))
        .collect();
    let more = diagnostics.len().saturating_sub(MOST);
    if more > 0 {
        let at_least = if diagnostics.len() < MOST_MADE { "" } else { "at least " };
        pages.push(format!("and {at_least}{more} more; mend these first"));
    }
    pages.join("\n\n")
}

fn report<'a>(
    diagnostic: &'a Diagnostic,
    text: &'a str,
    name: &'a str,
) -> annotate_snippets::Group<'a> {
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
    };
    let label = diagnostic.nearest.as_ref().map(|nearest| format!("did you mean \"{nearest}\"?"));
    // Only the lines that it is about: the whole text may be long.
    let Range { start, end } = diagnostic.span;
    let from = text[..start].rfind('\n').map_or(0, |before| before + 1);
    let to = text[end..].find('\n').map_or(text.len(), |after| end + after);
    let annotation = AnnotationKind::Primary.span(start - from..end - from).label(label);
    let lines = Snippet::source(&text[from..to]).line_start(diagnostic.line).path(name);
    let group = level.primary_title(&diagnostic.message).element(lines.annotation(annotation));
    if diagnostic.remedy.is_empty() {
        return group;
    }
    group.element(Level::HELP.message(&diagnostic.remedy))
}
