//! One patch of a picture found again in another one.

use super::grey::Grey;

/// A patch reaches so many pixels from its middle.
pub(super) const REACH: usize = 8;
const SIDE: usize = 2 * REACH + 1;

/// Below this correlation it is another thing that is seen there.
const ALIKE: f64 = 0.8;

/// Returns how unlike a patch is to itself moved a little, in squared steps of brightness a pixel:
/// the smaller eigenvalue of its structure tensor. An edge alone, which may slide along itself, has none.
pub(super) fn corner(grey: &Grey, [x, y]: [usize; 2]) -> f64 {
    let [mut xx, mut xy, mut yy] = [0.0; 3];
    for v in y - REACH + 1..y + REACH {
        for u in x - REACH + 1..x + REACH {
            let dx = f64::from(grey.at(u + 1, v) - grey.at(u - 1, v)) / 2.0;
            let dy = f64::from(grey.at(u, v + 1) - grey.at(u, v - 1)) / 2.0;
            (xx, xy, yy) = (xx + dx * dx, xy + dx * dy, yy + dy * dy);
        }
    }
    let apart = ((xx - yy).powi(2) + 4.0 * xy * xy).sqrt();
    (xx + yy - apart) / 2.0 / ((SIDE - 2) * (SIDE - 2)) as f64
}

/// Returns whether a patch about a place lies in the picture, with a pixel to spare.
fn fits(grey: &Grey, [x, y]: [i64; 2]) -> bool {
    let [width, height] = grey.size().map(|side| side as i64);
    let spare = REACH as i64 + 1;
    x >= spare && y >= spare && x < width - spare && y < height - spare
}

/// Correlation of the patch about `a` with that about `b` of the other picture, each about its own
/// mean, so that another exposure matters not; nothing where one has no texture or is not in its picture.
fn alike(before: &Grey, a: [i64; 2], after: &Grey, b: [i64; 2]) -> Option<f64> {
    if !fits(before, a) || !fits(after, b) {
        return None;
    }
    let reach = REACH as i64;
    let [mut s, mut t, mut ss, mut tt, mut st] = [0.0_f32; 5];
    for dy in -reach..=reach {
        let row = |[x, y]: [i64; 2]| [(x - reach) as usize, (y + dy) as usize];
        for (p, q) in before.row(row(a), SIDE).iter().zip(after.row(row(b), SIDE)) {
            (s, t, ss, tt, st) = (s + p, t + q, ss + p * p, tt + q * q, st + p * q);
        }
    }
    let n = (SIDE * SIDE) as f32;
    let [p, q] = [ss - s * s / n, tt - t * t / n];
    (p > n && q > n).then(|| f64::from((st - s * t / n) / (p * q).sqrt()))
}

/// Returns by how much the patch about `at` moved, in pixels of the largest picture, searching within
/// `reach` pixels of the smallest one about `guess`; nothing where it is not found for certain.
pub(super) fn follow(
    [before, after]: [&[Grey]; 2],
    at: [usize; 2],
    guess: [f64; 2],
    reach: i64,
) -> Option<[f64; 2]> {
    let levels = before.len().min(after.len());
    let mut by: Option<[i64; 2]> = None;
    for level in (0..levels).rev() {
        let size = f64::from(1_u32 << level);
        let place = at.map(|c| (c as f64 / size).round() as i64);
        let (start, reach) = match by {
            None => (guess.map(|c| (c / size).round() as i64), reach),
            Some(by) => (by.map(|c| 2 * c), 2),
        };
        // A patch too near to the edge of a small picture begins in the next larger one.
        by = best(&before[level], &after[level], place, start, reach)
            .map(|best| best.0)
            .or(if level > 0 { Some(start) } else { None });
    }
    let (by, found) = best(&before[0], &after[0], at.map(|c| c as i64), by?, 1)?;
    (found > ALIKE).then(|| between(&before[0], &after[0], at.map(|c| c as i64), by))
}

fn best(
    before: &Grey,
    after: &Grey,
    at: [i64; 2],
    start: [i64; 2],
    reach: i64,
) -> Option<([i64; 2], f64)> {
    let steps = (-reach..=reach).flat_map(|dy| (-reach..=reach).map(move |dx| [dx, dy]));
    let found = steps.filter_map(|[dx, dy]| {
        let by = [start[0] + dx, start[1] + dy];
        Some((by, alike(before, at, after, [at[0] + by[0], at[1] + by[1]])?))
    });
    found.max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Returns the top of the parabolas across and down through the correlations about the best step.
fn between(before: &Grey, after: &Grey, at: [i64; 2], by: [i64; 2]) -> [f64; 2] {
    let like =
        |dx: i64, dy: i64| alike(before, at, after, [at[0] + by[0] + dx, at[1] + by[1] + dy]);
    let top = |low: Option<f64>, high: Option<f64>| {
        let (Some(low), Some(middle), Some(high)) = (low, like(0, 0), high) else { return 0.0 };
        let bend = low - 2.0 * middle + high;
        if bend < 0.0 { ((low - high) / (2.0 * bend)).clamp(-0.5, 0.5) } else { 0.0 }
    };
    let off = [top(like(-1, 0), like(1, 0)), top(like(0, -1), like(0, 1))];
    [by[0] as f64 + off[0], by[1] as f64 + off[1]]
}
