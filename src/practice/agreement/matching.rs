//! Which of the other person's marks are the reference's, in order.

use crate::{
    marks::{At, Id},
    units::Ticks,
};

/// A mark as it is matched: what it is and where.
#[derive(Clone, Debug, PartialEq)]
pub struct MatchedMark {
    /// Its mark.
    pub mark: Id,
    /// What it is; only the same match.
    pub key: String,
    /// Where it is.
    pub at: At,
}

/// What became of two lists of marks; places in the lists, in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Matched {
    /// Found: place in the reference, place in the other.
    pub found: Vec<(usize, usize)>,
    /// Seen at the same place but called something else.
    pub renamed: Vec<(usize, usize)>,
    /// In the reference only.
    pub missed: Vec<usize>,
    /// In the other only.
    pub invented: Vec<usize>,
}

/// Returns which marks match, keeping their order: as many as possible, then as near in time as
/// possible. `reach` is how far apart in ticks the same thing may have been put.
pub fn align(reference: &[MatchedMark], other: &[MatchedMark], reach: Ticks) -> Matched {
    let mut matched = Matched { found: best(reference, other, reach), ..Matched::default() };
    let (mut from, mut to) = (0, 0);
    let ends = (reference.len(), other.len());
    for (next, beside) in matched.found.clone().into_iter().chain([ends]) {
        rest(&mut matched, (reference, from..next), (other, to..beside), reach);
        (from, to) = (next + 1, beside + 1);
    }
    matched
}

/// How good a way of matching is: more pairs first, then less time between them.
type Worth = (usize, i64);

fn best(reference: &[MatchedMark], other: &[MatchedMark], reach: Ticks) -> Vec<(usize, usize)> {
    let width = other.len() + 1;
    let mut worth: Vec<Worth> = vec![(0, 0); (reference.len() + 1) * width];
    let pair = |worth: &[Worth], i: usize, j: usize| -> Option<Worth> {
        let apart = apart(&reference[i].at, &other[j].at);
        (reference[i].key == other[j].key && apart.gap <= reach.0).then(|| {
            let (pairs, near) = worth[(i + 1) * width + j + 1];
            (pairs + 1, near - apart.begins)
        })
    };
    for i in (0..reference.len()).rev() {
        for j in (0..other.len()).rev() {
            let skip = worth[(i + 1) * width + j].max(worth[i * width + j + 1]);
            worth[i * width + j] = pair(&worth, i, j).map_or(skip, |with| with.max(skip));
        }
    }
    let (mut i, mut j, mut found) = (0, 0, Vec::new());
    while i < reference.len() && j < other.len() {
        let here = worth[i * width + j];
        if pair(&worth, i, j) == Some(here) {
            found.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if worth[(i + 1) * width + j] == here {
            i += 1;
        } else {
            j += 1;
        }
    }
    found
}

/// Takes what lies between two found ones: pairs near each other were called something else.
fn rest(
    matched: &mut Matched,
    (reference, missed): (&[MatchedMark], std::ops::Range<usize>),
    (other, invented): (&[MatchedMark], std::ops::Range<usize>),
    reach: Ticks,
) {
    let mut invented: Vec<usize> = invented.collect();
    for place in missed {
        let near = |j: &usize| apart(&reference[place].at, &other[*j].at).gap <= reach.0;
        match invented.iter().position(near) {
            Some(at) => {
                matched.renamed.push((place, invented[at]));
                matched.invented.extend(invented.drain(..=at).take(at));
            }
            None => matched.missed.push(place),
        }
    }
    matched.invented.extend(invented);
}

struct Apart {
    /// Ticks between the end of one and the beginning of the other, 0 where they overlap.
    gap: i64,
    /// Ticks between their beginnings.
    begins: i64,
}

/// Returns how far apart two places are; planned ones have an order but no time.
fn apart(a: &At, b: &At) -> Apart {
    let ends = |at: &At| match at.frames()[..] {
        [] => None,
        [only] => Some((only.ticks.0, only.ticks.0)),
        [from, .., to] => Some((from.ticks.0, to.ticks.0)),
    };
    match (ends(a), ends(b)) {
        (Some(a), Some(b)) => {
            let gap = (a.0.max(b.0) - a.1.min(b.1)).max(0);
            Apart { gap, begins: (a.0 - b.0).abs() }
        }
        // A planned routine has an order, but no time.
        _ => Apart { gap: 0, begins: 0 },
    }
}
