//! From checked tables to the model.

use std::{borrow::Cow, collections::BTreeMap};

use super::vary::{DivisionNumbers, refuse_varying};
use crate::rulebook::{
    keys::{Part, Source, Table},
    kinds::{
        division::Division,
        element::{BY_DIVISION, Element},
        head::{HEAD, Head},
    },
    model::book::Book,
    rows::{Findings, Row, Walked},
};

/// Returns the model of the tables; what does not fit together goes to the findings.
pub(crate) fn build(walked: &Walked, findings: &mut Findings<'_>) -> Book {
    let empty = Row::default();
    let head = walked.tables.get(HEAD.key).and_then(|rows| rows.first()).unwrap_or(&empty);
    let Head { id, title, edition, valid_from, valid_to, open_calls } = Head::read(head, findings);
    let mut book = Book { id, title, edition, valid_from, valid_to, open_calls, ..Book::default() };
    let mut tables = Tables { walked, numbers: DivisionNumbers(Vec::new()), findings };
    book.classes = tables.plain();
    book.divisions = tables.plain();
    for at in 0..book.divisions.len() {
        book.divisions[at].highest_rank = book.rank(&book.divisions[at].highest_class);
    }
    book.events = tables.plain();
    tables.numbers = DivisionNumbers::new(tables.rows(Division::KEY), tables.findings);
    book.fill(&mut tables);
    book
}

/// The checked tables with what is needed to read them.
struct Tables<'w, 'f, 't> {
    walked: &'w Walked,
    numbers: DivisionNumbers,
    findings: &'f mut Findings<'t>,
}

impl<'w> Tables<'w, '_, '_> {
    /// Returns the tables of a kind in which no number may differ by division.
    fn plain<T: Table>(&mut self) -> Vec<T> {
        let rows = self.rows(T::KEY);
        for row in rows {
            refuse_varying(row, self.findings);
        }
        self.once(rows.iter(), T::KEY);
        rows.iter().map(|row| T::read(row, self.findings)).collect()
    }

    fn rows(&self, key: &str) -> &'w [Row] {
        self.walked.tables.get(key).map_or(&[], Vec::as_slice)
    }

    /// Reports ids that stand for two rows which cover the same event and division.
    fn once<'r>(&mut self, rows: impl Iterator<Item = &'r Row>, key: &str) {
        let mut first: BTreeMap<&str, Vec<&Row>> = BTreeMap::new();
        for row in rows.filter(|row| row.has("id")) {
            let before = first.entry(row.word("id")).or_default();
            if before.iter().any(|other| overlap(other, row)) {
                let message = format!("the {key} \"{}\" is there twice", row.word("id"));
                let remedy = "give one of them another id, or other events or divisions";
                self.findings.error(&row.span_of("id"), message, remedy);
            }
            if let Some(key) = before.iter().find_map(|other| one_element(key, other, row)) {
                let id = row.word("id");
                let message = format!("the element \"{id}\" has another \"{key}\" above");
                let remedy = "one element may differ by division in class and value only: write the \
                              same here, or give this one another id";
                self.findings.error(&row.span_of(key), message, remedy);
            }
            before.push(row);
        }
    }
}

/// Returns a key in which two rows of one element are not alike and must be.
fn one_element(table: &str, first: &Row, second: &Row) -> Option<&'static str> {
    if table != Element::KEY || first.word("event") != second.word("event") {
        return None;
    }
    let keys = first.cells().chain(second.cells()).map(|(key, _)| key);
    let mut keys = keys.filter(|key| !BY_DIVISION.contains(key));
    let inner = |row: &Row, key| row.row(key).cloned().unwrap_or_default();
    keys.find(|key| match *key {
        "vault" => {
            let own = ["before", "after", "facing"];
            let [first, second] = [first, second].map(|row| inner(row, key));
            own.iter().any(|key| !first.is_alike(&second, key))
        }
        key => !first.is_alike(second, key),
    })
}

impl Source for Tables<'_, '_, '_> {
    /// Those with numbers by division come once for each division.
    fn each<T: Table>(&mut self) -> Vec<T> {
        let rows = self.rows(T::KEY).iter();
        let spread: Vec<Cow<'_, Row>> =
            rows.flat_map(|row| self.numbers.spread(row, self.findings)).collect();
        self.once(spread.iter().map(AsRef::as_ref), T::KEY);
        spread.iter().map(|row| T::read(row, self.findings)).collect()
    }
}

fn overlap(a: &Row, b: &Row) -> bool {
    let share = |key: &str| {
        let (a, b) = (a.texts(key), b.texts(key));
        a.is_empty() || b.is_empty() || a.iter().any(|name| b.contains(name))
    };
    // Elements name one event; rules name some or none.
    share("events") && share("divisions") && a.word("event") == b.word("event")
}
