//! Whether the points of a plane tie the picture to the world.

use super::fixed::{Fixed, GRAZING, WRONG_POINT};
use crate::{
    geometry::{
        Refusal,
        error::placing::Spread,
        input::Plane,
    },
    units::Shown,
};

/// How well a plane is tied to the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PlaneFit {
    /// Root mean square by which the points miss their places, in pixels; nothing with four.
    pub residual: Option<f64>,
    /// Shortest over longest picture of one length in its middle: 1 is seen squarely.
    pub share: f64,
}

/// Fits the plane and says how well it fits, or why it is refused.
pub(crate) fn check_plane(plane: &Plane) -> Result<PlaneFit, Refusal> {
    let fixed = Fixed::of(plane, 0)?;
    let middle = Shown::mean(plane.points.iter().map(|it| Shown::mean(&it.placed)));
    let spread = Spread::of(plane.points.iter().map(|it| it.placed.as_slice()), Spread::USUAL);
    if let Some(residual) = fixed.residual.filter(|it| *it > WRONG_POINT * spread.s.max(1.0)) {
        return Err(Refusal::NotOnePlane { residual });
    }
    let (share, _) = Fixed::seen_at(fixed.map(), middle).ok_or(Refusal::BeyondHorizon)?;
    if share < GRAZING {
        return Err(Refusal::Grazing { share });
    }
    Ok(PlaneFit { residual: fixed.residual, share })
}
