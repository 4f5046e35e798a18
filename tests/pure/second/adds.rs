//! What adds to the score: connections and bonuses, and their limit.

use std::collections::BTreeMap;

use super::{follow::follows, read::Row, scene::Scene};

/// How the ids of drawn connections begin, and what they add together stands under.
pub(super) const CONNECTIONS: &str = "con";

/// Returns what each rule adds, by its id; a limit takes back less than nothing.
pub(super) fn added(
    scene: &Scene<'_>,
    happened: &[(String, Option<usize>)],
) -> BTreeMap<String, i64> {
    let mut added: BTreeMap<String, i64> = BTreeMap::new();
    added.insert(CONNECTIONS.to_owned(), connections(scene));
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

/// Two elements and what stands between them, as a rule connects them.
#[derive(Clone, Copy)]
struct Connected<'s> {
    row: Row<'s>,
    from: usize,
    to: usize,
}

/// The most that connections add, over every choice of those that are there.
fn connections(scene: &Scene<'_>) -> i64 {
    let mut there: Vec<Connected<'_>> = Vec::new();
    for row in scene.under.rows("connection") {
        for from in 0..scene.shown.len() {
            for to in ends(scene, row, from, &mut Vec::new()) {
                there.push(Connected { row, from, to });
            }
        }
    }
    most(&there, &mut Vec::new())
}

fn most<'s>(there: &[Connected<'s>], chosen: &mut Vec<Connected<'s>>) -> i64 {
    let Some((first, rest)) = there.split_first() else { return 0 };
    let mut most_yet = most(rest, chosen);
    let is_of = |other: &&Connected<'_>| other.row.text("id") == first.row.text("id");
    let limit = first.row.count("at_most").unwrap_or(usize::MAX);
    if chosen.iter().filter(is_of).count() < limit && chosen.iter().all(|it| stand(it, first)) {
        chosen.push(*first);
        most_yet = most_yet.max(first.row.points("amount").unwrap_or(0) + most(rest, chosen));
        chosen.pop();
    }
    most_yet
}

/// Whether both count: of one rule they share no element, but in a chain the last and the first; of two
/// rules nothing between two elements, unless one stands beside all others.
fn stand(one: &Connected<'_>, other: &Connected<'_>) -> bool {
    let is_one_rule = one.row.text("id") == other.row.text("id");
    let stands_beside = one.row.flag("besides", false) || other.row.flag("besides", false);
    let (earlier, later) = if one.from <= other.from { (one, other) } else { (other, one) };
    if is_one_rule {
        earlier.to < later.from || one.row.flag("chain", false) && earlier.to == later.from
    } else {
        stands_beside || earlier.to <= later.from
    }
}

/// Where a connection that begins with an element may end.
fn ends(scene: &Scene<'_>, row: Row<'_>, at: usize, before: &mut Vec<usize>) -> Vec<usize> {
    let mut ends = Vec::new();
    before.push(at);
    let length = row.names("series").len().max(row.names("from_class").len());
    // The guide names the credit that breaks a series; the program asks for that of requirements, too.
    let has_credit = scene.shown[at].is_allowed && !scene.shown[at].lost[..2].contains(&true);
    let places: Vec<usize> = (0..length).collect();
    let fits = if row.flag("any_order", false) {
        matches(scene, row, before, &places)
    } else {
        fits(scene, row, at, before.len() - 1)
    };
    if has_credit && fits && before.len() == length {
        ends.push(at);
    } else if has_credit && fits {
        for next in at + 1..scene.shown.len() {
            if follows(scene, row, at, next) {
                ends.extend(self::ends(scene, row, next, before));
            }
        }
    }
    before.pop();
    ends
}

/// Whether an element has the tag and at least the class of a place.
fn fits(scene: &Scene<'_>, row: Row<'_>, at: usize, place: usize) -> bool {
    let id = &scene.shown[at].counts_as;
    let class = scene.under.element(id).map(|row| row.text("class")).unwrap_or_default();
    let own = scene.under.class_place(&class);
    row.names("series").get(place).is_none_or(|tag| scene.under.tags(id).contains(tag))
        && row.names("from_class").get(place).is_none_or(|class| {
            let least = scene.under.class_place(class);
            own.is_some() && own >= least
        })
}

/// Whether each fits a place that no other does.
fn matches(scene: &Scene<'_>, row: Row<'_>, all: &[usize], places: &[usize]) -> bool {
    let Some((first, rest)) = all.split_first() else { return true };
    places.iter().any(|place| {
        let others: Vec<usize> = places.iter().copied().filter(|other| other != place).collect();
        fits(scene, row, *first, *place) && matches(scene, row, rest, &others)
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
