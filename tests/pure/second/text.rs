//! A routine held against the text of a compulsory one.

use super::{read::Row, scene::Scene};

/// Returns each amount and the element at which it is taken; of what was left out none.
pub(super) fn held_against(scene: &Scene<'_>, row: Row<'_>) -> Vec<(i64, Option<usize>)> {
    let under = scene.under;
    let asked: Vec<(String, String)> =
        row.names("elements").into_iter().map(|id| (under.family(&id), id)).collect();
    let done: Vec<String> = scene.shown.iter().map(|shown| under.family(&shown.id)).collect();
    let amount = |key: &str| row.points(key).unwrap_or(0);
    let mut taken = Vec::new();
    // An element that stands in both is paired; of the same element as often as it stands in both.
    let mut common = 0;
    let mut counted: Vec<&String> = Vec::new();
    for (family, id) in &asked {
        let before = counted.iter().filter(|own| **own == family).count();
        counted.push(family);
        if before < done.iter().filter(|own| *own == family).count() {
            common += 1;
        } else {
            let times = row.number("left_out_value").unwrap_or(0.0);
            let worth = (under.worth(id) as f64 * times).round() as i64;
            taken.push((amount("left_out") + worth, None));
        }
    }
    for _ in common..done.len() {
        taken.push((amount("added"), Some(0)));
    }
    let asked: Vec<&String> = asked.iter().map(|(family, _)| family).collect();
    let done: Vec<&String> = done.iter().collect();
    for _ in longest(&asked, &done)..common {
        taken.push((amount("swapped"), Some(0)));
    }
    taken.retain(|(amount, _)| *amount != 0);
    taken
}

/// How many of the one stand in the other in the same order.
fn longest(one: &[&String], other: &[&String]) -> usize {
    let (Some((first, rest)), true) = (one.split_first(), !other.is_empty()) else { return 0 };
    let without = longest(rest, other);
    let at = other.iter().position(|own| own == first);
    at.map_or(without, |at| without.max(1 + longest(rest, &other[at + 1..])))
}
