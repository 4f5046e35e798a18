//! The way from the picture to the world, as a function of everything that was clicked for it.

use crate::{
    geometry::{
        Homography, Refusal,
        input::{MeasureInput, View},
        plane::{
            fixed::Fixed,
            pose::{self, Pose},
        },
    },
    units::{Degrees, OnPlane, Shown},
};

/// How one view is read from a row of numbers.
#[derive(Clone, Debug)]
pub(crate) enum Ground {
    /// Straight from the picture; `line` is where the points of the plumb or level line are.
    Picture {
        /// Place of its first coordinate.
        line: Option<usize>,
        /// Where the points of a level edge are, beside an upright.
        level: Option<usize>,
        /// How far the camera looks down, in radians, as said.
        down: f64,
    },
    /// Through a plane.
    Plane {
        /// The plane.
        fixed: Fixed,
        /// Centre of projection.
        centre: Shown,
    },
    /// Through a plane that stands on a line of the floor.
    Standing {
        /// The floor.
        floor: Fixed,
        /// Place of the line's first coordinate.
        line: usize,
        /// Centre of projection.
        centre: Shown,
    },
}

/// What is changed on the way for one bounded cause.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Variation {
    /// Height of the heel on the first frame and on the others, in metres.
    pub heel: [f64; 2],
    /// Factor on level lengths.
    pub stretch: f64,
    /// Without a plane: how far the camera looks down, besides what was said.
    pub tilt: Tilt,
    /// Degrees by which the picture is turned.
    pub roll: f64,
    /// Metres nearer to the camera than said.
    pub nearer: f64,
}

impl Variation {
    /// As it was clicked.
    pub(crate) const NONE: Self =
        Self { heel: [0.0; 2], stretch: 1.0, tilt: Tilt::NONE, roll: 0.0, nearer: 0.0 };
}

/// A camera that looks down, or up, on an upright plane from far away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Tilt {
    /// Radians down; nothing where it is as was said.
    pub down: Option<f64>,
    /// How much what lies level along the movement runs down in the picture: what a camera sees
    /// that looks down and stands off square. Where a level edge tells that, how much more.
    pub shear: f64,
}

impl Tilt {
    /// As it was said, and square.
    pub(crate) const NONE: Self = Self { down: None, shear: 0.0 };
}

/// The way from the picture to the world for one drawing of all inputs.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Way {
    /// Turned and stretched.
    Turned {
        /// Sine and cosine.
        by: [f64; 2],
        /// Factor on x.
        stretch: f64,
        /// Factor on y, and how much x runs down.
        tilt: [f64; 2],
    },
    /// Through a map.
    Mapped {
        /// The map.
        map: Homography,
        /// Sign of the side of the horizon on which everything lies.
        side: f64,
        /// Factor on y.
        handed: f64,
    },
}

impl Way {
    /// Returns where a picture point is in the world, y up; nothing beyond a horizon.
    pub(crate) fn place(&self, point: Shown) -> Option<OnPlane> {
        match self {
            Self::Turned { by: [sin, cos], stretch, tilt: [rise, shear] } => {
                let Shown([x, y]) = point;
                let y = -y;
                let along = (x * cos - y * sin) * stretch;
                Some(OnPlane([along, (x * sin + y * cos + shear * along) * rise]))
            }
            Self::Mapped { map, side, handed } => {
                let OnPlane([x, y]) = map.from(point)?;
                (map.side(point) * side > 0.0).then_some(OnPlane([x, y * handed]))
            }
        }
    }

    /// Returns where a point of the world is seen in the picture; nothing beyond a horizon.
    pub(crate) fn seen(&self, OnPlane([x, y]): OnPlane) -> Option<Shown> {
        match self {
            Self::Turned { by: [sin, cos], stretch, tilt: [rise, shear] } => {
                let (x, y) = (x / stretch, y / rise - shear * x);
                Some(Shown([x * cos + y * sin, x * sin - y * cos]))
            }
            Self::Mapped { map, side, handed } => {
                let point = map.to(OnPlane([x, y * handed]))?;
                (map.side(point) * side > 0.0).then_some(point)
            }
        }
    }
}

impl Ground {
    /// Sets up a view whose numbers begin at `first`.
    pub(crate) fn of(input: &MeasureInput, first: usize) -> Result<Self, Refusal> {
        match &input.view {
            View::Picture { line, .. } => {
                let given = line.iter().all(|placed| !placed.is_empty());
                let [low, high] =
                    input.facts.pitch.unwrap_or([Degrees(0.0); 2]).map(Degrees::to_radians);
                let line = given.then_some(first);
                let level = line.filter(|_| input.facts.level.is_some()).map(|line| line + 4);
                Ok(Self::Picture { line, level, down: f64::midpoint(low, high) })
            }
            View::Plane(plane) => {
                let centre = input.facts.centre;
                Ok(Self::Plane { fixed: Fixed::of(plane, first)?, centre })
            }
            View::Standing { floor, line } => {
                if line.iter().any(Vec::is_empty) {
                    return Err(Refusal::NoLine);
                }
                let line = first + 2 * floor.points.len() + 2;
                let floor = Fixed::of(floor, first)?;
                Ok(Self::Standing { floor, line, centre: input.facts.centre })
            }
        }
    }

    /// Returns the plane fitted, if there is one.
    pub(crate) fn fixed(&self) -> Option<&Fixed> {
        match self {
            Self::Picture { .. } => None,
            Self::Plane { fixed, .. } | Self::Standing { floor: fixed, .. } => Some(fixed),
        }
    }

    /// Returns the way for the numbers `x`; nothing where they make none.
    pub(crate) fn way(&self, x: &[f64], variation: Variation) -> Option<Way> {
        match self {
            Self::Picture { line, level, down } => {
                let Variation { stretch, tilt: Tilt { down: other, shear }, .. } = variation;
                let line = line.map(|at| pair_at(x, at));
                let roll = line.map_or(0.0, lean);
                let seen = level.map_or(0.0, |at| (roll - lean(pair_at(x, at))).to_radians().tan());
                let shear = seen / stretch + shear;
                // A level edge itself runs down in the picture of such a camera; an upright not.
                let is_edge = level.is_none() && line.is_some_and(is_level);
                let runs = if is_edge { (shear * stretch).atan() } else { 0.0 };
                let (sin, cos) = ((variation.roll - roll).to_radians() - runs).sin_cos();
                let rise = 1.0 / other.unwrap_or(*down).cos();
                Some(Way::Turned { by: [sin, cos], stretch, tilt: [rise, shear] })
            }
            Self::Plane { fixed, .. } => {
                let map = fixed.again(x)?;
                Some(Way::Mapped { map, side: fixed.side(&map, x), handed: fixed.handed() })
            }
            Self::Standing { floor, line, centre } => {
                let map = floor.again(x)?;
                let [a, b] = pair_at(x, *line);
                let line = [map.from(a)?, map.from(b)?];
                let standing = pose::standing(&map, line, *centre).ok()?;
                Some(Way::Mapped { map: standing, side: standing.side(a), handed: 1.0 })
            }
        }
    }

    /// Returns how much a level edge runs down in the picture beside an upright, where both were clicked:
    /// the tangent of what is missing of a right angle.
    pub(crate) fn runs_down(&self, x: &[f64]) -> Option<f64> {
        let Self::Picture { line: Some(line), level: Some(level), .. } = self else { return None };
        let lean = |at: usize| lean(pair_at(x, at));
        Some((lean(*line) - lean(*level)).to_radians().tan())
    }

    /// Returns how far the camera stands from the plane in which is measured, in metres, on the
    /// way for the numbers `x`; nothing where this view does not tell.
    pub(crate) fn distance(&self, way: &Way, x: &[f64]) -> Option<f64> {
        let Way::Mapped { map, .. } = way else { return None };
        // The floor tells more of the focal length than the plane that stands on it.
        let (known, centre) = match self {
            Self::Picture { .. } => return None,
            Self::Plane { centre, .. } => (*map, centre),
            Self::Standing { floor, centre, .. } => (floor.again(x)?, centre),
        };
        let focal = pose::focal_lengths(&known, *centre).better?;
        Some(Pose::of(map, *centre, focal).place().z.abs())
    }
}

/// Returns by how many degrees a plumb or level line leans, whichever of the two it is.
fn lean([a, b]: [Shown; 2]) -> f64 {
    let [x, y] = b - a;
    let degrees = (-y).atan2(x).to_degrees();
    degrees - (degrees / 90.0).round() * 90.0
}

fn is_level([a, b]: [Shown; 2]) -> bool {
    let [x, y] = b - a;
    x.abs() > y.abs()
}

fn pair_at(x: &[f64], at: usize) -> [Shown; 2] {
    [Shown([x[at], x[at + 1]]), Shown([x[at + 2], x[at + 3]])]
}
