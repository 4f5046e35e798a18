//! What bodies, cameras and shutters do to an angle, each by its closed form.

use stillcall::{
    geometry::{
        ErrorSource, Lies, MeasureInput, Measured, Quantity,
        input::{
            BodySide, CameraHeight, ClickedFrame, Facts, Plane, PlanePoint, Spot, Travel, View,
        },
        measure,
    },
    units::{Degrees, Magnitude, OnPlane, Shown},
};

use crate::scene::{Camera, Place, known};

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

fn share(measured: &Measured, cause: ErrorSource) -> f64 {
    measured.budget.iter().find(|share| share.cause == cause).map_or(0.0, |share| share.u.0)
}

fn spots(points: &[(&str, Shown)]) -> Vec<ClickedFrame> {
    let spot = |(name, at): &(&str, Shown)| Spot { name: (*name).to_owned(), placed: vec![*at] };
    vec![ClickedFrame { spots: points.iter().map(spot).collect(), ..ClickedFrame::default() }]
}

/// From 60 m away, 30 degrees off square: lines of sight are all but parallel.
fn aslant() -> Camera {
    let (sin, cos) = 30_f64.to_radians().sin_cos();
    Camera::looking_at([60.0 * sin, -60.0 * cos, 1.0], [0.0, 0.0, 1.0], 0.0, 20_000.0)
}

fn seen(quantity: Quantity, points: &[(&str, Place)], facts: Facts) -> Measured {
    let camera = aslant();
    let corner = |[x, z]: [f64; 2]| PlanePoint {
        place: OnPlane([x, z]),
        along: None,
        placed: vec![camera.sees([x, 0.0, z])],
    };
    let corners = [[-1.0, 0.0], [1.0, 0.0], [1.0, 1.8], [-1.0, 1.8]].map(corner);
    let view = View::Plane(Plane { lies: Lies::Upright, points: corners.to_vec(), size_u: 0.0 });
    let points: Vec<(&str, Shown)> =
        points.iter().map(|(name, at)| (*name, camera.sees(*at))).collect();
    measure(&MeasureInput { quantity, looks: spots(&points), view, facts }).unwrap()
}

/// A joint `d` off the plane is seen `d` tan 30 beside its place, so that a leg of 0.8 m that hangs
/// down is unsure by √2 · 0.05 tan 30 / 0.8, which is 2.9237 degrees; squarely seen by nothing.
#[test]
fn joints_off_the_plane_count_by_how_aslant_they_are_seen() {
    let leg = [("hip", [0.0, 0.0, 1.4]), ("ankle", [0.0, 0.0, 0.6])];
    let facts = Facts { joint_depth: 0.05, ..known(0.01) };
    let measured = seen(Quantity::Kick, &leg, facts);
    near(share(&measured, ErrorSource::Joints), 2.9237, 0.05);
    assert_eq!(measured.worst(), Some(ErrorSource::Joints));
    let level = [("hip", [-0.4, 0.0, 1.0]), ("ankle", [0.4, 0.0, 1.0])];
    let facts = Facts { joint_depth: 0.05, ..known(0.01) };
    let along = seen(Quantity::Kick, &level, facts);
    near(share(&along, ErrorSource::Joints), 0.0, 0.1);
}

/// The near shoulder lies 17 cm nearer and the hip 9: an upright trunk of 0.5 m looks
/// atan(0.08 tan 30 / 0.5), which is 5.2765 degrees, off vertical, unless that is said.
#[test]
fn the_near_side_is_brought_to_the_middle() {
    let trunk = [("shoulder", [0.0, -0.17, 1.5]), ("hip", [0.0, -0.09, 1.0])];
    let unsaid = seen(Quantity::Trunk, &trunk, known(0.01));
    near(unsaid.value.0, 5.2765, 0.05);
    let facts = Facts { side: BodySide::Near, ..known(0.01) };
    near(seen(Quantity::Trunk, &trunk, facts).value.0, 0.0, 0.05);
}

fn in_the_picture(degrees: f64, mut facts: Facts) -> Measured {
    let (sin, cos) = f64::to_radians(degrees).sin_cos();
    let foot = Shown([900.0, 700.0]);
    let points = [("hand", foot), ("hip", foot + [150.0 * sin, -150.0 * cos])];
    let plumb = [[300.0, 900.0], [300.0, 100.0]].map(|at| vec![Shown(at)]);
    let view = View::Picture { line: plumb, off_square: Degrees(0.0) };
    facts.travel = Some(Travel::Right);
    let looks = spots(&points);
    measure(&MeasureInput { quantity: Quantity::Repulsion, looks, view, facts }).unwrap()
}

/// Heights shrink by the cosine of how far down the camera looks: what leans by 30 degrees and is
/// seen at atan(tan 30 / cos 20) is measured as 30 where that is said, and unsure where it is not.
#[test]
fn a_camera_that_looks_down_is_allowed_for() {
    let looks = (30_f64.to_radians().tan() / 20_f64.to_radians().cos()).atan().to_degrees();
    let said = Facts { pitch: Some([Degrees(20.0); 2]), ..known(2.0) };
    let measured = in_the_picture(looks, said);
    near(measured.value.0, 30.0, 1e-9);
    near(share(&measured, ErrorSource::CameraHeight), 0.0, 1e-9);
    let unsaid = in_the_picture(looks, Facts { pitch: None, ..known(2.0) });
    near(unsaid.value.0, looks, 1e-9);
    assert!(share(&unsaid, ErrorSource::CameraHeight) > 0.5);
    let stands = Facts { pitch: Some(CameraHeight::Stands.pitch()), ..known(2.0) };
    assert!(share(&in_the_picture(looks, stands), ErrorSource::CameraHeight) > 0.3);
}

/// Rolling shutter table: 150 of 1080 rows, 500 degrees a second and 20 ms are 1.388888889 degrees;
/// the readout may be anything up to that, and the sense either.
#[test]
fn a_shutter_that_rolls_counts_where_the_speed_is_known() {
    let fast = Facts { speed: Some(Magnitude(500.0)), ..known(2.0) };
    let expected = 1.388_888_889 / 3_f64.sqrt();
    near(share(&in_the_picture(0.0, fast), ErrorSource::Shutter), expected, 1e-6);
    near(share(&in_the_picture(0.0, known(2.0)), ErrorSource::Shutter), 0.0, 0.0);
}

/// Student's t for 12.5 degrees of freedom lies between the handbook's 2.1788 for 12 and 2.1604 for
/// 13: a usual click is a guess, and a known one is not.
#[test]
fn a_guessed_click_widens_the_interval() {
    let reach = |click_freedom: f64| {
        let line = Facts { click_freedom, ..known(2.5) };
        let points = [("left hip", [900.0, 500.0]), ("left ankle", [700.0, 500.0])];
        let others = [("right hip", [900.0, 500.0]), ("right ankle", [1040.0, 640.0])];
        let all: Vec<(&str, Shown)> =
            points.into_iter().chain(others).map(|(name, at)| (name, Shown(at))).collect();
        let view = View::Picture { line: [vec![], vec![]], off_square: Degrees(0.0) };
        let quantity = Quantity::Split;
        let measured =
            measure(&MeasureInput { quantity, looks: spots(&all), view, facts: line }).unwrap();
        (measured.interval[1].0 - measured.value.0) / measured.u.0
    };
    near(reach(f64::INFINITY), 1.959_964, 1e-6);
    assert!((2.1604..2.1788).contains(&reach(12.5)), "{}", reach(12.5));
}
