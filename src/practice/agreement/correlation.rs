//! The intraclass correlation with an interval that is honest for few items.

use std::collections::HashMap;

use serde::Serialize;

use crate::practice::statistics::{
    Answered, IntraclassForm, Range, Stat, Varies, coefficient, intraclass,
};

/// Intraclass correlation, absolute agreement of a single person.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Correlation {
    /// How many things.
    pub items: usize,
    /// How many people.
    pub people: usize,
    /// For one person's value.
    pub single: f64,
    /// Its 95 % interval.
    pub single_interval: Range,
    /// For the mean of all the people.
    pub mean: f64,
    /// Standard error of one value, in the unit of the values.
    pub standard_error: f64,
    /// The least change of one value that goes beyond chance.
    pub detectable: f64,
}

/// Returns the correlation of rows, each of one item with one value from each person.
///
/// The intervals of Shrout and Fleiss take items and people as normal, and a person beside the
/// reference as drawn from many: where items are spread evenly over a range, or one person's bias
/// is large, they hold 98 to 100 of 100, and with few people 84. Leaving out item by item, and where
/// they vary person by person, takes neither for granted.
pub(super) fn correlation(rows: &[(&str, Vec<f64>)], varies: Varies) -> Stat<Correlation> {
    let values: Vec<Vec<f64>> = rows.iter().map(|(_, row)| row.clone()).collect();
    let found = intraclass(&values, IntraclassForm::Agreement)?;
    let mut items: HashMap<&str, usize> = HashMap::new();
    let mut cells = Vec::new();
    for (place, (name, row)) in rows.iter().enumerate() {
        let next = items.len();
        let item = *items.entry(name).or_insert(next);
        for (person, value) in row.iter().enumerate() {
            cells.push(Answered { item, person, said: (place, *value) });
        }
    }
    let figure = |cells: &[Answered<(usize, f64)>]| {
        let of_a_row =
            |a: &Answered<(usize, f64)>, b: &Answered<(usize, f64)>| a.said.0 == b.said.0;
        let row = |row: &[Answered<(usize, f64)>]| row.iter().map(|cell| cell.said.1).collect();
        let rows: Vec<Vec<f64>> = cells.chunk_by(of_a_row).map(row).collect();
        intraclass(&rows, IntraclassForm::Agreement).ok().map(|found| found.single)
    };
    Ok(Correlation {
        items: found.items,
        people: found.people,
        single: found.single,
        single_interval: coefficient(&cells, &[], varies, figure),
        mean: found.mean,
        standard_error: found.standard_error,
        detectable: found.detectable,
    })
}
