//! What a camera that is off square does to an angle in the picture, when no plane is known.
//!
//! For a far camera, or on the optical axis: lengths across the axis of rotation shrink by the
//! cosine of the angle `away` between the plane of the movement and the picture.

use crate::units::Degrees;

/// Returns how steep a line looks whose true elevation is `truth`, turned about the vertical.
pub fn elevation_seen(truth: Degrees, away: Degrees) -> Degrees {
    stretch(truth, 1.0 / away.to_radians().cos())
}

/// Returns the true elevation of a line that looks `seen` steep, turned about the vertical.
pub fn elevation_true(seen: Degrees, away: Degrees) -> Degrees {
    stretch(seen, away.to_radians().cos())
}

/// Returns the least and the greatest that an angle between two lines can look, whichever way
/// the plane is turned.
pub fn opening_seen(truth: Degrees, away: Degrees) -> [Degrees; 2] {
    let shrunk = away.to_radians().cos();
    let ends = [half_stretch(truth, shrunk), half_stretch(truth, 1.0 / shrunk)];
    if ends[0] <= ends[1] { ends } else { [ends[1], ends[0]] }
}

/// Returns the least and the greatest true angle behind one that looks like `seen`.
pub fn opening_true(seen: Degrees, away: Degrees) -> [Degrees; 2] {
    opening_seen(seen, away)
}

/// Elevations keep the side of vertical on which they are.
fn stretch(elevation: Degrees, factor: f64) -> Degrees {
    let (sin, cos) = elevation.to_radians().sin_cos();
    Degrees::from_radians((sin * factor).atan2(cos))
}

/// Angles past 180 degrees shrink and grow as the rest of the full turn grows and shrinks.
fn half_stretch(opening: Degrees, factor: f64) -> Degrees {
    let (sin, cos) = (opening.to_radians() / 2.0).sin_cos();
    Degrees::from_radians(2.0 * (sin * factor).atan2(cos))
}
