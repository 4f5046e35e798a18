//! Numbers that differ by division: one rule in the file becomes one rule for each division.

use std::{borrow::Cow, collections::BTreeMap};

use crate::rulebook::rows::{Findings, Kind, Raw, Row, Value, Varies, VariesFrom, parsed};

/// The numbers of each division by name, those taken from another division included.
pub(crate) struct DivisionNumbers(pub Vec<(String, BTreeMap<String, Raw>)>);

impl DivisionNumbers {
    /// Returns the numbers of the divisions in their order.
    pub(crate) fn new(divisions: &[Row], findings: &mut Findings<'_>) -> Self {
        let own: BTreeMap<&str, &Row> = divisions.iter().map(|row| (row.word("id"), row)).collect();
        let mut numbers = Vec::new();
        for row in divisions {
            numbers.push((row.text("id"), inherited(row, &own, findings)));
        }
        Self(numbers)
    }

    /// Returns the number of that name in the division.
    fn get(&self, division: &str, name: &str) -> Option<&Raw> {
        self.0.iter().find(|(id, _)| id == division)?.1.get(name)
    }

    fn names(&self) -> impl Iterator<Item = &str> {
        self.0.iter().flat_map(|(_, numbers)| numbers.keys().map(String::as_str))
    }

    fn ids(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(id, _)| id.as_str())
    }

    /// Returns the rule as one row, or as one for each division where a number differs.
    pub(crate) fn spread<'r>(
        &self,
        row: &'r Row,
        findings: &mut Findings<'_>,
    ) -> Vec<Cow<'r, Row>> {
        let varying = varying(row);
        if varying.is_empty() {
            return vec![Cow::Borrowed(row)];
        }
        self.check_names(&varying, findings);
        let stated = row.texts("divisions");
        let covered: Vec<String> = if stated.is_empty() {
            // A rule that names no divisions holds where all its numbers are given.
            let given = |id: &&str| varying.iter().all(|(_, v)| self.raw(v, id).is_some());
            self.ids().filter(given).map(str::to_owned).collect()
        } else {
            stated
        };
        covered.iter().map(|division| Cow::Owned(self.settle(row, division, findings))).collect()
    }

    fn check_names(
        &self,
        varying: &[(std::ops::Range<usize>, Varies)],
        findings: &mut Findings<'_>,
    ) {
        for (span, varies) in varying {
            match &varies.from {
                VariesFrom::Name(name) if self.names().next().is_none() => {
                    let message = format!("unknown number \"{}\"", name.escape_debug());
                    let remedy = format!(
                        "write {} without quotes, or name a number in the divisions",
                        in_words(varies.kind)
                    );
                    findings.error(span, message, &remedy);
                }
                VariesFrom::Name(name) if self.names().all(|known| known != name) => {
                    findings.unknown(span, ("number", name), self.names());
                }
                VariesFrom::Table(table) => {
                    for (division, raw) in table {
                        if self.ids().all(|known| known != division) {
                            findings.unknown(&raw.span, ("division", division), self.ids());
                        }
                    }
                }
                VariesFrom::Name(_) => {}
            }
        }
    }

    fn settle(&self, row: &Row, division: &str, findings: &mut Findings<'_>) -> Row {
        let mut settled = self.settle_cells(row, division, findings);
        settled.set("divisions", row.span_of("divisions"), Value::Texts(vec![division.to_owned()]));
        settled
    }

    fn settle_cells(&self, row: &Row, division: &str, findings: &mut Findings<'_>) -> Row {
        let mut settled = Row::new(row.span.clone());
        for (key, cell) in row.cells() {
            let value = match &cell.value {
                Value::Varies(varies) => match self.raw(varies, division) {
                    Some(raw) => parsed(varies.kind, raw, findings),
                    None => missing(varies.kind, &cell.span, division, findings),
                },
                Value::Row(inner) => Some(Value::Row(self.settle_cells(inner, division, findings))),
                Value::Rows(inner) => Some(Value::Rows(
                    inner.iter().map(|row| self.settle_cells(row, division, findings)).collect(),
                )),
                other => Some(other.clone()),
            };
            settled.set(key, cell.span.clone(), value.unwrap_or(Value::Unusable));
        }
        settled
    }

    fn raw<'a>(&'a self, varies: &'a Varies, division: &str) -> Option<&'a Raw> {
        match &varies.from {
            VariesFrom::Name(name) => self.get(division, name),
            VariesFrom::Table(table) => table.get(division),
        }
    }
}

fn missing(
    kind: Kind,
    span: &std::ops::Range<usize>,
    division: &str,
    findings: &mut Findings<'_>,
) -> Option<Value> {
    let what = if let Kind::NameByDivision(space) = kind { space.word() } else { "number" };
    let message = format!("this {what} is not given for the division \"{division}\"");
    findings.error(span, message, "give it, or leave the division out of \"divisions\"");
    None
}

/// Returns every number in the row and its inner rows that differs by division.
fn varying(row: &Row) -> Vec<(std::ops::Range<usize>, Varies)> {
    let mut found = Vec::new();
    for (_, cell) in row.cells() {
        match &cell.value {
            Value::Varies(varies) => found.push((cell.span.clone(), varies.clone())),
            Value::Row(inner) => found.extend(varying(inner)),
            Value::Rows(inner) => found.extend(inner.iter().flat_map(varying)),
            _ => {}
        }
    }
    found
}

fn inherited(
    row: &Row,
    all: &BTreeMap<&str, &Row>,
    findings: &mut Findings<'_>,
) -> BTreeMap<String, Raw> {
    let mut numbers = BTreeMap::new();
    let mut seen = Vec::new();
    let mut next = Some(row);
    while let Some(row) = next {
        if seen.contains(&row.word("id")) {
            let ring = [&seen[..], &[row.word("id")]].concat().join("\" like \"");
            let message =
                format!("this division takes its numbers from itself in the end: \"{ring}\"");
            findings.error(&row.span_of("like"), message, "break the circle of \"like\"");
            break;
        }
        seen.push(row.word("id"));
        if let Some(Value::Numbers(own)) = row.cell("numbers").map(|cell| &cell.value) {
            for (name, raw) in own {
                numbers.entry(name.clone()).or_insert_with(|| raw.clone());
            }
        }
        next = all.get(row.word("like")).copied();
    }
    numbers
}

/// Reports numbers that differ by division where the table has no divisions to differ by.
pub(crate) fn refuse_varying(row: &Row, findings: &mut Findings<'_>) {
    for (span, varies) in varying(row) {
        let message = format!("this must be {} without quotes", in_words(varies.kind));
        findings.error(&span, message, "numbers by division are not possible here");
    }
}

/// Returns what a number is, in words.
const fn in_words(kind: Kind) -> &'static str {
    match kind {
        Kind::Points => "an amount",
        Kind::Degrees => "an angle",
        Kind::Seconds => "a time in seconds",
        Kind::Number => "a number",
        _ => "a whole number",
    }
}
