//! The best elements of a routine, for books that add them up: exact within the limits.

use std::{cmp::Reverse, collections::BTreeMap};

use crate::{
    rulebook::{Element, ElementLimit, Holds, Scoring},
    sheet::routine::scene::Scene,
    units::Points,
};

use super::earned::Earned;

/// How many places are used, and how many count against each limit.
type Used = (u32, Vec<u32>);

/// The elements that count where a book adds them up.
#[derive(Default)]
pub(crate) struct Best {
    /// What they are worth together.
    pub sum: Points,
    /// Whether the book adds elements up.
    pub is_asked: bool,
    /// Which they are, in the order of the routine.
    pub acts: Vec<usize>,
}

/// A way of filling places.
#[derive(Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Way {
    sum: Points,
    /// Of ways that bring the same, the one with the earliest elements counts.
    acts: Reverse<Vec<usize>>,
}

/// Returns the best elements within the limits.
pub(crate) fn best_of(scene: &Scene<'_>, scoring: &Scoring, earned: &[Earned<'_>]) -> Best {
    if !scoring.ledger.holds(Holds::Elements) {
        return Best::default();
    }
    let best = scoring.ledger.best;
    let mut kinds: BTreeMap<Vec<bool>, Vec<(Reverse<Points>, usize)>> = BTreeMap::new();
    for (act, earned) in earned.iter().enumerate().filter(|(_, earned)| earned.part) {
        let Some(element) = earned.element else { continue };
        let worth = scene.book.worth(element, scene.division);
        let kind = scoring.limits.iter().flat_map(|limit| weighs(limit, element)).collect();
        kinds.entry(kind).or_default().push((Reverse(worth), act));
    }
    let room: Vec<u32> = scoring
        .limits
        .iter()
        .flat_map(|limit| {
            let others = limit.at_least.map_or(best, |kept| best.saturating_sub(kept));
            [limit.at_most.unwrap_or(best), others]
        })
        .collect();
    let Way { sum, acts: Reverse(acts) } = fill(kinds, best, &room);
    Best { sum, is_asked: true, acts }
}

/// Returns whether the element counts against the limit's own room, and against that of others.
fn weighs(limit: &ElementLimit, element: &Element) -> [bool; 2] {
    let tagged = limit.tags.iter().any(|tag| element.tags.contains(tag));
    [tagged, !tagged]
}

/// Returns the most that fits: every way of filling the places, the better of equals kept.
fn fill(kinds: BTreeMap<Vec<bool>, Vec<(Reverse<Points>, usize)>>, best: u32, room: &[u32]) -> Way {
    let mut ways: BTreeMap<Used, Way> =
        BTreeMap::from([((0, vec![0; room.len()]), Way::default())]);
    for (kind, mut worths) in kinds {
        worths.sort_unstable();
        // Of elements alike to every limit, only the worthiest can be among the best.
        for (Reverse(worth), act) in worths.into_iter().take(best as usize) {
            for (used, Way { sum, acts: Reverse(mut acts) }) in ways.clone() {
                let Some(next) = taken(&used, &kind, best, room) else { continue };
                let at = acts.partition_point(|before| *before < act);
                acts.insert(at, act);
                let new = Way { sum: sum + worth, acts: Reverse(acts) };
                let way = ways.entry(next).or_default();
                if new > *way {
                    *way = new;
                }
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
