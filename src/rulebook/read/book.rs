//! From a book's text to the model.

use std::collections::BTreeSet;

use toml::de::DeTable;

use crate::rulebook::{
    Book, Diagnostic,
    lint::all::{lint, lint_rows},
    model::book::TABLES,
    rows::{Findings, Many, Row, Space, Walked, walk},
    shipped::{shipped, shipped_text},
};

use super::{build::build, inherit::inherit};

/// A book with its warnings, or every error of its text.
pub type ReadBook = Result<(Book, Vec<Diagnostic>), Vec<Diagnostic>>;

/// Returns the text of a book that another is like.
pub(crate) type Find<'f> = &'f dyn Fn(&str) -> Option<String>;

/// Returns the book with its warnings, or every error of the text at once.
///
/// `name` is kept in the book as where it came from. A book may be like one that comes with the
/// program; [`read_like`] finds others, too.
pub fn read(text: &str, name: &str) -> ReadBook {
    read_like(text, name, &|base| shipped_text(base).map(str::to_owned))
}

/// Returns the book as [`read`] does; `find` returns the text of a book that it is like.
pub fn read_like(text: &str, name: &str, find: Find<'_>) -> ReadBook {
    let mut findings = Findings::new(text);
    let (walked, texts) = tables_of(text, find, &mut findings);
    let book =
        Book { source: name.to_owned(), hash: hash(&texts), ..build(&walked, &mut findings) };
    if !findings.any_error() {
        lint(&book, &walked, &mut findings);
        return Ok((book, findings.finish()));
    }
    warn_beside(&mut findings, &book, &walked);
    Err(findings.finish())
}

/// Returns the checked tables of the text with those of the books that it is like, and all their texts.
pub(crate) fn tables_of(
    text: &str,
    find: Find<'_>,
    findings: &mut Findings<'_>,
) -> (Walked, Vec<String>) {
    let mut bases = Bases { find, names: Vec::new(), texts: vec![text.to_owned()], ring: None };
    let walked = tables(text, findings);
    let walked = bases.join(walked, findings);
    look_up(&walked, findings);
    (walked, bases.texts)
}

/// Adds the warnings that hold although there are errors, so that one reading shows all: none about a
/// row that has an error itself, and none about what is named where names are not all read.
fn warn_beside(findings: &mut Findings<'_>, book: &Book, walked: &Walked) {
    let broken = findings.error_places();
    let rows =
        || walked.tables.iter().flat_map(|(key, rows)| rows.iter().map(move |row| (*key, row)));
    let row_of = |at: usize| {
        let before = rows().filter(|(_, row)| row.span.start <= at);
        before.max_by_key(|(_, row)| row.span.start)
    };
    let hit: Vec<(&str, &Row)> = broken.iter().filter_map(|at| row_of(*at)).collect();
    let is_whole = hit.len() == broken.len() && walked.is_whole;
    let names = ["book", "division", "event", "class", "element"];
    let are_named = is_whole && hit.iter().all(|(key, _)| !names.contains(key));
    let mut warnings = findings.beside();
    if are_named {
        lint(book, walked, &mut warnings);
    } else if is_whole {
        lint_rows(book, walked, &mut warnings);
    }
    let is_sound = |at: usize| {
        row_of(at).is_none_or(|(_, row)| hit.iter().all(|(_, hit)| hit.span != row.span))
    };
    findings.take(warnings, is_sound);
}

fn tables(text: &str, findings: &mut Findings<'_>) -> Walked {
    let (root, errors) = DeTable::parse_recoverable(text);
    // A table in single brackets makes each later one wrong, which comes right with it.
    let single = single_brackets(text, findings);
    let is_whole = errors.is_empty() && !single;
    let mut lines = BTreeSet::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let (from, line) = line_at(text, span.start);
        if single {
            continue;
        }
        match pasted(line) {
            Some((message, remedy)) if lines.insert(from) => {
                findings.error(&(from..from + line.len()), message.to_owned(), remedy);
            }
            Some(_) => {}
            None => {
                let remedy =
                    "this is not TOML: check quotes, brackets and commas; a number has a point";
                findings.error(&span, error.message().to_owned(), remedy);
            }
        }
    }
    let walked = walk(root.get_ref(), TABLES, findings);
    Walked { is_whole: is_whole && walked.is_whole, ..walked }
}

/// Reports the first table of which there may be many and that stands in single brackets.
fn single_brackets(text: &str, findings: &mut Findings<'_>) -> bool {
    let mut from = 0;
    for line in text.split_inclusive('\n') {
        let name = line.trim().strip_prefix('[').and_then(|rest| rest.split_once(']'));
        let is_many = |name: &str| {
            TABLES.iter().any(|table| table.key == name.trim() && table.many == Many::Any)
        };
        if let Some((name, _)) = name.filter(|(name, _)| is_many(name)) {
            let at = from + line.len() - line.trim_start().len();
            let message = format!("[{name}] in single brackets can stand only once");
            let remedy =
                format!("write [[{name}]] here and at every other one", name = name.trim());
            findings.error(&(at..from + line.trim_end().len()), message, &remedy);
            return true;
        }
        from += line.len();
    }
    false
}

/// Returns where the line of a place begins, and the line.
fn line_at(text: &str, at: usize) -> (usize, &str) {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let from = text[..at].rfind('\n').map_or(0, |before| before + 1);
    (from, text[from..].lines().next().unwrap_or_default())
}

/// Returns what a line that is no TOML holds which is often typed or pasted, and what to do about it.
fn pasted(line: &str) -> Option<(&'static str, &'static str)> {
    let (before, value) = line.split_once('=').unwrap_or((line, ""));
    let comma = value
        .as_bytes()
        .windows(3)
        .any(|three| three[0].is_ascii_digit() && three[1] == b',' && three[2].is_ascii_digit());
    if line
        .contains(['\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}', '\u{ab}', '\u{bb}'])
    {
        Some(("there are curly quotes here", "type straight ones: \""))
    } else if line.contains('\u{feff}') {
        Some(("there is an invisible byte-order mark here", "save the file as UTF-8 without one"))
    } else if line.contains(['\u{a0}', '\u{202f}', '\u{2007}']) {
        Some(("there is a non-breaking space here", "type a plain space in its place"))
    } else if line.contains('°') {
        Some(("there is a degree sign here", "write the number alone: 270"))
    } else if comma && !value.contains(['[', '{', '"']) {
        Some(("there is a comma in a number here", "a number has a point: 0.05"))
    } else if line.contains('\t') && !line.contains('=') {
        Some(("this looks like a row of a spreadsheet", "write each cell as a line: key = value"))
    } else if line.contains(';') && !before.contains('#') {
        Some(("there is a semicolon here", "take it out; in a list write a comma"))
    } else {
        None
    }
}

/// Returns one hash of everything that the book is made from, so that a changed base is noticed.
fn hash(texts: &[String]) -> String {
    let mut hasher = blake3::Hasher::new();
    for text in texts {
        hasher.update(text.as_bytes());
    }
    hasher.finalize().to_hex().to_string()
}

/// The books that a book is like, and those that they are like.
struct Bases<'a> {
    find: Find<'a>,
    names: Vec<String>,
    texts: Vec<String>,
    /// What is said of books that are like one another in a ring.
    ring: Option<String>,
}

impl Bases<'_> {
    /// Returns the tables with those of the book that they are like.
    fn join(&mut self, own: Walked, findings: &mut Findings<'_>) -> Walked {
        let head = own.tables.get("book").and_then(|rows| rows.first());
        let Some(head) = head.filter(|head| head.has("like")) else { return own };
        let (like, span) = (head.text("like"), head.span_of("like"));
        if self.names.contains(&like) {
            let all = [&self.names[..], std::slice::from_ref(&like)].concat().join("\" like \"");
            self.ring = Some(format!("this book is like itself in the end: \"{all}\""));
        }
        if let Some(ring) = &self.ring {
            findings.error(&span, ring.clone(), "break the circle of \"like\"");
            return own;
        }
        let Some(text) = (self.find)(&like) else {
            let message = format!("there is no rule book \"{}\"", like.escape_debug());
            let known = shipped().join(", ");
            let remedy = format!("name a file beside this one, or one of: {known}");
            findings.error(&span, message, &remedy);
            return own;
        };
        let mut of_base = Findings::new(&text);
        let base = tables(&text, &mut of_base);
        self.names.push(like.clone());
        self.texts.push(text.clone());
        let base = self.join(base, &mut of_base);
        if let Some(ring) = &self.ring {
            findings.error(&span, ring.clone(), "break the circle of \"like\"");
        } else if of_base.any_error() {
            let message = format!("the book \"{like}\" has errors of its own");
            findings.error(&span, message, "check it by itself first");
        }
        inherit(base, own, findings)
    }
}

/// Reports names that nothing in the file defines.
fn look_up(walked: &Walked, findings: &mut Findings<'_>) {
    let defined: BTreeSet<(Space, &str)> =
        walked.defined.iter().map(|(space, name)| (*space, name.as_str())).collect();
    for (space, name, span) in &walked.used {
        if !defined.contains(&(*space, name.as_str())) {
            let known = defined.iter().filter(|(known, _)| known == space).map(|(_, name)| *name);
            findings.unknown(span, (space.word(), name), known);
        }
    }
}
