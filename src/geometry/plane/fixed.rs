//! A plane fitted to its picture, and what is asked of such a fit.

use super::{
    homography::{self, Pair},
    pose::{self, Pose},
};
use crate::{
    geometry::{Homography, Lies, Refusal, input::Plane},
    units::{OnPlane, Shown},
};

/// A plane that is seen narrower than this share of its length is seen along itself; the sine of
/// about six degrees.
pub(crate) const GRAZING: f64 = 0.1;
/// Below this share not even its directions can be drawn; the sine of about two degrees.
pub(crate) const SLIVER: f64 = 0.03;
/// Points of a plane that miss by more than so many standard deviations of a click are wrong.
pub(crate) const WRONG_POINT: f64 = 5.0;

/// A fitted plane, ready to be fitted again with its points moved a little.
#[derive(Clone, Debug)]
pub(crate) struct Fixed {
    first: usize,
    pairs: Vec<Pair>,
    map: Homography,
    /// Sign that makes the plane's coordinates those of somebody who sees its front.
    handed: f64,
    /// Root mean square of what more than four points left over, in pixels.
    pub residual: Option<f64>,
    /// By how many numbers its points tell more than it needs.
    pub freedom: usize,
}

impl Fixed {
    /// Fits a plane whose numbers begin at `first`.
    pub(crate) fn of(plane: &Plane, first: usize) -> Result<Self, Refusal> {
        if plane.points.iter().any(|point| point.placed.is_empty()) {
            return Err(Refusal::CornerMissing);
        }
        let pairs: Vec<Pair> = plane
            .points
            .iter()
            .map(|point| Pair {
                from: point.place,
                to: Shown::mean(&point.placed),
                along: point.along,
            })
            .collect();
        let fit = homography::fit(&pairs)?;
        let map = fit.homography;
        let [[a, b], [c, d]] = map.to_slope(pairs[0].from).ok_or(Refusal::InLine)?;
        // Pixels run down, so a plane seen from its front turns the other way round. An upright
        // plane may be seen from behind; a floor cannot, its y was only counted the other way.
        let from_behind = a * d - b * c > 0.0;
        let handed = if from_behind && plane.lies == Lies::Flat { -1.0 } else { 1.0 };
        let freedom = homography::freedom(&pairs);
        Ok(Self { first, pairs, map, handed, residual: fit.residual, freedom })
    }

    /// Returns the map from the plane to the picture.
    pub(crate) fn map(&self) -> &Homography {
        &self.map
    }

    /// Returns the camera that sees this plane, metres as the plane's unit.
    pub(crate) fn pose(&self, centre: Shown) -> Option<Pose> {
        let focal = pose::focal_lengths(&self.map, centre).better?;
        Some(Pose::of(&self.map, centre, focal))
    }

    /// Returns the shorter over the longer picture of a length in the plane, and the sign of x
    /// in the picture, at a picture point.
    pub(crate) fn seen_at(map: &Homography, picture: Shown) -> Option<(f64, f64)> {
        let [[a, b], [c, d]] = map.to_slope(map.from(picture)?)?;
        let (square, area) = (a * a + b * b + c * c + d * d, (a * d - b * c).abs());
        let apart = (square * square - 4.0 * area * area).max(0.0).sqrt();
        let longest = f64::midpoint(square, apart).sqrt();
        Some((area / (longest * longest), a.signum()))
    }

    /// Returns the sign that makes the plane's coordinates those of somebody who sees its front.
    pub(crate) fn handed(&self) -> f64 {
        self.handed
    }

    /// Fits again: two numbers of size first, then the clicks of the points.
    pub(crate) fn again(&self, x: &[f64]) -> Option<Homography> {
        let x = &x[self.first..];
        let moved: Vec<Pair> = self
            .pairs
            .iter()
            .enumerate()
            .map(|(k, pair)| Pair {
                from: OnPlane([pair.from.0[0] * x[0], pair.from.0[1] * x[1]]),
                to: Shown([x[2 + 2 * k], x[3 + 2 * k]]),
                along: pair.along,
            })
            .collect();
        homography::fit_near(&self.map, &moved)
    }

    /// Returns the sign of the side of the horizon on which the plane's points lie.
    pub(crate) fn side(&self, map: &Homography, x: &[f64]) -> f64 {
        map.side(Shown([x[self.first + 2], x[self.first + 3]]))
    }
}
