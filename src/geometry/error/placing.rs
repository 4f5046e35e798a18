//! How far a point lies from where it was meant, and what that does to an angle in the picture.
//!
//! Closed forms by first-order propagation (JCGM 100, clause 5) for independent errors of equal
//! size across and down; `s` is their standard deviation in pixels, lengths are in pixels.

use crate::units::{Degrees, Shown};

/// Standard deviation of a click across and down, in shown pixels, where nothing else is known.
pub(crate) const USUAL_CLICK: f64 = 2.5;

/// Degrees of freedom behind the usual click: it is a guess that is good to a fifth, and
/// 1 / (2 · 0.2²) is 12.5 (JCGM 100 G.4.2).
pub(crate) const USUAL_FREEDOM: f64 = 12.5;

/// Degrees of freedom from which on the spread of points placed again replaces the usual click.
pub(crate) const ENOUGH_FREEDOM: usize = 4;

/// Returns the uncertainty of the direction of a segment against a known direction.
pub fn segment(length: f64, s: f64) -> Degrees {
    Degrees::from_radians(std::f64::consts::SQRT_2 * s / length)
}

/// Returns the same where errors across (`sx`) and down (`sy`) differ, for a segment in the
/// direction `at` against the horizontal.
pub fn segment_across(length: f64, [sx, sy]: [f64; 2], at: Degrees) -> Degrees {
    let (sin, cos) = at.to_radians().sin_cos();
    Degrees::from_radians(std::f64::consts::SQRT_2 * (sx * sin).hypot(sy * cos) / length)
}

/// Returns the uncertainty of the angle `opening` at a point shared by two arms `a` and `b`.
pub fn three_points([a, b]: [f64; 2], opening: Degrees, s: f64) -> Degrees {
    let shared = 2.0 * opening.to_radians().cos() / (a * b);
    Degrees::from_radians(s * (2.0 / (a * a) + 2.0 / (b * b) - shared).sqrt())
}

/// Returns the uncertainty of the angle between two segments that share no point.
pub fn four_points([a, b]: [f64; 2], s: f64) -> Degrees {
    Degrees::from_radians(s * (2.0 / (a * a) + 2.0 / (b * b)).sqrt())
}

/// Returns the standard uncertainty of the mean of `n` placements.
pub fn repeated(s: f64, n: usize) -> f64 {
    s / (n.max(1) as f64).sqrt()
}

/// How far points placed again differ from each other, over all of them together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Standard deviation across and down, in pixels.
    pub s: f64,
    /// Degrees of freedom behind it; infinite where it is known.
    pub freedom: f64,
}

impl Spread {
    /// Where nothing else is known.
    pub const USUAL: Self = Self { s: USUAL_CLICK, freedom: USUAL_FREEDOM };

    /// Returns the pooled spread of several points, each placed one or more times, or `usual`
    /// where too few were placed again to say.
    pub fn of<'a>(points: impl IntoIterator<Item = &'a [Shown]>, usual: Self) -> Self {
        let (squares, again) = squares_of(points);
        let freedom = 2 * again;
        if freedom < ENOUGH_FREEDOM { usual } else { Self::from_repeats(squares, again) }
    }

    /// Returns the spread that points placed `again` so often beyond the first time tell, by the sum
    /// of their squares; across and down tell a degree of freedom each.
    pub fn from_repeats(squares: f64, again: usize) -> Self {
        let freedom = 2.0 * again as f64;
        // Points placed twice on the very same pixel are still known to a pixel only.
        Self { s: (squares / freedom).sqrt().max(PIXEL_STEP), freedom }
    }

    /// Returns the spread of the clicks on a plane whose points miss their places by `residual`, which
    /// `freedom` numbers more than it needs tell: all estimates pooled by their degrees of freedom (JCGM
    /// 100 H.3.6). As long as fewer than `CHECKED` tell, every missing one counts as a miss by
    /// `UNCHECKED`. What is known is only ever replaced by more, for then it is the places that are
    /// wrong.
    #[must_use]
    pub fn of_a_plane(self, residual: Option<f64>, freedom: usize) -> Self {
        let residual = residual.unwrap_or(0.0);
        if self.freedom.is_infinite() {
            return Self { s: self.s.max(residual), ..self };
        }
        let [more, missing] = [freedom, CHECKED.saturating_sub(freedom)].map(|n| n as f64);
        let squares =
            self.freedom * self.s.powi(2) + more * residual.powi(2) + missing * UNCHECKED.powi(2);
        let s = (squares / (self.freedom + more + missing)).sqrt();
        Self { s, freedom: self.freedom + more }
    }
}

/// From so many numbers on that a plane's points tell more than it needs, their misses tell how well
/// they were clicked: six points whose places are known tell four.
pub(crate) const CHECKED: usize = 4;

/// By so many pixels a point of a plane may miss without anybody noticing where nothing checks it: twice
/// the usual click.
const UNCHECKED: f64 = 2.0 * USUAL_CLICK;

/// Returns the sum of the squared distances of points from where each lies on the mean, and how often
/// they were placed beyond the first time.
pub fn squares_of<'a>(points: impl IntoIterator<Item = &'a [Shown]>) -> (f64, usize) {
    let (mut squares, mut again) = (0.0, 0);
    for placed in points {
        let mean = Shown::mean(placed);
        squares += placed.iter().map(|at| square(*at - mean)).sum::<f64>();
        again += placed.len().saturating_sub(1);
    }
    (squares, again)
}

/// Standard uncertainty of a position rounded to whole pixels, JCGM 100 F.2.2.1.
const PIXEL_STEP: f64 = 0.288_675_134_594_812_9;

fn square([x, y]: [f64; 2]) -> f64 {
    x.powi(2) + y.powi(2)
}
