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

/// What two lists come to from a place in the first on, for each place in the second.
type WorthRow = Vec<Worth>;

/// Works the best way out from the end, a row for each place in the reference, and follows it from
/// the beginning. Of n rows only every √n-th is kept and those between two of them are worked out
/// anew, so that two long lists find room.
fn best(reference: &[MatchedMark], other: &[MatchedMark], reach: Ticks) -> Vec<(usize, usize)> {
    let pairs = Pairs { reference: &prepared(reference), other: &prepared(other), reach };
    let (rows, every) = (reference.len(), reference.len().isqrt().max(1));
    let (mut kept, mut below) = (Vec::new(), vec![(0, 0); other.len() + 1]);
    for i in (0..rows).rev() {
        if i + 1 == rows || (i + 1).is_multiple_of(every) {
            kept.push(below.clone());
        }
        below = pairs.row(i, &below);
    }
    let (mut i, mut j, mut found) = (0, 0, Vec::new());
    while let Some(bottom) = kept.pop() {
        let (from, to) = (i, (i + every).min(rows));
        let block = pairs.block((from, to), bottom);
        while i < to && j < other.len() {
            let (here, below) = (block[i - from][j], &block[i - from + 1]);
            if pairs.with(i, j, below) == Some(here) {
                found.push((i, j));
                (i, j) = (i + 1, j + 1);
            } else if below[j] == here {
                i += 1;
            } else {
                j += 1;
            }
        }
        i = to;
    }
    found
}

/// A mark as it is compared many times.
struct Prepared<'a> {
    key: &'a str,
    ends: Option<(i64, i64)>,
}

fn prepared(marks: &[MatchedMark]) -> Vec<Prepared<'_>> {
    marks.iter().map(|mark| Prepared { key: &mark.key, ends: ends(&mark.at) }).collect()
}

struct Pairs<'a> {
    reference: &'a [Prepared<'a>],
    other: &'a [Prepared<'a>],
    reach: Ticks,
}

impl Pairs<'_> {
    /// Returns what it comes to where these two are taken for the same; nothing where they cannot
    /// be.
    fn with(&self, i: usize, j: usize, below: &WorthRow) -> Option<Worth> {
        let (a, b) = (&self.reference[i], &self.other[j]);
        let apart = apart(a.ends, b.ends);
        (apart.gap <= self.reach.0 && a.key == b.key).then(|| {
            let (pairs, near) = below[j + 1];
            (pairs + 1, near - apart.begins)
        })
    }

    /// Returns the row of a place from the one below it.
    fn row(&self, i: usize, below: &WorthRow) -> WorthRow {
        let mut row = vec![(0, 0); below.len()];
        for j in (0..self.other.len()).rev() {
            let skip = below[j].max(row[j + 1]);
            row[j] = self.with(i, j, below).map_or(skip, |with| with.max(skip));
        }
        row
    }

    /// Returns the rows of these places and the one below them, which is known.
    fn block(&self, (from, to): (usize, usize), bottom: WorthRow) -> Vec<WorthRow> {
        let (mut below, mut block) = (bottom, Vec::new());
        for i in (from..to).rev() {
            let row = self.row(i, &below);
            block.push(std::mem::replace(&mut below, row));
        }
        block.push(below);
        block.reverse();
        block
    }
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
        let here = ends(&reference[place].at);
        let near = |j: &usize| apart(here, ends(&other[*j].at)).gap <= reach.0;
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

/// Returns the first and the last instant of a place in ticks; a planned one has none.
fn ends(at: &At) -> Option<(i64, i64)> {
    match at.frames()[..] {
        [] => None,
        [only] => Some((only.ticks.0, only.ticks.0)),
        [from, .., to] => Some((from.ticks.0, to.ticks.0)),
    }
}

/// Returns how far apart two places are; planned ones have an order but no time.
fn apart(a: Option<(i64, i64)>, b: Option<(i64, i64)>) -> Apart {
    match (a, b) {
        (Some(a), Some(b)) => {
            let gap = (a.0.max(b.0) - a.1.min(b.1)).max(0);
            Apart { gap, begins: (a.0 - b.0).abs() }
        }
        // A planned routine has an order, but no time.
        _ => Apart { gap: 0, begins: 0 },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{FrameIndex, FrameRef};

    /// The whole table at once, as in any textbook on the longest common subsequence.
    fn plain(
        reference: &[MatchedMark],
        other: &[MatchedMark],
        reach: Ticks,
    ) -> Vec<(usize, usize)> {
        let (rows, width) = (reference.len(), other.len());
        let mut worth = vec![vec![(0_usize, 0_i64); width + 1]; rows + 1];
        let pair = |worth: &[Vec<Worth>], i: usize, j: usize| {
            let apart = apart(ends(&reference[i].at), ends(&other[j].at));
            let is_same = reference[i].key == other[j].key && apart.gap <= reach.0;
            let (pairs, near) = worth[i + 1][j + 1];
            is_same.then_some((pairs + 1, near - apart.begins))
        };
        for i in (0..rows).rev() {
            for j in (0..width).rev() {
                let skip = worth[i + 1][j].max(worth[i][j + 1]);
                worth[i][j] = pair(&worth, i, j).map_or(skip, |with| with.max(skip));
            }
        }
        let (mut i, mut j, mut found) = (0, 0, Vec::new());
        while i < rows && j < width {
            if pair(&worth, i, j) == Some(worth[i][j]) {
                found.push((i, j));
                (i, j) = (i + 1, j + 1);
            } else if worth[i + 1][j] == worth[i][j] {
                i += 1;
            } else {
                j += 1;
            }
        }
        found
    }

    #[test]
    fn long_lists_match_as_in_the_whole_table() {
        let mut state = 1_u32;
        // Numerical Recipes' ranqd1, its high bits.
        let mut draw = |below: u32| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 16) % below
        };
        for _ in 0..400 {
            let mut list = || -> Vec<MatchedMark> {
                let (length, is_planned) = (draw(40), draw(4) == 0);
                let mut at = 0;
                (0..length)
                    .map(|place| {
                        at += i64::from(draw(5));
                        let (ticks, index) = (Ticks(at), FrameIndex(place.into()));
                        let frame = FrameRef { ticks, index, field: None, lo: ticks, hi: ticks };
                        let at = if is_planned { At::Place(place) } else { At::Frame(frame) };
                        MatchedMark { mark: Id(place.into()), key: draw(3).to_string(), at }
                    })
                    .collect()
            };
            let (reference, other) = (list(), list());
            for reach in [0, 3, 100].map(Ticks) {
                assert_eq!(best(&reference, &other, reach), plain(&reference, &other, reach));
            }
        }
    }
}
