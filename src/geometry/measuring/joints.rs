//! Joints that lie before or behind the plane of movement.
//!
//! A joint that is nearer to the camera than the plane is seen where its line of sight meets the
//! plane: moved away from the camera's foot point on the plane, the more the more aslant the camera
//! looks there. What lies all at one depth keeps its angles.

use super::{
    ground::{Ground, Way},
    measured::ErrorSource,
};
use crate::{
    geometry::{
        Lies,
        error::propagate::{Input, first_order},
        input::{MeasureInput, View},
        plane::pose::{self, Pose},
    },
    units::{OnPlane, Shown},
};

/// How joints are brought into the plane of movement.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Joints {
    /// Place of the first joint's depth among the inputs.
    first: usize,
    focal: f64,
    centre: Shown,
}

impl Joints {
    /// Returns how joints are brought into the plane, and adds their depths to the inputs, one for
    /// each point: between neighbouring frames it stays. Nothing where nothing is known of the
    /// camera, or what is measured lies on a surface or at a depth of its own.
    pub(crate) fn of(
        input: &MeasureInput,
        ground: &Ground,
        names: &[String],
        inputs: &mut Vec<Input<ErrorSource>>,
    ) -> Option<Self> {
        if input.quantity.lies() != Some(Lies::Upright)
            || matches!(input.view, View::Picture { .. })
        {
            return None;
        }
        let side = input.facts.side;
        if input.facts.joint_depth <= 0.0 && names.iter().all(|name| side.nearer(name) == 0.0) {
            return None;
        }
        let centre = input.facts.centre;
        let focal = focal(ground, inputs, centre);
        let first = inputs.len();
        inputs.extend(names.iter().map(|name| Input {
            value: side.nearer(name),
            u: input.facts.joint_depth,
            freedom: f64::INFINITY,
            cause: ErrorSource::Joints,
        }));
        Some(Self { first, focal, centre })
    }

    /// Moves points from where they are seen on the plane to where they are along it; nothing where
    /// one would lie at the camera.
    pub(crate) fn bring_in(&self, way: &Way, x: &[f64], places: &mut [OnPlane]) -> Option<()> {
        let Way::Mapped { map, .. } = way else { return Some(()) };
        let depths = &x[self.first..self.first + places.len()];
        if depths.iter().all(|depth| *depth == 0.0) {
            return Some(());
        }
        let camera = Pose::of(map, self.centre, self.focal).place();
        let away = camera.z.abs();
        for (place, depth) in places.iter_mut().zip(depths) {
            let share = (away - depth) / away;
            if share <= 0.0 || !share.is_finite() {
                return None;
            }
            let OnPlane([x, y]) = *place;
            *place =
                OnPlane([camera.x + (x - camera.x) * share, camera.y + (y - camera.y) * share]);
        }
        Some(())
    }
}

/// Standard deviation of the natural logarithm of a focal length over the usual one: phones film
/// with 0.7 to 1 of the long side of the picture, from the stands one takes 2. Common practice, no
/// source.
const USUAL_FOCAL_SPREAD: f64 = 0.45;

/// Returns a usual focal length in pixels: as long as the long side of the picture.
pub(super) fn usual_focal(centre: Shown) -> f64 {
    (2.0 * centre.0[0].max(centre.0[1])).max(1.0)
}

/// Returns the focal length in pixels as the plane tells and as is usual, each as far as it is
/// sure.
fn focal(ground: &Ground, inputs: &[Input<ErrorSource>], centre: Shown) -> f64 {
    let usual = usual_focal(centre).ln();
    let told = first_order(inputs, |x| {
        let map = match ground {
            Ground::Picture { .. } => return None,
            Ground::Plane { fixed, .. } => fixed.again(x)?,
            Ground::Standing { floor, .. } => floor.again(x)?,
        };
        pose::focal_lengths(&map, centre).better.map(f64::ln)
    });
    let Some(told) = told else { return usual.exp() };
    let [mine, theirs] = [USUAL_FOCAL_SPREAD, told.u()].map(|u| 1.0 / u.powi(2));
    if theirs.is_finite() {
        ((usual * mine + told.value * theirs) / (mine + theirs)).exp()
    } else {
        told.value.exp()
    }
}
