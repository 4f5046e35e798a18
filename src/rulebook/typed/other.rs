//! What else a key could say.

use std::collections::BTreeMap;

use crate::{
    rulebook::rows::{Field, Kind, Need, Raw, Space, Value, Varies, VariesFrom, Walked},
    units::Points,
};

/// The names of a book, to take another one.
pub(super) struct Known(BTreeMap<Space, Vec<String>>);

impl Known {
    pub(super) fn of(walked: &Walked) -> Self {
        let mut names: BTreeMap<Space, Vec<String>> = BTreeMap::new();
        for (space, name) in &walked.defined {
            let known = names.entry(*space).or_default();
            if !known.contains(name) {
                known.push(name.clone());
            }
        }
        Self(names)
    }

    fn besides(&self, space: Space, name: &str) -> impl Iterator<Item = Value> {
        const SOME: usize = 6;
        let all = self.0.get(&space).map_or(&[][..], Vec::as_slice);
        let others = all.iter().filter(move |known| *known != name);
        others.take(SOME).map(|name| Value::Text(name.clone()))
    }
}

/// Returns the items of the value that are tried by themselves, each with what could stand in its
/// place; nothing stands for the key left out.
pub(super) fn others(
    field: &Field,
    value: &Value,
    known: &Known,
) -> Vec<(String, Vec<Option<Value>>)> {
    let mut others: Vec<Option<Value>> = match value {
        Value::Text(text) => another_text(field.kind, text, known).map(Some).collect(),
        Value::Flag(flag) => vec![Some(Value::Flag(!flag))],
        Value::Points(points) => {
            amounts(*points).into_iter().map(|points| Some(Value::Points(points))).collect()
        }
        Value::Degrees(degrees) => [1.0, -1.0, 10.0, -10.0, 45.0, -45.0]
            .map(|more| Some(Value::Degrees(degrees + more)))
            .into(),
        Value::Count(count) => {
            let all = [count + 1, count.saturating_sub(1), count + 3, 0];
            all.iter().filter(|it| *it != count).map(|it| Some(Value::Count(*it))).collect()
        }
        Value::Span([from, to]) => {
            let all = [[from + 180, to + 180], [from + 1, to + 1], [0, 0], [*from, to + 180]];
            all.iter().filter(|it| **it != [*from, *to]).map(|it| Some(Value::Span(*it))).collect()
        }
        Value::Amounts(list) => {
            return (0..list.len())
                .map(|at| {
                    let mut rest = list.clone();
                    let item = rest.remove(at).short();
                    let moved: Vec<Points> = list
                        .iter()
                        .enumerate()
                        .map(|(place, it)| if place == at { *it + Points(50) } else { *it })
                        .collect();
                    (item, vec![Some(Value::Amounts(rest)), Some(Value::Amounts(moved))])
                })
                .collect();
        }
        Value::Texts(list) if list.len() > 1 => {
            let items = items(list);
            if !matches!(field.kind, Kind::SomeOf(_)) {
                return items;
            }
            // Words are often listed alike at every rule: one that acts is enough.
            items.into_iter().flat_map(|(_, others)| others).collect()
        }
        Value::Texts(list) => {
            let other = list.first().map(|only| another_text(field.kind, only, known));
            other.into_iter().flatten().map(|text| Some(one_of(text))).collect()
        }
        Value::Varies(Varies { kind, from: VariesFrom::Table(table) }) => {
            let changed = changed(*kind, table, known).into_iter();
            let from = changed.map(|table| Varies { kind: *kind, from: VariesFrom::Table(table) });
            from.map(|varies| Some(Value::Varies(varies))).collect()
        }
        Value::Numbers(numbers) => {
            return numbers
                .keys()
                .map(|name| {
                    let only = BTreeMap::from([(name.clone(), numbers[name].clone())]);
                    let changed = changed(Kind::Number, &only, known).into_iter();
                    let with = changed.map(|changed| {
                        let mut all = numbers.clone();
                        all.extend(changed);
                        Some(Value::Numbers(all))
                    });
                    (name.clone(), with.collect())
                })
                .collect();
        }
        // A number that is called by its name is tried where the division has it.
        _ => Vec::new(),
    };
    if field.need == Need::Optional && !others.is_empty() {
        others.push(None);
    }
    if others.is_empty() { Vec::new() } else { vec![(String::new(), others)] }
}

fn items(list: &[String]) -> Vec<(String, Vec<Option<Value>>)> {
    let without = |at: usize| {
        let rest = list.iter().enumerate().filter(|(place, _)| *place != at);
        Value::Texts(rest.map(|(_, text)| text.clone()).collect())
    };
    list.iter().enumerate().map(|(at, item)| (item.clone(), vec![Some(without(at))])).collect()
}

fn one_of(value: Value) -> Value {
    match value {
        Value::Text(text) => Value::Texts(vec![text]),
        other => other,
    }
}

fn another_text<'k>(
    kind: Kind,
    text: &'k str,
    known: &'k Known,
) -> Box<dyn Iterator<Item = Value> + 'k> {
    match kind {
        Kind::OneOf(words) | Kind::SomeOf(words) => {
            let others = words.iter().filter(move |word| **word != text);
            Box::new(others.map(|word| Value::Text((*word).to_owned())))
        }
        Kind::Names(space) | Kind::NamesSome(space) | Kind::NameByDivision(space) => {
            Box::new(known.besides(space, text))
        }
        _ => Box::new(std::iter::once(Value::Text(format!("{text}-else")))),
    }
}

/// Returns amounts that are more and less, and none.
fn amounts(points: Points) -> Vec<Points> {
    let all = [points + Points(50), points - Points(50), points + Points(1000), Points::ZERO];
    all.into_iter().filter(|it| *it != points && *it >= Points::ZERO).collect()
}

/// Returns the table with another number, or another name, in one division.
fn changed(kind: Kind, table: &BTreeMap<String, Raw>, known: &Known) -> Vec<BTreeMap<String, Raw>> {
    let mut tables = Vec::new();
    for (division, raw) in table {
        let texts: Vec<String> = if let Kind::NameByDivision(space) = kind {
            let names = known.besides(space, &raw.text);
            names
                .filter_map(|it| if let Value::Text(name) = it { Some(name) } else { None })
                .collect()
        } else {
            let number = raw.text.trim_start_matches('+').replace('_', "").parse::<f64>();
            let number = number.unwrap_or_default();
            // Never shown: only to be read again.
            let steps: &[f64] =
                if matches!(kind, Kind::Points) { &[0.05, 1.0] } else { &[1.0, 10.0, 45.0, 0.05] };
            let all = steps.iter().flat_map(|step| [number + step, number - step]);
            all.map(|number| format!("{}", (number * 1000.0).round() / 1000.0)).collect()
        };
        for text in texts {
            let mut other = table.clone();
            other.insert(division.clone(), Raw { text, span: raw.span.clone() });
            tables.push(other);
        }
    }
    tables
}
