//! What adds to the score: connections and bonuses, and their limit.

use std::collections::BTreeMap;

use super::{follow::follows, read::Row, scene::Scene};

/// Returns what each rule adds, by its id; a limit takes back less than nothing.
pub(super) fn added(
    scene: &Scene<'_>,
    happened: &[(String, Option<usize>)],
) -> BTreeMap<String, i64> {
    let mut added: BTreeMap<String, i64> = BTreeMap::new();
    for row in scene.under.rows("connection") {
        let often = connections(scene, row, 0).min(row.count("at_most").unwrap_or(usize::MAX));
        added.insert(row.text("id"), often as i64 * row.points("amount").unwrap_or(0));
    }
    for row in scene.under.rows("bonus") {
        let often = if row.has("fact") {
            let value = scene.done.facts.get(&row.text("fact"));
            usize::from(value.is_some_and(|value| row.names("is").contains(value)))
        } else {
            earned(scene, row, happened)
        };
        let often = often.min(row.count("at_most").unwrap_or(1));
        added.insert(row.text("id"), often as i64 * row.points("amount").unwrap_or(0));
    }
    let together: i64 = added.values().sum();
    let limits = scene.under.rows("bonus_limit");
    let lowest = limits.into_iter().min_by_key(|row| row.points("at_most"));
    if let Some(row) = lowest {
        let over = together - row.points("at_most").unwrap_or(0);
        if over > 0 {
            added.insert(row.text("id"), -over);
        }
    }
    added
}

/// The most connections of one rule that share no element, from an element on.
fn connections(scene: &Scene<'_>, row: Row<'_>, from: usize) -> usize {
    if from >= scene.shown.len() {
        return 0;
    }
    let series = row.names("series");
    let mut most = connections(scene, row, from + 1);
    for end in ends(scene, row, from, &series, &mut Vec::new()) {
        most = most.max(1 + connections(scene, row, end + 1));
    }
    most
}

/// Where a series that begins with an element may end.
fn ends(
    scene: &Scene<'_>,
    row: Row<'_>,
    at: usize,
    series: &[String],
    before: &mut Vec<usize>,
) -> Vec<usize> {
    let mut ends = Vec::new();
    before.push(at);
    let is_any = row.flag("any_order", false);
    let tags = |at: usize| scene.under.tags(&scene.shown[at].counts_as);
    // The guide names the credit that breaks a series; the program asks for that of requirements, too.
    let has_credit = scene.shown[at].is_allowed && !scene.shown[at].lost[..2].contains(&true);
    let fits = has_credit
        && if is_any {
            matches(&before.iter().map(|at| tags(*at)).collect::<Vec<_>>(), series)
        } else {
            tags(at).contains(&series[before.len() - 1])
        };
    if fits && before.len() == series.len() {
        ends.push(at);
    } else if fits {
        for next in at + 1..scene.shown.len() {
            if follows(scene, row, at, next) {
                ends.extend(self::ends(scene, row, next, series, before));
            }
        }
    }
    before.pop();
    ends
}

/// Whether each has a tag of the series that no other has.
fn matches(all: &[std::collections::BTreeSet<String>], series: &[String]) -> bool {
    let Some((first, rest)) = all.split_first() else { return true };
    (0..series.len()).any(|at| {
        let mut others = series.to_vec();
        let tag = others.remove(at);
        first.contains(&tag) && matches(rest, &others)
    })
}

/// How many different elements with credit earn a bonus.
fn earned(scene: &Scene<'_>, row: Row<'_>, happened: &[(String, Option<usize>)]) -> usize {
    let mut families: Vec<String> = Vec::new();
    for (at, shown) in scene.shown.iter().enumerate() {
        let id = &shown.counts_as;
        let is_meant =
            row.names("elements").contains(id) || scene.under.has_tag(id, &row.names("tags"));
        let unless = row.names("unless");
        let is_taken = happened.iter().any(|(rule, own)| *own == Some(at) && unless.contains(rule));
        let family = scene.under.family(id);
        let has_credit = shown.is_allowed && !shown.lost[0];
        if is_meant && has_credit && !is_taken && !families.contains(&family) {
            families.push(family);
        }
    }
    families.len()
}
