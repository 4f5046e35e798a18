//! A value made from some keys of a table.

use crate::rulebook::rows::{Field, Findings, Kind, Many, Need, Row, TableSpec};

/// A value made from some keys of a table, or from all of them.
pub(crate) trait Part: Sized {
    /// The keys.
    const FIELDS: &'static [Field];

    /// Returns the value; what is wrong with the keys together goes to the findings.
    fn read(row: &Row, findings: &mut Findings<'_>) -> Self;
}

/// A table of a book, written as `[[key]]`.
pub(crate) trait Table: Part {
    /// Its key.
    const KEY: &'static str;
    /// What it is for, in one sentence.
    const HELP: &'static str;
    /// Its description.
    const SPEC: TableSpec =
        TableSpec { key: Self::KEY, many: Many::Any, help: Self::HELP, fields: Self::FIELDS };
}

/// What gives the tables of a book, each list in its order.
pub(crate) trait Source {
    /// Returns every table of the kind.
    fn each<T: Table>(&mut self) -> Vec<T>;
}

/// Returns how many keys the parts have together.
pub(crate) const fn count_keys(parts: &[&[Field]]) -> usize {
    let (mut count, mut at) = (0, 0);
    while at < parts.len() {
        count += parts[at].len();
        at += 1;
    }
    count
}

/// Returns the keys of all parts in their order.
pub(crate) const fn join<const N: usize>(parts: &[&[Field]]) -> [Field; N] {
    let mut joined = [Field { key: "", kind: Kind::Text, need: Need::Optional, help: "" }; N];
    let (mut count, mut at) = (0, 0);
    while at < parts.len() {
        let mut inner = 0;
        while inner < parts[at].len() {
            joined[count] = parts[at][inner];
            count += 1;
            inner += 1;
        }
        at += 1;
    }
    joined
}

/// Returns a sentence of help from its doc comment, which begins with a blank.
pub(crate) const fn help(doc: &'static str) -> &'static str {
    doc.split_at(1).1
}
