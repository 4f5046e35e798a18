//! From a book's text to the model.

use std::collections::BTreeSet;

use toml::de::DeTable;

use super::{
    Book, Diagnostic,
    build::build,
    field::Space,
    findings::Findings,
    lint::lint,
    walk::{Walked, walk},
};

/// Returns the book with its warnings, or every error of the text at once.
///
/// `name` is kept in the book as where it came from.
pub fn read(text: &str, name: &str) -> Result<(Book, Vec<Diagnostic>), Vec<Diagnostic>> {
    let mut findings = Findings::new(text);
    let (root, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        findings.error(&span, error.message().to_owned(), "");
    }
    let walked = walk(root.get_ref(), &mut findings);
    look_up(&walked, &mut findings);
    let book = Book {
        source: name.to_owned(),
        hash: blake3::hash(text.as_bytes()).to_hex().to_string(),
        ..build(&walked, &mut findings)
    };
    if findings.any_error() {
        return Err(findings.finish());
    }
    lint(&book, &walked, &mut findings);
    Ok((book, findings.finish()))
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
