//! Lengths, offsets and the distance between the knees: what a plane and a depth make of them.

use stillcall::{
    geometry::{
        ErrorSource, Lies, MeasureInput, Measured, Quantity, Refusal, Sight,
        input::{ClickedFrame, Depth, Plane, PlanePoint, Spot, View},
        measure,
    },
    units::{Degrees, OnPlane, Shown},
};

use crate::scene::known;

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// A position on the plane or in the picture.
type Point = [f64; 2];

fn spots(points: &[(&str, Point)]) -> Vec<ClickedFrame> {
    let spot =
        |(name, at): &(&str, Point)| Spot { name: (*name).to_owned(), placed: vec![Shown(*at)] };
    vec![ClickedFrame { spots: points.iter().map(spot).collect(), ..ClickedFrame::default() }]
}

fn plane(lies: Lies, corners: [(Point, Point); 4]) -> View {
    let point = |(place, at): (Point, Point)| PlanePoint {
        place: OnPlane(place),
        along: None,
        placed: vec![Shown(at)],
    };
    View::Plane(Plane { lies, points: corners.map(point).into(), size_u: 0.0 })
}

fn input(quantity: Quantity, points: &[(&str, Point)], view: View) -> MeasureInput {
    MeasureInput { quantity, looks: spots(points), view, facts: known(2.0) }
}

fn length(ends: [Point; 2], view: View) -> MeasureInput {
    input(Quantity::Length, &[("near end", ends[0]), ("far end", ends[1])], view)
}

fn share(measured: &Measured, cause: ErrorSource) -> f64 {
    measured.budget.iter().find(|share| share.cause == cause).map_or(0.0, |share| share.u.0)
}

/// The least case of a plane (computed by hand; OpenCV agrees), a hundred pixels to its one: the
/// square's corners are seen at (0,0) (4,0) (3,2) (1,2), its point (1/2, 1/3) at (2, 1) and its
/// middle at (2, 4/3). Pictures run down, so the square is drawn upside down.
fn square(lies: Lies) -> View {
    plane(
        lies,
        [
            ([0.0, 0.0], [0.0, 0.0]),
            ([1.0, 0.0], [400.0, 0.0]),
            ([1.0, 1.0], [300.0, 200.0]),
            ([0.0, 1.0], [100.0, 200.0]),
        ],
    )
}

const MIDDLE: Point = [200.0, 400.0 / 3.0];

#[test]
fn a_length_is_that_of_the_plane_and_not_of_the_picture() {
    let of = |ends| measure(&length(ends, square(Lies::Flat))).unwrap().value.0;
    near(of([[200.0, 100.0], MIDDLE]), 1.0 / 6.0, 1e-9);
    near(of([[0.0, 0.0], MIDDLE]), 0.5_f64.sqrt(), 1e-9);
    near(of([[0.0, 0.0], [400.0, 0.0]]), 1.0, 1e-9);
}

#[test]
fn an_offset_is_the_shortest_way_from_the_line_to_either_side() {
    let of = |line: [Point; 2], point| {
        let points = [
            ("one end of the line", line[0]),
            ("other end of the line", line[1]),
            ("point", point),
        ];
        input(Quantity::Offset, &points, square(Lies::Flat))
    };
    let value = |input: &MeasureInput| measure(input).unwrap().value.0;
    let bottom = [[0.0, 0.0], [400.0, 0.0]];
    let top = [[100.0, 200.0], [300.0, 200.0]];
    near(value(&of(bottom, MIDDLE)), 0.5, 1e-9);
    near(value(&of(top, MIDDLE)), 0.5, 1e-9);
    near(value(&of(bottom, [200.0, 100.0])), 1.0 / 3.0, 1e-9);
    // The drawing falls square on the line in the plane: half way along the side.
    let sight = Sight::of(&of(bottom, MIDDLE)).unwrap();
    let across = sight.compared(0).into_iter().find(|line| line.counts).unwrap();
    assert!(across.ends[0].distance(Shown([200.0, 0.0])) < 1e-6);
    assert_eq!(sight.arc(0), Vec::<Shown>::new(), "a length has no arc");
}

/// A frontal plane at 200 px to the metre, which says nothing of how far the camera stands.
fn frontal() -> View {
    plane(
        Lies::Upright,
        [
            ([0.0, 0.0], [500.0, 900.0]),
            ([4.0, 0.0], [1300.0, 900.0]),
            ([4.0, 2.0], [1300.0, 500.0]),
            ([0.0, 2.0], [500.0, 500.0]),
        ],
    )
}

/// Worked example of the trade: from 8 m, what is 1 m nearer looks 14 % (8/7) longer.
#[test]
fn a_length_nearer_to_the_camera_is_shorter_than_it_looks() {
    let ends = [[600.0, 700.0], [920.0, 700.0]];
    let mut nearer = length(ends, frontal());
    let depth = |nearer, within| Some(Depth { nearer, within });
    nearer.facts.depth = depth(0.0, 0.0);
    near(measure(&nearer).unwrap().value.0, 1.6, 1e-9);
    (nearer.facts.depth, nearer.facts.distance) = (depth(1.0, 0.0), Some(8.0));
    let measured = measure(&nearer).unwrap();
    near(measured.value.0, 1.6 * 7.0 / 8.0, 1e-9);
    // A tenth of the 8 m, through the derivative 1.6 times 1 over 8 squared.
    near(share(&measured, ErrorSource::Distance), 1.6 / 64.0 * 0.8, 1e-6);
    // 10 cm either way are a rectangle of 1.6 / 8 times 10 cm either way.
    nearer.facts.depth = depth(1.0, 0.1);
    let measured = measure(&nearer).unwrap();
    near(share(&measured, ErrorSource::Depth), 1.6 / 8.0 * 0.1 / 3_f64.sqrt(), 1e-9);
    // Behind the plane it is longer.
    nearer.facts.depth = depth(-1.0, 0.0);
    near(measure(&nearer).unwrap().value.0, 1.6 * 9.0 / 8.0, 1e-9);
}

/// Table of a heel off the floor (closed form, equal to projecting): from 2.5 m high and 6.5 m
/// away a point so high is mapped so much further, straight away from the camera.
#[test]
fn a_height_over_the_floor_is_corrected_by_the_camera_that_the_floor_tells() {
    // A camera at (-1.5, -5.5, 2.5): corners and map of the worked example, which OpenCV's planar
    // pose finds too.
    let corners = [
        ([0.0, 0.0], [724.066_973_831, 644.538_475_010]),
        ([2.0, 0.0], [1_143.503_957_209, 569.974_144_828]),
        ([2.0, 1.0], [1_041.944_373_434, 506.935_049_865]),
        ([0.0, 1.0], [662.090_837_258, 565.243_353_346]),
    ];
    for (height, shift) in
        [(0.02, 0.052_419_354_8), (0.05, 0.132_653_061_2), (0.10, 0.270_833_333_3)]
    {
        let mut input = length([corners[0].1, corners[1].1], plane(Lies::Flat, corners));
        input.facts.depth = Some(Depth { nearer: height, within: 0.0 });
        let measured = measure(&input).unwrap();
        // Two metres on the floor are fewer in the plane so high, by what the table says of 6.5.
        near(measured.value.0, 2.0 * 6.5 / (6.5 + shift), 1e-6);
    }
}

#[test]
fn what_a_length_needs_is_asked_for() {
    let ends = [[600.0, 700.0], [920.0, 700.0]];
    let none = View::Picture { line: [vec![], vec![]], off_square: Degrees(0.0) };
    let refused = |input: &MeasureInput| measure(input).unwrap_err();
    assert_eq!(refused(&length(ends, none)), Refusal::NoScale { quantity: "length" });
    let mut side = length(ends, frontal());
    assert_eq!(refused(&side), Refusal::NoDepth);
    side.facts.depth = Some(Depth { nearer: 0.0, within: 0.1 });
    assert_eq!(refused(&side), Refusal::NoDistance);
    side.facts.distance = Some(0.4);
    assert_eq!(refused(&side), Refusal::TooNear { distance: 0.4 });
    side.facts.distance = Some(8.0);
    assert!(measure(&side).is_ok());
    // On the floor it lies in the plane, as feet and hands do.
    assert!(measure(&length([[50.0, 50.0], MIDDLE], square(Lies::Flat))).is_ok());
}

/// Knees so far apart and tilted, shoulders 200 px.
fn knees(apart: f64, tilt: f64, off_square: f64) -> MeasureInput {
    let (sin, cos) = tilt.to_radians().sin_cos();
    let [x, y] = [apart / 2.0 * cos, apart / 2.0 * sin];
    let points = [
        ("left knee", [900.0 + x, 800.0 - y]),
        ("right knee", [900.0 - x, 800.0 + y]),
        ("left shoulder", [1_000.0, 400.0]),
        ("right shoulder", [800.0, 400.0]),
    ];
    let view = View::Picture { line: [vec![], vec![]], off_square: Degrees(off_square) };
    input(Quantity::KneeDistance, &points, view)
}

/// JCGM 100 clause 5.1.6: relative variances of a quotient add, each length's being twice that of
/// a click along it.
#[test]
fn knees_are_counted_in_shoulder_widths() {
    let measured = measure(&knees(150.0, 0.0, 0.0)).unwrap();
    near(measured.value.0, 0.75, 1e-12);
    let of = |pixels: f64| (2_f64.sqrt() * 2.0 / pixels).powi(2);
    near(share(&measured, ErrorSource::Clicks), 0.75 * (of(150.0) + of(200.0)).sqrt(), 1e-6);
    // Two shoulder widths lower, from a camera up to 10 degrees above or below and 4 m away.
    let lower = 0.36 * 10_f64.to_radians().sin() / 4.0;
    near(share(&measured, ErrorSource::CameraAngle), 0.75 * 2.0 * lower / 3_f64.sqrt(), 4e-4);
    assert_eq!(measure(&knees(0.0, 0.0, 0.0)).unwrap().value.0, 0.0, "knees may touch");
}

/// Foreshortened lengths across the axis of rotation shrink by the cosine (section of the
/// handbook on a plane turned away): level lines alike, tilted ones less.
#[test]
fn a_camera_off_square_shrinks_level_knees_and_shoulders_alike() {
    let u = |tilt| share(&measure(&knees(150.0, tilt, 30.0)).unwrap(), ErrorSource::CameraAngle);
    let square =
        |tilt| share(&measure(&knees(150.0, tilt, 0.0)).unwrap(), ErrorSource::CameraAngle);
    near(u(0.0), square(0.0), 1e-9);
    let (sin, cos) = 40_f64.to_radians().sin_cos();
    let stretched = 1.0 / 30_f64.to_radians().cos();
    let truth = 0.75 * (cos * stretched).hypot(sin) / stretched;
    let own = (0.75 - truth) / 3_f64.sqrt();
    near(u(40.0), own.hypot(square(40.0)), 1e-9);
}
