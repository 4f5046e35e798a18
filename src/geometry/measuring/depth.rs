//! Lengths at another depth than the plane they are measured in.
//!
//! What is nearer to the camera looks larger: by D / (D - nearer), where D is how far the camera
//! stands from the plane. Angles stay, since the planes are parallel.

use super::{
    ground::{Ground, Variation, Way},
    measured::ErrorSource,
};
use crate::geometry::{
    Lies, Refusal,
    error::propagate::Input,
    input::{Depth, MeasureInput, View},
};

/// Standard uncertainty of a stated distance as a share of it: two paces in twenty.
const STATED: f64 = 0.1;
/// Nearer to the camera than this, in metres, nothing is filmed.
const NEAREST: f64 = 0.5;

/// How a length is brought to the depth at which it lies.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Correction {
    depth: Depth,
    /// Place of the stated distance among the inputs; without it the plane itself tells.
    stated: Option<usize>,
}

impl Correction {
    /// Returns how lengths are corrected, nothing where there is nothing to correct; a stated
    /// distance is added to the inputs.
    pub(crate) fn of(
        input: &MeasureInput,
        ground: &Ground,
        inputs: &mut Vec<Input<ErrorSource>>,
    ) -> Result<Option<Self>, Refusal> {
        if !input.quantity.needs_depth() {
            return Ok(None);
        }
        let is_flat = matches!(&input.view, View::Plane(plane) if plane.lies == Lies::Flat);
        let depth = match input.facts.depth {
            None if is_flat => return Ok(None),
            None => return Err(Refusal::NoDepth),
            Some(Depth { nearer, within }) if nearer == 0.0 && within == 0.0 => return Ok(None),
            Some(depth) => depth,
        };
        let best: Vec<f64> = inputs.iter().map(|input| input.value).collect();
        let stated = input.facts.distance.map(|distance| {
            let u = STATED * distance;
            let cause = ErrorSource::Distance;
            inputs.push(Input { value: distance, u, freedom: f64::INFINITY, cause });
            inputs.len() - 1
        });
        let distance = match input.facts.distance {
            None => {
                let way = ground.way(&best, Variation::NONE);
                way.and_then(|way| ground.distance(&way, &best)).ok_or(Refusal::NoDistance)?
            }
            Some(stated) => stated,
        };
        if distance - depth.nearer.abs() - depth.within < NEAREST {
            return Err(Refusal::TooNear { distance });
        }
        Ok(Some(Self { depth, stated }))
    }

    /// Returns the factor from a length in the plane to the true one.
    pub(crate) fn factor(
        &self,
        (ground, way): (&Ground, &Way),
        x: &[f64],
        variation: Variation,
    ) -> Option<f64> {
        let distance = match self.stated {
            Some(at) => x[at],
            None => ground.distance(way, x)?,
        };
        let factor = (distance - self.depth.nearer - variation.nearer) / distance;
        (factor > 0.0).then_some(factor)
    }

    /// Returns by how much the depth may be off, in metres.
    pub(crate) fn within(&self) -> f64 {
        self.depth.within
    }
}
