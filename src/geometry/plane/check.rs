//! Whether the points of a plane tie the picture to the world.

use super::fixed::{Fixed, GRAZING, SLIVER, WRONG_POINT};
use crate::{
    geometry::{
        Refusal,
        angle::between,
        error::{
            placing::{self, CHECKED, Spread},
            propagate::{Input, first_order},
        },
        input::Plane,
    },
    units::{Degrees, Shown},
};

/// How well a plane is tied to the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PlaneFit {
    /// Root mean square by which the points miss their places, in pixels; nothing with four.
    pub residual: Option<f64>,
    /// By how many numbers its points tell more than it needs.
    pub freedom: usize,
    /// Shortest over longest picture of one length in its middle: 1 is seen squarely.
    pub share: f64,
    /// Standard uncertainty that its own clicks and sizes leave to the direction of a line in its
    /// middle, the worst of level, upright and between; nothing where it is too bent to say.
    pub direction_u: Option<Degrees>,
}

impl PlaneFit {
    /// Returns whether its points tell how well they were clicked.
    pub(crate) fn is_checked(&self) -> bool {
        self.freedom >= CHECKED
    }

    /// Returns whether it is seen squarely enough to measure in, and not only to draw its directions.
    pub(crate) fn measures(&self) -> bool {
        self.share >= GRAZING
    }
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
    if share < SLIVER {
        return Err(Refusal::Grazing { share });
    }
    let spread = spread.of_a_plane(fixed.residual, fixed.freedom);
    let direction_u = direction(plane, &fixed, middle, spread);
    Ok(PlaneFit { residual: fixed.residual, freedom: fixed.freedom, share, direction_u })
}

fn direction(plane: &Plane, fixed: &Fixed, middle: Shown, spread: Spread) -> Option<Degrees> {
    let input = |value, u| Input { value, u, freedom: spread.freedom, cause: () };
    let size = input(1.0, plane.size_u);
    let clicks = plane.points.iter().flat_map(|point| {
        let u = placing::repeated(spread.s, point.placed.len());
        Shown::mean(&point.placed).0.map(|value| input(value, u))
    });
    let inputs: Vec<Input<()>> = [size, size].into_iter().chain(clicks).collect();
    let [[a, b], [c, d]] = fixed.map().to_slope(fixed.map().from(middle)?)?;
    let us = [[1.0, 0.0], [0.0, 1.0], [1.0, 1.0]].map(|[along, up]| {
        // How a line of this direction is seen, and which direction a changed map reads of that.
        let seen = [a * along + b * up, c * along + d * up];
        let read = first_order(&inputs, |x| {
            let [[a, b], [c, d]] = fixed.again(x)?.from_slope(middle)?;
            let line = [a * seen[0] + b * seen[1], c * seen[0] + d * seen[1]];
            Some(between([along, up], line))
        });
        read.map(|read| read.u())
    });
    us.into_iter()
        .collect::<Option<Vec<f64>>>()
        .map(|us| Degrees(us.into_iter().fold(0.0, f64::max)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        geometry::{Lies, input::PlanePoint},
        units::OnPlane,
    };

    /// Worked by hand: seen squarely, a square of 1000 px gives the slope of a level line in its
    /// middle as the difference of two pairs of corners over twice its side, so that s px leave s / 1000
    /// to every direction; sizes good to 2 % leave 0.02 / √2 to the diagonal besides. Nothing checks four
    /// corners: to 2.5 px, known to a fifth (12.5 degrees of freedom), four misses of 5 px are added.
    #[test]
    fn a_plane_tells_what_it_leaves_to_a_direction_in_it() {
        let corners = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let point = |[x, y]: [f64; 2]| PlanePoint {
            place: OnPlane([x, y]),
            along: None,
            placed: vec![Shown([400.0 + 1000.0 * x, 1040.0 - 1000.0 * y])],
        };
        let square =
            |size_u| Plane { lies: Lies::Upright, points: corners.map(point).to_vec(), size_u };
        let left = |size_u| check_plane(&square(size_u)).unwrap().direction_u.unwrap().0;
        let squares = 12.5 * 2.5_f64.powi(2) + 4.0 * 5.0_f64.powi(2);
        let clicks = ((squares / (12.5 + 4.0)).sqrt() / 1000.0).to_degrees();
        assert!((left(0.0) - clicks).abs() < 1e-6, "{}", left(0.0));
        let sizes = (0.02 / 2.0_f64.sqrt()).to_degrees();
        assert!((left(0.02) - clicks.hypot(sizes)).abs() < 1e-5, "{}", left(0.02));
    }
}
