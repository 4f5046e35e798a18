//! How the background moved from one picture to another.

use super::{
    grey::Grey,
    patch::{self, REACH},
};
use crate::geometry::rng::Rng;

/// A shift, turn and change of size that takes the background of one picture to where it is in another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// About where it turns and grows, in pixels.
    centre: [f64; 2],
    /// How far that went, in pixels.
    shift: [f64; 2],
    /// By how much it grew, and by how many radians it turned, right to down.
    grown: [f64; 2],
    /// Standard deviation of one patch across and down.
    s: f64,
    /// How many patches went along, and the sum of their squared distances from the centre.
    patches: f64,
    reach: f64,
}

/// A patch and by how much it moved.
#[derive(Clone, Copy, Debug)]
struct Step {
    at: [f64; 2],
    by: [f64; 2],
}

/// Patches across and down.
const GRID: [usize; 2] = [16, 9];
/// A corner has at least this much texture, in squared steps of brightness a pixel; a camera's noise of
/// three steps makes three of it, alike in both directions, but finds itself nowhere again.
const TEXTURE: f64 = 6.0;
/// Sizes at which patches are looked for, each half as large as the one before.
const SIZES: usize = 3;
/// Pixels of the smallest picture within which a patch is looked for: 32 of the largest.
const SEARCH: i64 = 8;
/// A patch goes along that is no further off than this, in pixels.
const ALONG: f64 = 1.0;
/// So many patches must go along, and this share of those that were found again.
const ENOUGH: usize = 8;
const MOST: f64 = 0.5;
/// They must lie this share of the picture's width apart, as a root mean square about their middle:
/// evenly spread they would lie a third of it.
const APART: f64 = 0.12;
/// What the tops of parabolas are off by for all patches alike, in pixels; found with pictures whose
/// motion is known.
const TOP: f64 = 0.1;
/// Pairs of patches that are tried.
const TRIES: usize = 400;

impl Motion {
    /// Returns how the background moved; nothing where too few patches of it are found again, or no
    /// motion is that of most of them.
    pub fn between(before: &Grey, after: &Grey) -> Option<Self> {
        if before.size() != after.size() {
            return None;
        }
        let corners = corners(before);
        let pictures = [before, after].map(|grey| grey.clone().halves(SIZES));
        let guesses = [[0.0; 2], whole_shift(before, after)];
        let tried = guesses.into_iter().filter_map(|guess| {
            let found = |at: &[usize; 2]| {
                let by = patch::follow([&pictures[0], &pictures[1]], *at, guess, SEARCH)?;
                Some(Step { at: at.map(|c| c as f64), by })
            };
            let steps: Vec<Step> = corners.iter().filter_map(found).collect();
            Self::of_most(&steps, before.size()[0] as f64)
        });
        tried.max_by(|a, b| a.patches.total_cmp(&b.patches))
    }

    /// Returns by how many pixels a place moved, and the standard uncertainty of that.
    pub fn at(&self, place: [f64; 2]) -> (f64, f64) {
        let [dx, dy] = self.off(place);
        let [x, y] = [place[0] - self.centre[0], place[1] - self.centre[1]];
        let u = self.s * (1.0 / self.patches + (x * x + y * y) / self.reach).sqrt();
        (dx.hypot(dy), u.hypot(TOP))
    }

    /// Returns by how many pixels across and down a place moved.
    pub fn off(&self, place: [f64; 2]) -> [f64; 2] {
        let [x, y] = [place[0] - self.centre[0], place[1] - self.centre[1]];
        let [grown, turned] = self.grown;
        [self.shift[0] + grown * x - turned * y, self.shift[1] + turned * x + grown * y]
    }

    fn of_most(steps: &[Step], width: f64) -> Option<Self> {
        let mut rng = Rng::new(4);
        let mut draw = || (rng.uniform() * steps.len() as f64) as usize;
        let goes_along = |motion: &Self, step: &Step| {
            let [x, y] = motion.off(step.at);
            (x - step.by[0]).hypot(y - step.by[1]) <= ALONG
        };
        let along = |motion: &Self| -> Vec<Step> {
            steps.iter().filter(|step| goes_along(motion, step)).copied().collect()
        };
        let pairs = (0..TRIES).filter_map(|_| {
            let pair = [draw(), draw()].map(|place| steps.get(place).copied());
            let [Some(a), Some(b)] = pair else { return None };
            Self::fitted(&[a, b])
        });
        let mut all = pairs.map(|motion| along(&motion)).max_by_key(Vec::len)?;
        for _ in 0..3 {
            all = along(&Self::fitted(&all)?);
        }
        let motion = Self::fitted(&all)?;
        let is_most = all.len() >= ENOUGH && all.len() as f64 >= MOST * steps.len() as f64;
        let apart = (motion.reach / motion.patches).sqrt();
        (is_most && apart >= APART * width).then_some(motion)
    }

    /// Least squares; nothing where all lie in one place.
    fn fitted(steps: &[Step]) -> Option<Self> {
        let n = steps.len() as f64;
        let mean = |of: fn(&Step) -> [f64; 2]| {
            let sum = steps.iter().map(of).fold([0.0; 2], |a, b| [a[0] + b[0], a[1] + b[1]]);
            sum.map(|sum| sum / n.max(1.0))
        };
        let [centre, shift] = [mean(|step| step.at), mean(|step| step.by)];
        let [mut reach, mut grown, mut turned] = [0.0; 3];
        for Step { at, by } in steps {
            let [x, y] = [at[0] - centre[0], at[1] - centre[1]];
            let [dx, dy] = [by[0] - shift[0], by[1] - shift[1]];
            reach += x * x + y * y;
            grown += x * dx + y * dy;
            turned += x * dy - y * dx;
        }
        if reach < 1.0 {
            return None;
        }
        let grown = [grown / reach, turned / reach];
        let mut motion = Self { centre, shift, grown, s: 0.0, patches: n, reach };
        let misses: f64 = steps
            .iter()
            .map(|step| {
                let [x, y] = motion.off(step.at);
                (x - step.by[0]).powi(2) + (y - step.by[1]).powi(2)
            })
            .sum();
        motion.s = (misses / (2.0 * n - 4.0).max(1.0)).sqrt();
        Some(motion)
    }
}

/// The most telling place of each cell of a grid.
fn corners(grey: &Grey) -> Vec<[usize; 2]> {
    let [width, height] = grey.size();
    let edge = REACH + 2;
    let cells = (0..GRID[1]).flat_map(|row| (0..GRID[0]).map(move |column| [column, row]));
    let best_of = |[column, row]: [usize; 2]| {
        let span = |cell: usize, of: usize, long: usize| {
            let inner = long.saturating_sub(2 * edge);
            edge + cell * inner / of..edge + (cell + 1) * inner / of
        };
        let (xs, ys) = (span(column, GRID[0], width), span(row, GRID[1], height));
        let places = ys.step_by(4).flat_map(|y| xs.clone().step_by(4).map(move |x| [x, y]));
        places.map(|at| (patch::corner(grey, at), at)).max_by(|a, b| a.0.total_cmp(&b.0))
    };
    let best = cells.filter_map(best_of).filter(|(texture, _)| *texture > TEXTURE);
    best.map(|(_, at)| at).collect()
}

/// How far the whole picture went, to eight pixels: where an eighth of it lies most alike on the other,
/// within a third of its width.
fn whole_shift(before: &Grey, after: &Grey) -> [f64; 2] {
    const EIGHTH: usize = 4;
    let [before, after] = [before, after].map(|grey| grey.clone().halves(EIGHTH).pop());
    let (Some(before), Some(after)) = (before, after) else { return [0.0; 2] };
    let [width, height] = before.size().map(|side| side as i64);
    let reach = [width / 3, height / 3];
    let steps =
        (-reach[1]..=reach[1]).flat_map(|dy| (-reach[0]..=reach[0]).map(move |dx| [dx, dy]));
    let best = steps.map(|by| (unlike(&before, &after, by), by)).min_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or([0.0; 2], |(_, by)| by.map(|c| (8 * c) as f64))
}

/// Mean difference of two pictures, one of them moved, about the mean difference.
fn unlike(before: &Grey, after: &Grey, [dx, dy]: [i64; 2]) -> f64 {
    let [width, height] = before.size().map(|side| side as i64);
    let long = (width - dx.abs()) as usize;
    let rows = || {
        (0.max(-dy)..height.min(height - dy)).map(|y| {
            let from = |by: i64, y: i64| [0.max(by) as usize, y as usize];
            let a = before.row(from(-dx, y), long);
            a.iter().zip(after.row(from(dx, y + dy), long))
        })
    };
    let n = (long as i64 * (height - dy.abs())).max(1) as f32;
    let mean = rows().map(|row| row.map(|(a, b)| b - a).sum::<f32>()).sum::<f32>() / n;
    let off = rows().map(|row| row.map(|(a, b)| (b - a - mean).abs()).sum::<f32>());
    f64::from(off.sum::<f32>() / n)
}
