//! From checked tables to the model: the book itself, its divisions, events, classes, scoring.

use std::{borrow::Cow, collections::BTreeMap};

use crate::rulebook::{
    Book, Class, Consequence, Division, Event, Formula, Limit, OpenCalls, SameAgain, Scope,
    Scoring, Sharing,
    rows::{findings::Findings, row::Row, walk::Walked},
};

use super::{
    elements, extra, rules,
    vary::{DivisionNumbers, refuse_varying},
};

/// Returns the model of the tables; what does not fit together goes to the findings.
pub(crate) fn build(walked: &Walked, findings: &mut Findings<'_>) -> Book {
    let empty = Row::default();
    let head = walked.tables.get("book").and_then(|rows| rows.first()).unwrap_or(&empty);
    let mut book = Book {
        id: head.text("id"),
        title: head.text("title"),
        edition: head.text("edition"),
        valid_from: head.text("valid_from"),
        valid_to: head.text("valid_to"),
        open_calls: open_calls(head),
        ..Book::default()
    };
    let mut tables = Tables { walked, numbers: DivisionNumbers(Vec::new()), findings };
    book.classes = tables.plain("class").iter().map(class).collect();
    let divisions = tables.plain("division");
    tables.numbers = DivisionNumbers::new(divisions, tables.findings);
    book.divisions = divisions.iter().map(|row| division(row, &book)).collect();
    book.events = tables.plain("event").iter().map(event).collect();
    book.scorings =
        tables.spread("scoring").iter().map(|row| scoring(row, tables.findings)).collect();
    rules::build(&mut book, &mut tables);
    book.elements = elements::build(&mut tables);
    dates(head, &book, tables.findings);
    book
}

/// The checked tables with what is needed to read them.
pub(crate) struct Tables<'w, 'f, 't> {
    walked: &'w Walked,
    numbers: DivisionNumbers,
    /// Where errors go.
    pub findings: &'f mut Findings<'t>,
}

impl<'w> Tables<'w, '_, '_> {
    /// Returns the rows of a table in which no number may differ by division.
    pub(crate) fn plain(&mut self, key: &str) -> &'w [Row] {
        let rows = self.rows(key);
        for row in rows {
            refuse_varying(row, self.findings);
        }
        self.once(rows.iter(), key);
        rows
    }

    /// Returns the rows of a table, those with numbers by division once for each division.
    pub(crate) fn spread(&mut self, key: &str) -> Vec<Cow<'w, Row>> {
        let rows = self.rows(key).iter();
        let spread: Vec<Cow<'w, Row>> =
            rows.flat_map(|row| self.numbers.spread(row, self.findings)).collect();
        self.once(spread.iter().map(AsRef::as_ref), key);
        spread
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
            before.push(row);
        }
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

/// Returns the events and divisions that a rule covers.
pub(crate) fn scope(row: &Row) -> Scope {
    Scope { events: row.texts("events"), divisions: row.texts("divisions") }
}

fn open_calls(row: &Row) -> OpenCalls {
    match row.word("open_calls") {
        "as-measured" => OpenCalls::AsMeasured,
        _ => OpenCalls::ForTheAthlete,
    }
}

fn dates(head: &Row, book: &Book, findings: &mut Findings<'_>) {
    if !book.valid_to.is_empty() && book.valid_to < book.valid_from {
        let message = "the book ends before it begins".to_owned();
        findings.error(&head.span_of("valid_to"), message, "valid_to is the last day of validity");
    }
}

fn class(row: &Row) -> Class {
    let value = row.points("value").unwrap_or_default();
    Class { id: row.text("id"), name: row.text("name"), value }
}

fn division(row: &Row, book: &Book) -> Division {
    let highest_class = row.text("highest_class");
    let highest_rank = book.rank(&highest_class);
    Division { id: row.text("id"), name: row.text("name"), highest_class, highest_rank }
}

fn event(row: &Row) -> Event {
    Event { id: row.text("id"), name: row.text("name"), divisions: row.texts("divisions") }
}

fn scoring(row: &Row, findings: &mut Findings<'_>) -> Scoring {
    Scoring {
        scope: scope(row),
        formula: formula(row, findings),
        floor: row.points("floor").unwrap_or_default(),
        ceiling: row.points("ceiling"),
        limits: limits(row, findings),
        sharing: if row.word("sharing") == "one" { Sharing::One } else { Sharing::Many },
        same_counts: row.count("same_counts").unwrap_or(1),
        same_again: match row.word("same_again") {
            "other-connection" => SameAgain::OtherConnection,
            _ => SameAgain::Anywhere,
        },
        not_allowed: consequence(row, ["not_allowed", "not_allowed_amount"], findings),
        unlisted_vault: consequence(row, ["unlisted_vault", "unlisted_vault_amount"], findings),
        not_as_announced: consequence(
            row,
            ["not_as_announced", "not_as_announced_amount"],
            findings,
        ),
    }
}

fn limits(row: &Row, findings: &mut Findings<'_>) -> Vec<Limit> {
    if row.has("limits") && row.word("formula") != "open" {
        let message = "limits belong to the formula \"open\"".to_owned();
        findings.error(&row.span_of("limits"), message, "take the key out");
    }
    row.rows("limits").iter().map(|row| extra::limit(row, findings)).collect()
}

fn formula(row: &Row, findings: &mut Findings<'_>) -> Formula {
    let start = row.points("start").unwrap_or_default();
    let mut need = |key: &str| {
        if !row.has(key) {
            let message = format!("this formula needs the key \"{key}\"");
            findings.error(&row.span_of("formula"), message, &format!("add {key} to this table"));
        }
    };
    match row.word("formula") {
        "buckets" => {
            need("buckets");
            let amount = |key: &str| {
                row.row("buckets").and_then(|buckets| buckets.points(key)).unwrap_or_default()
            };
            Formula::Buckets {
                value_parts: amount("value_parts"),
                requirements: amount("requirements"),
                artistry: amount("artistry"),
                execution: amount("execution"),
            }
        }
        "open" => {
            need("execution");
            need("best");
            let execution = row.points("execution").unwrap_or_default();
            Formula::Open {
                execution,
                best: row.count("best").unwrap_or_default(),
                at_most: row.points("difficulty_at_most"),
            }
        }
        "start-minus-half" => {
            need("start");
            Formula::StartMinusHalf { start }
        }
        "start-minus" => {
            need("start");
            Formula::StartMinus { start }
        }
        // A word that is none was reported where it stands.
        _ => Formula::StartMinus { start },
    }
}

fn consequence(row: &Row, [key, amount]: [&str; 2], findings: &mut Findings<'_>) -> Consequence {
    match row.word(key) {
        "void" => Consequence::Void,
        "amount" => {
            if !row.has(amount) {
                let message = format!("\"{key}\" says amount, but \"{amount}\" is missing");
                findings.error(&row.span_of(key), message, &format!("add {amount} = 0.5"));
            }
            Consequence::Amount(row.points(amount).unwrap_or_default())
        }
        _ => Consequence::NoCredit,
    }
}
