//! How several people agree with each other, the reference left aside.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::{
    compared::{Compared, ComparedUnit, Said},
    known::Known,
};
use crate::practice::statistics::{
    AlphaScale, Intraclass, IntraclassForm, Undefined, alpha, fleiss, intraclass,
};

/// One kind of call among all people.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CategoryLine {
    /// The kind.
    pub kind: String,
    /// Things asked.
    pub items: usize,
    /// Name of the statistic: Fleiss' kappa where everybody answered everything, else
    /// Krippendorff's alpha.
    pub statistic: &'static str,
    /// Its value.
    pub value: Known<f64>,
}

/// One kind of number among all people.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ValueLine {
    /// The kind.
    pub kind: String,
    /// What it counts.
    pub unit: ComparedUnit,
    /// Things that not everybody answered, left out.
    pub left_out: usize,
    /// Correlation, absolute agreement of a single person, with the standard error of one value.
    pub correlation: Known<Intraclass>,
}

/// Returns the calls among people, kind by kind.
pub(super) fn calls(compared: &[Compared], people: &[String]) -> Vec<CategoryLine> {
    let mut kinds: BTreeMap<&str, BTreeMap<&str, Vec<&str>>> = BTreeMap::new();
    for one in compared {
        if let Said::Word { other, .. } = &one.said {
            kinds.entry(&one.kind).or_default().entry(&one.item).or_default().push(other);
        }
    }
    kinds.into_iter().map(|(kind, items)| call_line(kind, &items, people.len())).collect()
}

fn call_line(kind: &str, items: &BTreeMap<&str, Vec<&str>>, people: usize) -> CategoryLine {
    let words: BTreeSet<&str> = items.values().flatten().copied().collect();
    let words: Vec<&str> = words.into_iter().collect();
    let place = |word: &str| words.iter().position(|known| *known == word).unwrap_or(0);
    let complete = items.values().all(|answers| answers.len() == people);
    let value = if people < 2 {
        Err(Undefined::OnePerson)
    } else if items.len() == 1 {
        Err(Undefined::TooFew { needed: 2, found: 1 })
    } else if complete {
        let count = |answers: &Vec<&str>| {
            let of = |word: &&str| answers.iter().filter(|answer| *answer == word).count();
            words.iter().map(of).collect::<Vec<usize>>()
        };
        let counts: Vec<Vec<usize>> = items.values().map(count).collect();
        fleiss(&counts).map(|fleiss| fleiss.value)
    } else {
        let number = |answers: &Vec<&str>| answers.iter().map(|word| place(word) as f64).collect();
        let values: Vec<Vec<f64>> = items.values().map(number).collect();
        alpha(&values, AlphaScale::Nominal)
    };
    let statistic = if complete { "Fleiss' kappa" } else { "Krippendorff's alpha" };
    CategoryLine { kind: kind.to_owned(), items: items.len(), statistic, value: Known(value) }
}

/// Returns the numbers among people, kind by kind.
pub(super) fn values(compared: &[Compared], people: &[String]) -> Vec<ValueLine> {
    let mut kinds: BTreeMap<(&str, ComparedUnit), BTreeMap<&str, Vec<f64>>> = BTreeMap::new();
    for one in compared {
        if let Said::Number { unit, other, .. } = one.said {
            let items = kinds.entry((&one.kind, unit)).or_default();
            let place = people.iter().position(|code| *code == one.person);
            let row = items.entry(&one.item).or_insert_with(|| vec![f64::NAN; people.len()]);
            if let Some(cell) = place.and_then(|place| row.get_mut(place)) {
                *cell = other;
            }
        }
    }
    let line = |((kind, unit), items): ((&str, ComparedUnit), BTreeMap<&str, Vec<f64>>)| {
        let all = items.len();
        let whole = |row: &Vec<f64>| row.iter().all(|value| value.is_finite());
        let rows: Vec<Vec<f64>> = items.into_values().filter(whole).collect();
        ValueLine {
            kind: kind.to_owned(),
            unit,
            left_out: all - rows.len(),
            correlation: Known(intraclass(&rows, IntraclassForm::Agreement)),
        }
    };
    kinds.into_iter().map(line).collect()
}
