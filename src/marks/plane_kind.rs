//! The planes that stand in a hall, with their corners and usual sizes.

use super::plane::{PlacedPoint, ReferencePlane};
use crate::{
    geometry::{Along, Lies, input::USUAL_SIZE_U},
    units::OnPlane,
};

/// A plane that people know the size of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlaneKind {
    /// The beam from the side, down to the mat.
    BeamSide,
    /// Both rails and the feet of their uprights from the side.
    BarsSide,
    /// The vaulting table from the side, down to the mat.
    TableSide,
    /// A mat on the floor.
    FloorMat,
    /// Any upright rectangle along the movement.
    Upright,
    /// Any rectangle lying on the floor.
    Flat,
}

/// A size that is asked for, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// What is measured.
    pub label: &'static str,
    /// What it usually is: 500 cm of beam, 120 of vaulting table, heights of 125, rails at 170 and 250 to
    /// 2021, mats of 20 (the international federation's page on women's apparatus; a state's guide to
    /// sizes for mats); the rails' distance is common practice. A club measures its own.
    pub usual: f64,
}

const fn size(label: &'static str, usual: f64) -> Size {
    Size { label, usual }
}

impl PlaneKind {
    /// Every kind, in the order in which they are offered.
    pub const ALL: [Self; 6] = [
        Self::BeamSide,
        Self::BarsSide,
        Self::TableSide,
        Self::FloorMat,
        Self::Upright,
        Self::Flat,
    ];

    /// Returns what it is called, on screen and in the marks file.
    pub const fn name(self) -> &'static str {
        match self {
            Self::BeamSide => "beam side",
            Self::BarsSide => "bars side",
            Self::TableSide => "table side",
            Self::FloorMat => "floor mat",
            Self::Upright => "upright rectangle",
            Self::Flat => "flat rectangle",
        }
    }

    /// Returns which way it lies.
    pub const fn lies(self) -> Lies {
        match self {
            Self::FloorMat | Self::Flat => Lies::Flat,
            _ => Lies::Upright,
        }
    }

    /// Returns the sizes that are asked for.
    pub const fn sizes(self) -> &'static [Size] {
        const MAT: Size = size("mat thickness", 0.20);
        const BEAM: &[Size] = &[size("length", 5.0), size("top above the floor", 1.25), MAT];
        const BARS: &[Size] = &[
            size("low rail above the floor", 1.70),
            size("high rail above the floor", 2.50),
            size("diagonal between the rails", 1.60),
            MAT,
        ];
        const TABLE: &[Size] = &[size("length", 1.20), size("top above the floor", 1.25), MAT];
        const RECTANGLE: &[Size] = &[size("along the movement", 2.0), size("across, or up", 1.0)];
        match self {
            Self::BeamSide => BEAM,
            Self::BarsSide => BARS,
            Self::TableSide => TABLE,
            Self::FloorMat | Self::Upright | Self::Flat => RECTANGLE,
        }
    }

    /// Returns the plane with its points still to be clicked, or what is wrong with the sizes;
    /// those are in the order of [`Self::sizes`], in metres.
    pub fn plane(self, name: &str, sizes: &[f64]) -> Result<ReferencePlane, String> {
        if sizes.len() != self.sizes().len() || sizes.iter().any(|it| !it.is_finite()) {
            return Err("Give every size in metres, for example 1.25.".to_owned());
        }
        let points = match self {
            Self::BeamSide | Self::TableSide => box_side(sizes)?,
            Self::BarsSide => bars_side(sizes)?,
            Self::FloorMat | Self::Flat => rectangle(sizes, ["near", "far"])?,
            Self::Upright => rectangle(sizes, ["lower", "upper"])?,
        };
        Ok(ReferencePlane {
            name: name.to_owned(),
            lies: self.lies(),
            points,
            size_u: USUAL_SIZE_U,
            frame: None,
        })
    }
}

/// Thickness of a rail, by which the middles of two rails are further apart than their insides.
const RAIL: f64 = 0.04;

fn box_side(sizes: &[f64]) -> Result<Vec<PlacedPoint>, String> {
    let &[length, top, mat] = sizes else { return Err(String::new()) };
    let height = above(top, mat)?;
    positive(length)?;
    Ok(vec![
        corner("mat straight below the left end", [0.0, 0.0]),
        corner("mat straight below the right end", [length, 0.0]),
        corner("top, right end", [length, height]),
        corner("top, left end", [0.0, height]),
        on_line("top edge, a third of the way from the left", Along::X, [length / 3.0, height]),
        on_line("top edge, a third of the way from the right", Along::X, [length / 1.5, height]),
        on_line(
            "seam of the mats that runs straight below, on the left, if there is one",
            Along::X,
            [length / 3.0, 0.0],
        ),
        on_line("the same seam, on the right", Along::X, [length / 1.5, 0.0]),
    ])
}

fn bars_side(sizes: &[f64]) -> Result<Vec<PlacedPoint>, String> {
    let &[low, high, diagonal, mat] = sizes else { return Err(String::new()) };
    let (low, high) = (above(low, mat)?, above(high, mat)?);
    let apart = (diagonal + RAIL).powi(2) - (high - low).powi(2);
    if apart <= 0.0 || high <= low {
        return Err("The diagonal must be longer than the rails differ in height, and the high \
                    rail above the low one."
            .to_owned());
    }
    let apart = apart.sqrt();
    Ok(vec![
        corner("foot of the low rail's upright, on the mat", [0.0, 0.0]),
        corner("foot of the high rail's upright, on the mat", [apart, 0.0]),
        corner("end of the high rail", [apart, high]),
        corner("end of the low rail", [0.0, low]),
        on_line("high rail's upright, a third of the way up", Along::Y, [apart, high / 3.0]),
        on_line("high rail's upright, two thirds of the way up", Along::Y, [apart, high / 1.5]),
        on_line("low rail's upright, a third of the way up", Along::Y, [0.0, low / 3.0]),
        on_line("low rail's upright, two thirds of the way up", Along::Y, [0.0, low / 1.5]),
    ])
}

fn rectangle(sizes: &[f64], [near, far]: [&str; 2]) -> Result<Vec<PlacedPoint>, String> {
    let &[along, across] = sizes else { return Err(String::new()) };
    positive(along)?;
    positive(across)?;
    Ok(vec![
        corner(&format!("{near} left corner"), [0.0, 0.0]),
        corner(&format!("{near} right corner"), [along, 0.0]),
        corner(&format!("{far} right corner"), [along, across]),
        corner(&format!("{far} left corner"), [0.0, across]),
        corner(
            &format!("seam half way along the {near} edge, if there is one"),
            [along / 2.0, 0.0],
        ),
        corner(
            &format!("seam half way along the {far} edge, if there is one"),
            [along / 2.0, across],
        ),
    ])
}

fn corner(name: &str, place: [f64; 2]) -> PlacedPoint {
    PlacedPoint { name: name.to_owned(), place: OnPlane(place), along: None, coded: Vec::new() }
}

/// What stands beside corners on real apparatus has no mark of known place, but its edges are straight:
/// beam and table along their tops, uprights of the bars up and down.
fn on_line(name: &str, along: Along, place: [f64; 2]) -> PlacedPoint {
    PlacedPoint { along: Some(along), ..corner(name, place) }
}

/// Heights are told from the floor, but the feet stand on a mat.
fn above(height: f64, mat: f64) -> Result<f64, String> {
    if (0.0..height).contains(&mat) {
        Ok(height - mat)
    } else {
        Err("The mat must be thinner than what stands on it is high.".to_owned())
    }
}

fn positive(size: f64) -> Result<(), String> {
    if size > 0.0 { Ok(()) } else { Err("A size must be more than nothing.".to_owned()) }
}

impl ReferencePlane {
    /// Returns the place of the point that is to be clicked next, where each is to be clicked
    /// `again` times beyond the first and some are left out.
    pub fn missing(&self, again: usize, left_out: &[usize]) -> Option<usize> {
        let wanted = self.points.iter().enumerate().filter(|(place, _)| !left_out.contains(place));
        let fewest = wanted.min_by_key(|(_, point)| point.coded.len());
        fewest.filter(|(_, point)| point.coded.len() <= again).map(|(place, _)| place)
    }

    /// Returns the plane without the points that were never clicked; four are needed.
    #[must_use]
    pub fn clicked(&self) -> Self {
        let mut clicked = self.clone();
        clicked.points.retain(|point| !point.coded.is_empty());
        clicked
    }

    /// Returns whether enough points are clicked to tie the picture to the world.
    pub(crate) fn is_clicked(&self) -> bool {
        let known = self.points.iter().filter(|point| point.along.is_none());
        known.filter(|point| !point.coded.is_empty()).count() >= 4
    }
}
