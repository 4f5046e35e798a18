//! The best elements of a routine, for books that add them up: exact within the limits.

use std::collections::BTreeMap;

use crate::{
    rulebook::{Element, ElementLimit, Formula, Scoring},
    sheet::routine::scene::Scene,
    units::Points,
};

use super::earned::Earned;

/// How many places are used, and how many count against each limit.
type Used = (u32, Vec<u32>);

/// Returns the worth of the best elements together.
pub(crate) fn best_of(scene: &Scene<'_>, scoring: &Scoring, earned: &[Earned<'_>]) -> Points {
    let Formula::Open { best, .. } = scoring.formula else { return Points::ZERO };
    let mut kinds: BTreeMap<Vec<bool>, Vec<Points>> = BTreeMap::new();
    for earned in earned.iter().filter(|earned| earned.part) {
        let Some(element) = earned.element else { continue };
        let worth = scene.book.worth(element);
        let kind = scoring.limits.iter().flat_map(|limit| weighs(limit, element)).collect();
        kinds.entry(kind).or_default().push(worth);
    }
    let room: Vec<u32> = scoring
        .limits
        .iter()
        .flat_map(|limit| {
            let others = limit.at_least.map_or(best, |kept| best.saturating_sub(kept));
            [limit.at_most.unwrap_or(best), others]
        })
        .collect();
    fill(kinds, best, &room)
}

/// Returns whether the element counts against the limit's own room, and against that of others.
fn weighs(limit: &ElementLimit, element: &Element) -> [bool; 2] {
    let tagged = limit.tags.iter().any(|tag| element.tags.contains(tag));
    [tagged, !tagged]
}

/// Returns the most that fits: every way of filling the places, the better of equals kept.
fn fill(kinds: BTreeMap<Vec<bool>, Vec<Points>>, best: u32, room: &[u32]) -> Points {
    let mut ways: BTreeMap<Used, Points> =
        BTreeMap::from([((0, vec![0; room.len()]), Points::ZERO)]);
    for (kind, mut worths) in kinds {
        worths.sort_unstable_by_key(|worth| std::cmp::Reverse(*worth));
        // Of elements alike to every limit, only the worthiest can be among the best.
        for worth in worths.into_iter().take(best as usize) {
            for (used, sum) in ways.clone() {
                let Some(next) = taken(&used, &kind, best, room) else { continue };
                let way = ways.entry(next).or_default();
                *way = (*way).max(sum + worth);
            }
        }
    }
    ways.into_values().max().unwrap_or_default()
}

fn taken((count, used): &Used, kind: &[bool], best: u32, room: &[u32]) -> Option<Used> {
    let used: Vec<u32> =
        used.iter().zip(kind).map(|(used, weighs)| used + u32::from(*weighs)).collect();
    let fits = *count < best && used.iter().zip(room).all(|(used, room)| used <= room);
    fits.then_some((count + 1, used))
}
