//! Where the camera stands and how long its focal length is, from one plane of known size.
//!
//! The centre of projection is taken to be the middle of the picture, pixels to be square and
//! the lens to keep straight lines straight.

use nalgebra::{Matrix3, Vector3};

use crate::{
    geometry::{Homography, Refusal},
    units::{OnPlane, Shown},
};

/// The focal length in pixels by the two ways in which one plane gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FocalLengths {
    /// From the right angle between the plane's axes; nothing where an axis is parallel to the
    /// picture.
    pub from_right_angle: Option<f64>,
    /// From the equal scale of the axes; nothing where both axes go away from the camera alike.
    pub from_equal_scale: Option<f64>,
    /// The one of the two that this view fixes better.
    pub better: Option<f64>,
}

/// Returns the focal lengths that the map from a plane to the picture allows.
pub fn focal_lengths(plane: &Homography, centre: Shown) -> FocalLengths {
    let [g1, g2, _] = columns(plane, centre);
    let away = g1.z.hypot(g2.z);
    // How far each way is from its own 0/0: sine and cosine of one doubled angle.
    let [apart, unlike] =
        [2.0 * g1.z * g2.z / (away * away), (g1.z * g1.z - g2.z * g2.z) / (away * away)];
    // Seen from the front, away over the length of the axes in the picture goes to zero.
    let sizes = g1.x.hypot(g1.y) + g2.x.hypot(g2.y);
    let frontal = away <= FRONTAL * sizes / scale_of(centre);
    let root = |over: f64, under: f64, sure: f64| {
        let squared = over / under;
        (!frontal && sure.abs() > DEGENERATE && squared > 0.0).then(|| squared.sqrt())
    };
    let from_right_angle = root(-(g1.x * g2.x + g1.y * g2.y), g1.z * g2.z, apart);
    let over = g2.x * g2.x + g2.y * g2.y - g1.x * g1.x - g1.y * g1.y;
    let from_equal_scale = root(over, g1.z * g1.z - g2.z * g2.z, unlike);
    let better = if apart.abs() > unlike.abs() {
        from_right_angle.or(from_equal_scale)
    } else {
        from_equal_scale.or(from_right_angle)
    };
    FocalLengths { from_right_angle, from_equal_scale, better }
}

/// Returns the focal length from the vanishing points of two directions at right angles;
/// nothing where no camera sees them so.
pub fn focal_from_vanishing(points: [Shown; 2], centre: Shown) -> Option<f64> {
    let [a, b] = points.map(|point| point - centre);
    let squared = -(a[0] * b[0] + a[1] * b[1]);
    (squared > 0.0).then(|| squared.sqrt())
}

/// A camera in the coordinates of a plane: x and y in the plane, z out of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Focal length in pixels.
    pub focal: f64,
    /// Centre of projection in the picture.
    pub centre: Shown,
    /// From the plane's coordinates to right, down and forward of the camera.
    pub rotation: Matrix3<f64>,
    /// Added after the rotation.
    pub shift: Vector3<f64>,
}

impl Pose {
    /// Returns the camera that sees a plane by this map.
    pub fn of(plane: &Homography, centre: Shown, focal: f64) -> Self {
        let [b1, b2, b3] =
            columns(plane, centre).map(|g| Vector3::new(g.x / focal, g.y / focal, g.z));
        let size = 2.0 / (b1.norm() + b2.norm());
        // The plane lies before the camera.
        let size = if b3.z < 0.0 { -size } else { size };
        let [r1, r2] = [b1 * size, b2 * size];
        let near = Matrix3::from_columns(&[r1, r2, r1.cross(&r2)]);
        let svd = near.svd(true, true);
        let rotation = match (svd.u, svd.v_t) {
            (Some(u), Some(v_t)) => u * v_t,
            _ => near,
        };
        Self { focal, centre, rotation, shift: b3 * size }
    }

    /// Returns where the camera stands.
    pub fn place(&self) -> Vector3<f64> {
        -self.rotation.transpose() * self.shift
    }

    /// Returns the map of the plane through `through` along the directions `x` and `y`.
    pub fn plane(
        &self,
        through: Vector3<f64>,
        x: Vector3<f64>,
        y: Vector3<f64>,
    ) -> Option<Homography> {
        let lens = Matrix3::new(
            self.focal,
            0.0,
            self.centre.0[0],
            0.0,
            self.focal,
            self.centre.0[1],
            0.0,
            0.0,
            1.0,
        );
        let columns = [self.rotation * x, self.rotation * y, self.rotation * through + self.shift];
        Homography::new(lens * Matrix3::from_columns(&columns))
    }
}

/// Returns the vertical plane that stands on a line of the floor, as a map from (metres along
/// the line from its first point, metres up) to the picture.
///
/// `line` are two points of the floor in the floor's own coordinates, the floor's axes such
/// that z points up.
pub fn standing(
    floor: &Homography,
    line: [OnPlane; 2],
    centre: Shown,
) -> Result<Homography, Refusal> {
    let focal = focal_lengths(floor, centre).better.ok_or(Refusal::NoFocalLength)?;
    let pose = Pose::of(floor, centre, focal);
    let [a, b] = line.map(|OnPlane([x, y])| Vector3::new(x, y, 0.0));
    let along = (b - a)
        .try_normalize(1e-9)
        .ok_or(Refusal::NoAngle { detail: "the line of travel has no length" })?;
    let up = Vector3::z() * if pose.place().z < 0.0 { -1.0 } else { 1.0 };
    pose.plane(a, along, up).ok_or(Refusal::InLine)
}

/// Returns how far a point at `height` above the floor is mapped from the floor point below it,
/// straight away from the camera, in the unit of the lengths.
pub fn raised(height: f64, distance: f64, camera_height: f64) -> f64 {
    height * distance / (camera_height - height)
}

/// Columns of the map with the centre of projection as origin, at a common scale.
fn columns(plane: &Homography, centre: Shown) -> [Vector3<f64>; 3] {
    let h = plane.matrix();
    [0, 1, 2].map(|k| {
        let (x, y, z) = (h[(0, k)], h[(1, k)], h[(2, k)]);
        Vector3::new(x - centre.0[0] * z, y - centre.0[1] * z, z)
    })
}

/// A typical focal length for a picture with this middle: its diagonal, roughly.
fn scale_of(centre: Shown) -> f64 {
    2.0 * centre.distance(Shown::default()).max(1.0)
}

/// Under this share of its best a way is taken as degenerate: 0.01 is a third of a degree from
/// an axis parallel to the picture.
const DEGENERATE: f64 = 0.01;

/// Under this tilt (radians, roughly) the plane is taken as seen from the front.
const FRONTAL: f64 = 0.02;
