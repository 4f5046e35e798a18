//! From TOML to checked tables: every key known, every value of its kind, every name noted.

use std::{collections::BTreeMap, ops::Range};

use toml::{
    Spanned,
    de::{DeTable, DeValue},
};

use super::{
    field::{Field, Kind, Many, Need, Space, TableSpec},
    findings::Findings,
    number::{degrees, number, points, seconds, whole},
    row::{Raw, Row, Value, Varies, VariesFrom},
};

/// Tables of one file, at most; a real programme has some thousands.
pub(crate) const MOST_ROWS: usize = 25_000;

/// The checked tables of a file and the names in it.
pub(crate) struct Walked {
    /// Tables by key, each list in the order of the file.
    pub tables: BTreeMap<&'static str, Vec<Row>>,
    /// Names that are defined, with the bytes of each.
    pub defined: Vec<(Space, String)>,
    /// Names that are used, with the bytes of each.
    pub used: Vec<(Space, String, Range<usize>)>,
    /// Whether every table of the file was read, right or wrong.
    pub is_whole: bool,
}

/// Returns the checked tables of a file that may hold these; what is wrong goes to the findings.
pub(crate) fn walk(
    root: &DeTable<'_>,
    tables: &'static [TableSpec],
    findings: &mut Findings<'_>,
) -> Walked {
    let walked =
        Walked { tables: BTreeMap::new(), defined: Vec::new(), used: Vec::new(), is_whole: true };
    let mut walker = Walker { findings, walked, rows: 0 };
    for (key, span, value) in in_file_order(root) {
        if let Some(spec) = tables.iter().find(|table| table.key == key) {
            walker.top(spec, value);
        } else {
            let known = tables.iter().map(|table| table.key);
            walker.findings.unknown(&span, ("table", key), known);
            walker.walked.is_whole = false;
        }
    }
    for spec in tables.iter().filter(|spec| spec.many == Many::One) {
        if !walker.walked.tables.contains_key(spec.key) {
            let message = format!("the table [{}] is missing", spec.key);
            walker.findings.error(&(0..0), message, &format!("begin the file with [{}]", spec.key));
        }
    }
    walker.walked
}

struct Walker<'f, 't> {
    findings: &'f mut Findings<'t>,
    walked: Walked,
    rows: usize,
}

type Node<'i> = Spanned<DeValue<'i>>;

impl Walker<'_, '_> {
    fn top(&mut self, spec: &'static TableSpec, node: &Node<'_>) {
        let rows = match (spec.many, node.get_ref()) {
            (Many::One, DeValue::Table(table)) => vec![self.row(spec.fields, table, node.span())],
            (Many::Any, DeValue::Array(array)) => {
                array.iter().filter_map(|item| self.inner_row(spec.fields, item)).collect()
            }
            // Told where the text is read.
            (Many::Any, DeValue::Table(_)) => return self.walked.is_whole = false,
            (Many::One, _) => return self.not_read(node, &format!("one table, [{}]", spec.key)),
            (Many::Any, _) => return self.not_read(node, &format!("a list, [[{}]]", spec.key)),
        };
        self.walked.tables.insert(spec.key, rows);
    }

    fn not_read(&mut self, node: &Node<'_>, wanted: &str) {
        self.walked.is_whole = false;
        self.wrong(node, wanted);
    }

    fn row(&mut self, fields: &'static [Field], table: &DeTable<'_>, span: Range<usize>) -> Row {
        let mut row = Row::new(span);
        for (key, key_span, node) in in_file_order(table) {
            let Some(field) = fields.iter().find(|field| field.key == key) else {
                self.findings.unknown(&key_span, ("key", key), fields.iter().map(|f| f.key));
                continue;
            };
            let value = self.value(field.kind, node).unwrap_or(Value::Unusable);
            row.set(field.key, node.span(), value);
        }
        for field in fields.iter().filter(|field| field.need == Need::Required) {
            if !table.contains_key(field.key) {
                let message = format!("the key \"{}\" is missing", field.key);
                self.findings.error(&row.span, message, &format!("add it: {}", field.help));
            }
        }
        row
    }

    fn inner_row(&mut self, fields: &'static [Field], node: &Node<'_>) -> Option<Row> {
        if self.rows > MOST_ROWS {
            return None;
        }
        if let DeValue::Table(table) = node.get_ref() {
            self.rows += 1;
            if self.rows > MOST_ROWS {
                let message = format!("this file has more than {MOST_ROWS} tables");
                let remedy = "no programme needs so many; nothing from here on was read";
                self.findings.first_error(&node.span(), message, remedy);
                return None;
            }
            return Some(self.row(fields, table, node.span()));
        }
        self.wrong(node, "a table");
        None
    }

    fn value(&mut self, kind: Kind, node: &Node<'_>) -> Option<Value> {
        match kind {
            Kind::Text | Kind::Date => self.text(kind, node).map(Value::Text),
            Kind::Flag => self.flag(node),
            Kind::Points | Kind::Degrees | Kind::Count | Kind::Seconds | Kind::Number => {
                self.number(kind, node)
            }
            Kind::OneOf(words) => self.word(words, node).map(Value::Text),
            Kind::SomeOf(words) => {
                Some(Value::Texts(items(node).filter_map(|item| self.word(words, item)).collect()))
            }
            Kind::PointsList => Some(Value::Amounts(
                items(node)
                    .filter_map(|item| match self.number(Kind::Points, item)? {
                        Value::Points(points) => Some(points),
                        _ => None,
                    })
                    .collect(),
            )),
            Kind::Texts => {
                let texts = items(node).filter_map(|item| self.text(Kind::Text, item));
                Some(Value::Texts(texts.collect()))
            }
            Kind::Span => self.span(node),
            Kind::Defines(space) | Kind::Names(space) => {
                let text = self.text(Kind::Text, node)?;
                self.note(kind, space, &text, node);
                Some(Value::Text(text))
            }
            Kind::NameByDivision(space) => self.name_by_division(kind, space, node),
            Kind::DefinesSome(space) | Kind::NamesSome(space) => {
                Some(Value::Texts(self.names(kind, space, node)))
            }
            Kind::Table(fields) => self.inner_row(fields, node).map(Value::Row),
            Kind::Tables(fields) => Some(Value::Rows(
                items(node).filter_map(|item| self.inner_row(fields, item)).collect(),
            )),
            Kind::Numbers => self.raw_numbers(node).map(Value::Numbers),
        }
    }

    fn name_by_division(&mut self, kind: Kind, space: Space, node: &Node<'_>) -> Option<Value> {
        let DeValue::Table(table) = node.get_ref() else {
            return self.value(Kind::Names(space), node);
        };
        let mut names = BTreeMap::new();
        for (division, _, node) in in_file_order(table) {
            let text = self.text(Kind::Text, node)?;
            self.note(kind, space, &text, node);
            names.insert(division.to_owned(), Raw { text, span: node.span() });
        }
        Some(Value::Varies(Varies { kind, from: VariesFrom::Table(names) }))
    }

    fn names(&mut self, kind: Kind, space: Space, node: &Node<'_>) -> Vec<String> {
        let mut names = Vec::new();
        for item in items(node) {
            if let Some(text) = self.text(Kind::Text, item) {
                self.note(kind, space, &text, item);
                names.push(text);
            }
        }
        names
    }

    fn note(&mut self, kind: Kind, space: Space, text: &str, node: &Node<'_>) {
        match kind {
            Kind::Defines(_) | Kind::DefinesSome(_) => {
                self.walked.defined.push((space, text.to_owned()));
                if space == Space::Angle {
                    self.walked.defined.push((Space::Rule, text.to_owned()));
                }
            }
            _ => self.walked.used.push((space, text.to_owned(), node.span())),
        }
    }

    fn text(&mut self, kind: Kind, node: &Node<'_>) -> Option<String> {
        let text = match node.get_ref() {
            DeValue::String(text) => text.to_string(),
            // A page or an edition is often written as a bare number.
            DeValue::Integer(number) => number.as_str().to_owned(),
            DeValue::Float(number) => number.as_str().to_owned(),
            DeValue::Datetime(date) => date.to_string(),
            _ => {
                self.wrong(node, "a text in quotes");
                return None;
            }
        };
        if matches!(kind, Kind::Date) && text.parse::<jiff::civil::Date>().is_err() {
            self.wrong(node, "a date like 2026-01-31");
            return None;
        }
        Some(text)
    }

    fn word(&mut self, words: &'static [&'static str], node: &Node<'_>) -> Option<String> {
        let text = self.text(Kind::Text, node)?;
        if words.contains(&text.as_str()) {
            return Some(text);
        }
        self.findings.unknown(&node.span(), ("word", &text), words.iter().copied());
        None
    }

    fn flag(&mut self, node: &Node<'_>) -> Option<Value> {
        if let DeValue::Boolean(flag) = node.get_ref() {
            return Some(Value::Flag(*flag));
        }
        self.wrong(node, "true or false");
        None
    }

    fn number(&mut self, kind: Kind, node: &Node<'_>) -> Option<Value> {
        let from = match node.get_ref() {
            DeValue::String(name) => {
                if let Some(number) = quoted_number(name) {
                    let message = "this is a number in quotes".to_owned();
                    let remedy = format!("write it without quotes: {number}");
                    self.findings.error(&node.span(), message, &remedy);
                    return None;
                }
                VariesFrom::Name(name.to_string())
            }
            DeValue::Table(_) => VariesFrom::Table(self.raw_numbers(node)?),
            _ => return parsed(kind, &self.raw(node)?, self.findings),
        };
        Some(Value::Varies(Varies { kind, from }))
    }

    fn raw_numbers(&mut self, node: &Node<'_>) -> Option<BTreeMap<String, Raw>> {
        let DeValue::Table(table) = node.get_ref() else {
            self.wrong(node, "a table of numbers");
            return None;
        };
        let numbers = in_file_order(table);
        Some(numbers.filter_map(|(key, _, node)| Some((key.to_owned(), self.raw(node)?))).collect())
    }

    fn raw(&mut self, node: &Node<'_>) -> Option<Raw> {
        let text = match node.get_ref() {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str(),
            DeValue::Float(number) => number.as_str(),
            _ => {
                self.wrong(node, "a number without quotes");
                return None;
            }
        };
        Some(Raw { text: text.to_owned(), span: node.span() })
    }

    fn span(&mut self, node: &Node<'_>) -> Option<Value> {
        let numbers: Vec<u16> = items(node)
            .filter_map(|item| whole(&self.raw(item)?, self.findings))
            .filter_map(|number| u16::try_from(number).ok())
            .collect();
        match numbers[..] {
            [only] => Some(Value::Span([only, only])),
            [from, to] if from <= to => Some(Value::Span([from, to])),
            _ => {
                self.wrong(node, "one number, or two from low to high");
                None
            }
        }
    }

    fn wrong(&mut self, node: &Node<'_>, wanted: &str) {
        let is = node.get_ref().type_str();
        let message = format!("this must be {wanted}, but it is of the kind {is}");
        self.findings.error(&node.span(), message, &format!("write {wanted}"));
    }
}

/// Returns the number that a text is, as a book writes it.
fn quoted_number(text: &str) -> Option<String> {
    let bare = text.trim().trim_end_matches(['°', '\u{ba}']).trim().replace(',', ".");
    let is_number = bare.parse::<f64>().is_ok_and(f64::is_finite);
    (is_number && bare.contains(|letter: char| letter.is_ascii_digit())).then_some(bare)
}

/// Returns the value of a text for its kind: a number, or a name that differs by division.
pub(crate) fn parsed(kind: Kind, raw: &Raw, findings: &mut Findings<'_>) -> Option<Value> {
    match kind {
        // Seconds and plain numbers are read like points, in thousandths: none is ever a float.
        Kind::Points => points(raw, findings).map(Value::Points),
        Kind::Seconds => seconds(raw, findings).map(Value::Points),
        Kind::Number => number(raw, findings).map(Value::Points),
        Kind::Degrees => degrees(raw, findings).map(Value::Degrees),
        Kind::NameByDivision(_) => Some(Value::Text(raw.text.clone())),
        _ => whole(raw, findings).map(Value::Count),
    }
}

/// Returns the keys and values of a table in the order in which they are written.
fn in_file_order<'a, 'i>(
    table: &'a DeTable<'i>,
) -> impl Iterator<Item = (&'a str, Range<usize>, &'a Node<'i>)> {
    let mut entries: Vec<_> =
        table.iter().map(|(key, node)| (key.get_ref().as_ref(), key.span(), node)).collect();
    entries.sort_by_key(|(_, span, _)| span.start);
    entries.into_iter()
}

/// Returns the items of a list, or the single value that stands for a list of one.
fn items<'a, 'i>(node: &'a Node<'i>) -> impl Iterator<Item = &'a Node<'i>> {
    match node.get_ref() {
        DeValue::Array(array) => array.iter(),
        _ => std::slice::from_ref(node).iter(),
    }
}
