//! One measurement from clicks to value, uncertainty, interval and decision.

use proptest::prelude::*;
use stillcall::{
    geometry::{
        Along, ErrorSource, Lies, Limit, MeasureInput, Method, Quantity, Refusal, Side, Sight,
        Verdict, conformance,
        input::{ClickedFrame, Facts, Plane, PlanePoint, Spot, Travel, View},
        measure,
    },
    units::{Degrees, Magnitude, OnPlane, Shown},
};

use crate::scene::known;

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// A position in the picture.
type Point = [f64; 2];

fn spot(name: &str, at: Point) -> Spot {
    Spot { name: name.to_owned(), placed: vec![Shown(at)] }
}

fn look(seconds: f64, spots: Vec<Spot>) -> ClickedFrame {
    ClickedFrame { seconds, instant: [seconds, seconds], spots }
}

/// A point so far from another in the picture, degrees up from the right.
fn at(from: Point, degrees: f64, length: f64) -> Point {
    let (sin, cos) = degrees.to_radians().sin_cos();
    [from[0] + length * cos, from[1] - length * sin]
}

const HIP: Point = [900.0, 500.0];

fn picture(off_square: f64) -> View {
    let plumb = [[300.0, 900.0], [300.0, 300.0]].map(|at| vec![Shown(at)]);
    View::Picture { line: plumb, off_square: Degrees(off_square) }
}

fn kick(degrees: f64, length: f64) -> Vec<Spot> {
    vec![spot("hip", HIP), spot("ankle", at(HIP, degrees - 90.0, length))]
}

fn input(quantity: Quantity, looks: Vec<ClickedFrame>, view: View) -> MeasureInput {
    let facts = Facts { travel: Some(Travel::Right), ..known(2.0) };
    MeasureInput { quantity, looks, view, facts }
}

/// Row N of the worked examples, with 2 px on the line too: 200 px against 600 px.
#[test]
fn a_square_camera_leaves_only_the_clicks() {
    let measured =
        measure(&input(Quantity::Kick, vec![look(0.0, kick(60.0, 200.0))], picture(0.0))).unwrap();
    near(measured.value.0, 60.0, 1e-9);
    let line = (2_f64.sqrt() * 2.0 / 600.0).to_degrees();
    near(measured.u.0, 0.810_284_684_5_f64.hypot(line), 1e-6);
    assert_eq!(measured.method, Method::FirstOrder);
    near(measured.interval[1].0 - 60.0, 1.959_963_984_5 * measured.u.0, 1e-6);
    let causes: Vec<ErrorSource> = measured.budget.iter().map(|share| share.cause).collect();
    assert_eq!(causes, [ErrorSource::Clicks, ErrorSource::Line], "largest first");
}

/// Case F of the worked examples: arms of 200 and 150 px, 2 px clicks, no plane needed.
#[test]
fn a_split_has_the_closed_form_of_four_points() {
    let hip = [HIP[0] + 20.0, HIP[1]];
    let legs = vec![
        spot("left hip", HIP),
        spot("left ankle", at(HIP, 175.0, 200.0)),
        spot("right hip", hip),
        spot("right ankle", at(hip, 15.0, 150.0)),
    ];
    let measured = measure(&input(Quantity::Split, vec![look(0.0, legs)], picture(0.0))).unwrap();
    near(measured.value.0, 200.0, 1e-9);
    near(measured.u.0, 1.350_474_474, 1e-5);
}

/// Case A of the worked examples: three points, arms of 300 and 200 px at a right angle, 2 px
/// clicks. A second time as a peak: through 84, 90 and 88 at -1, 0 and 1 runs 90 + 2 t - 4 t t, which
/// is highest at t = 1/4 with 90.25.
#[test]
fn bent_hips_have_the_closed_form_of_three_points_and_a_peak() {
    let hips = |bent: f64, arms: [f64; 2]| {
        let [shoulder, knee] = [at(HIP, 120.0, arms[0]), at(HIP, bent - 60.0, arms[1])];
        vec![spot("shoulder", shoulder), spot("hip", HIP), spot("knee", knee)]
    };
    let ask = |looks| measure(&input(Quantity::HipBend, looks, picture(0.0))).unwrap();
    let measured = ask(vec![look(0.0, hips(90.0, [300.0, 200.0]))]);
    near(measured.value.0, 90.0, 1e-9);
    near(measured.u.0, 0.973_840_992_6, 1e-5);
    let long = [3000.0, 3000.0];
    let looks = [(1.0, 90.0), (1.1, 88.0), (0.9, 84.0)];
    let looks = looks.map(|(seconds, bent)| look(seconds, hips(bent, long)));
    near(ask(looks.to_vec()).value.0, 90.25, 1e-6);
}

/// JCGM 100 4.2.3: four placements halve it; few of them widen the interval by Student's t,
/// 2.063899 for 24 degrees of freedom (handbook table).
#[test]
fn placing_again_replaces_the_usual_click() {
    let spread = [[-1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [1.0, -1.0]];
    let placed = |at: Shown| spread.map(|step| at + step).to_vec();
    let mut spots = kick(60.0, 200.0);
    for spot in &mut spots {
        spot.placed = placed(spot.placed[0]);
    }
    // Sum of squares 8 per point, over 6 degrees of freedom per point.
    let s = (8.0_f64 / 6.0).sqrt();
    let view = View::Picture { line: [vec![], vec![]], off_square: Degrees(0.0) };
    let split = vec![
        Spot { name: "left hip".into(), ..spots[0].clone() },
        Spot { name: "left ankle".into(), ..spots[1].clone() },
        Spot { name: "right hip".into(), ..spots[0].clone() },
        Spot { name: "right ankle".into(), placed: placed(Shown(at(HIP, -150.0, 200.0))) },
    ];
    let measured = measure(&input(Quantity::Split, vec![look(0.0, split)], view)).unwrap();
    near(measured.u.0, (2.0 * s / 2.0 / 200.0).to_degrees(), 1e-4);
    let reach = (measured.interval[1].0 - measured.value.0) / measured.u.0;
    // All 16 placements pool to 24 degrees of freedom; they share them.
    near(reach, 2.063_899, 2e-3);
}

/// Elevation table: 30 degrees seen at 20 off square looks 31.5667; the truth behind a picture
/// angle lies to one side of it only.
#[test]
fn off_square_widens_the_interval_to_one_side() {
    let body = |degrees: f64| vec![spot("shoulder", HIP), spot("hip", at(HIP, degrees, 20_000.0))];
    let measured = measure(&MeasureInput {
        facts: known(0.001),
        ..input(Quantity::BodyLine, vec![look(0.0, body(31.5667))], picture(20.0))
    })
    .unwrap();
    // Turned about the vertical a line only looks steeper than it is.
    near(measured.value.0, 31.5667, 1e-6);
    let [low, high] = measured.interval;
    near(high.0, 31.5667, 0.1);
    near(low.0, 30.0, 0.1);
    assert!(low.0 > 29.9, "bounded below by the table: {low:?}");
    // One-sided over 1.5667: root mean square about the value is 1.5667 over root 3.
    near(measured.u.0, 1.5667 / 3_f64.sqrt(), 1e-3);
    let limit = |edge: f64| Limit { edge: Magnitude(edge), side: Side::AtLeast };
    assert_eq!(measured.decide(limit(29.8)), Verdict::Clear);
    assert_eq!(measured.decide(limit(30.8)), Verdict::Close);
    assert_eq!(measured.decide(limit(32.0)), Verdict::NotMet);
}

/// Opening table: 90 at 20 degrees looks 86.4384 to 93.5616, half-width 3.5616, u 2.056291873.
#[test]
fn a_split_from_off_square_is_unsure_by_the_table() {
    let legs = vec![
        spot("left hip", HIP),
        spot("left ankle", at(HIP, -135.0, 20_000.0)),
        spot("right hip", HIP),
        spot("right ankle", at(HIP, -45.0, 20_000.0)),
    ];
    let mut input = input(Quantity::Split, vec![look(0.0, legs)], picture(20.0));
    input.facts.click = 0.001;
    let measured = measure(&input).unwrap();
    near(measured.u.0, 2.056_291_873, 1e-4);
    assert_eq!(measured.budget[0].cause, ErrorSource::CameraAngle);
    assert_eq!(measured.method, Method::MonteCarlo);
}

/// 500 degrees a second at 60 frames a second: u 2.405626122 for the instant; blur of 1/120 s:
/// 1.202813.
#[test]
fn speed_widens_instant_and_blur() {
    let hands = |degrees: f64| {
        vec![spot("hand", [900.0, 800.0]), spot("hip", at([900.0, 800.0], 90.0 - degrees, 400.0))]
    };
    let mut first = look(1.0, hands(-10.0));
    first.instant = [1.0 - 1.0 / 60.0, 1.0 + 1.0 / 60.0];
    let mut input = input(Quantity::Repulsion, vec![first], picture(0.0));
    input.facts.speed = Some(Magnitude(500.0));
    input.facts.exposure = 1.0 / 120.0;
    let measured = measure(&input).unwrap();
    // Half of 500 / 60 further on than the frame, on which a hand still touches.
    near(measured.value.0, -10.0 + 4.166_666_667, 1e-6);
    let share = |cause| measured.budget.iter().find(|s| s.cause == cause).unwrap().u.0;
    near(share(ErrorSource::Instant), 2.405_626_122, 1e-6);
    near(share(ErrorSource::Blur), 1.202_813, 1e-6);
    // The next frame, 5 degrees on, tells the speed and the direction: 300 degrees a second.
    input.facts.speed = None;
    input.facts.exposure = 0.0;
    input.looks.push(look(1.0 + 1.0 / 60.0, hands(-5.0)));
    let measured = measure(&input).unwrap();
    near(measured.value.0, -7.5, 1e-9);
    let reach = [-10.0 - measured.interval[0].0, measured.interval[1].0 + 10.0];
    assert!(reach[1] - reach[0] > 4.0, "late: {reach:?}");
}

/// On one frame with others beside it a moment counts as fast as it usually is, and only then: what
/// stands still, or was not cut out of a movement, stays as sure. Expected is plain algebra of the
/// speeds that the table of quantities takes as usual.
#[test]
fn one_frame_of_a_movement_is_not_surer_than_its_moment() {
    let gap = 1.0 / 30.0;
    let instant = |quantity, spots: Vec<Spot>, open: bool| {
        let mut frame = look(1.0, spots);
        if open {
            frame.instant = [1.0 - gap, 1.0 + gap];
        }
        let mut input = input(quantity, vec![frame], picture(0.0));
        input.facts.travel = Some(Travel::Right);
        let measured = measure(&input).unwrap();
        let share = measured.budget.iter().find(|share| share.cause == ErrorSource::Instant);
        (share.map(|share| share.u.0), measured)
    };
    let hands =
        || vec![spot("hand", [900.0, 800.0]), spot("hip", at([900.0, 800.0], 100.0, 400.0))];
    let (closed, photograph) = instant(Quantity::Repulsion, hands(), false);
    assert_eq!(closed, None);
    near(photograph.value.0, -10.0, 1e-9);
    let (open, release) = instant(Quantity::Repulsion, hands(), true);
    // 200 to 600 degrees a second for up to 1/30 s: the mean is 400 / 60, the variance
    // (200² + 200·600 + 600²) / 3 / 3 · gap² less its square.
    near(release.value.0, -10.0 + 400.0 / 60.0, 1e-6);
    let variance = (520_000.0 / 9.0 - 40_000.0) * gap * gap;
    near(open.unwrap(), variance.sqrt(), 0.02);
    assert_eq!(release.budget[0].cause, ErrorSource::Instant);
    assert!(release.budget[0].cause.help().contains("click the frame after as well"));
    let trunk = || vec![spot("shoulder", at(HIP, 90.0, 200.0)), spot("hip", HIP)];
    // Nearest of all frames: 100 degrees a second for half of 1/30 s either way.
    near(instant(Quantity::Trunk, trunk(), true).0.unwrap(), 100.0 * gap / 12_f64.sqrt(), 1e-6);
    let bent = || {
        vec![
            spot("near end", at(HIP, 180.0, 200.0)),
            spot("joint", HIP),
            spot("far end", at(HIP, 20.0, 200.0)),
        ]
    };
    assert_eq!(instant(Quantity::Bend, bent(), true).0, None, "a held limb");
    // A peak lies above its frame: by no more than a / 8 of the frames' distance squared.
    let legs = || {
        vec![
            spot("left hip", HIP),
            spot("left ankle", at(HIP, 190.0, 300.0)),
            spot("right hip", HIP),
            spot("right ankle", at(HIP, -20.0, 300.0)),
        ]
    };
    let (u, split) = instant(Quantity::Split, legs(), true);
    near(u.unwrap(), 16_000.0 / 8.0 * gap * gap / 3_f64.sqrt(), 1e-6);
    let (_, flat) = instant(Quantity::Split, legs(), false);
    let [low, high] = [0, 1].map(|k| (split.interval[k].0 - flat.interval[k].0).abs());
    assert!(high > 2.0 * low, "above only: {low} {high}");
}

/// A frame that only repeats the picture tells no speed: nobody can tell the two apart.
#[test]
fn a_repeated_picture_is_no_frame_beside() {
    let hands =
        || vec![spot("hand", [900.0, 800.0]), spot("hip", at([900.0, 800.0], 100.0, 400.0))];
    let step = 1.0 / 60.0;
    let looks = [0.0, step].map(|after| ClickedFrame {
        instant: [1.0 - step, 1.0 + 2.0 * step],
        ..look(1.0 + after, hands())
    });
    let mut repeated = input(Quantity::Repulsion, looks.to_vec(), picture(0.0));
    let both = measure(&repeated).unwrap();
    repeated.looks.truncate(1);
    let one = measure(&repeated).unwrap();
    near(both.value.0, one.value.0, 1e-9);
    near(both.u.0, one.u.0, 1e-9);
}

/// The parabola of the worked examples: 170, 176, 174 peak at 176.25.
#[test]
fn three_frames_give_the_peak_between_them() {
    let legs = |opening: f64| {
        vec![
            spot("left hip", HIP),
            spot("left ankle", at(HIP, 180.0, 3000.0)),
            spot("right hip", HIP),
            spot("right ankle", at(HIP, -(180.0 - opening), 3000.0)),
        ]
    };
    let looks = vec![
        look(1.0, legs(176.0)),
        look(1.0 + 1.0 / 30.0, legs(174.0)),
        look(1.0 - 1.0 / 30.0, legs(170.0)),
    ];
    let measured = measure(&input(Quantity::Split, looks, picture(0.0))).unwrap();
    near(measured.value.0, 176.25, 1e-6);
    // With clicks as large as the rise, the frame's own angle counts.
    let flat = [(1.0, 176.0), (1.03, 175.98), (0.97, 175.99)];
    let looks = flat.map(|(seconds, opening)| look(seconds, legs(opening))).to_vec();
    let measured = measure(&input(Quantity::Split, looks, picture(0.0))).unwrap();
    near(measured.value.0, 176.0, 1e-9);
    assert!(measured.notes.iter().any(|note| note.contains("too flat")));
}

#[test]
fn the_part_that_counts_is_named() {
    let shoulder = [900.0, 400.0];
    let body = vec![
        spot("shoulder", shoulder),
        spot("hip", at(shoulder, -3.0, 200.0)),
        spot("heel", at(shoulder, 8.0, 500.0)),
    ];
    let measured =
        measure(&input(Quantity::BodyLine, vec![look(0.0, body)], picture(0.0))).unwrap();
    near(measured.value.0, -3.0, 1e-9);
    assert_eq!(measured.notes[0], "heel +8°, hip -3°: the hip counts.");
}

/// A size is shown without sign, and its interval does not go below zero.
#[test]
fn a_small_lean_is_not_folded() {
    let shoulder = [900.0, 800.0];
    let body = vec![spot("shoulder", shoulder), spot("hip", at(shoulder, 90.3, 100.0))];
    let measured =
        measure(&input(Quantity::OffVertical, vec![look(0.0, body)], picture(0.0))).unwrap();
    near(measured.value.0, 0.3, 1e-9);
    assert_eq!(measured.interval[0], Magnitude(0.0));
    near(measured.u.0, (2_f64.sqrt() * 2.0 / 100.0).to_degrees(), 0.1);
}

/// The synthetic floor of the worked examples, seen by f 1500, yaw 25, pitch 20.
fn floor() -> Plane {
    let corners = [
        ([0.0, 0.0], [724.066_973_831, 644.538_475_010]),
        ([2.0, 0.0], [1_143.503_957_209, 569.974_144_828]),
        ([2.0, 1.0], [1_041.944_373_434, 506.935_049_865]),
        ([0.0, 1.0], [662.090_837_258, 565.243_353_346]),
    ];
    let points = corners
        .map(|(place, at)| PlanePoint {
            place: OnPlane(place),
            along: None,
            placed: vec![Shown(at)],
        })
        .to_vec();
    Plane { lies: Lies::Flat, points, size_u: 0.0 }
}

fn turn() -> MeasureInput {
    let foot = |heel, toe| vec![spot("heel", heel), spot("toe", toe)];
    let looks = vec![
        look(0.0, foot([901.804_716_082, 567.598_994_123], [940.383_618_988, 554.224_798_660])),
        look(0.8, foot([904.633_525_123, 567.973_915_319], [851.591_515_913, 573.036_913_104])),
    ];
    let mut input = input(Quantity::Turn, looks, View::Plane(floor()));
    input.facts.about = Degrees(180.0);
    input
}

#[test]
fn a_turn_is_measured_on_the_floor() {
    let measured = measure(&turn()).unwrap();
    near(measured.value.0, 150.0, 1e-6);
    // 2 px everywhere: 10.486896 at the rounded points.
    near(measured.u.0, 10.486_896, 0.25);
    let whole = MeasureInput { facts: Facts { about: Degrees(540.0), ..turn().facts }, ..turn() };
    near(measure(&whole).unwrap().value.0, 510.0, 1e-6);
}

/// A foot of a few pixels is refused, but the floor's own directions are drawn through it all the
/// same, 0.6 m each way; where they are seen is worked out with the matrix of the worked examples.
#[test]
fn where_a_foot_is_too_short_the_floors_directions_are_drawn() {
    let mut short = turn();
    short.looks[1].spots[1].placed = vec![Shown([900.6, 568.3])];
    assert!(matches!(measure(&short), Err(Refusal::ShortFoot { .. })));
    let lines = Sight::of(&short).unwrap().landmarks(1);
    let seen = |[x, y]: Point| {
        let w = 0.064_733_904_645 * x + 0.138_822_306_503 * y + 1.0;
        [
            (283.741_967_816 * x + 29.936_840_570 * y + 724.066_973_831) / w,
            (-0.385_513_150 * x - 0.826_735_617 * y + 644.538_475_010) / w,
        ]
    };
    let expected = [[[0.41, 0.49], [1.61, 0.49]], [[1.01, -0.11], [1.01, 1.09]]];
    assert_eq!(lines.len(), 2);
    for (line, ends) in lines.into_iter().zip(expected) {
        for (found, end) in line.into_iter().zip(ends.map(seen)) {
            assert!(found.distance(Shown(end)) < 1e-3);
        }
    }
    let leg = input(Quantity::Kick, vec![look(0.0, kick(55.0, 200.0))], picture(0.0));
    assert!(Sight::of(&leg).unwrap().landmarks(0).is_empty());
}

/// Worked by hand: the line asked of a joint bent by 90 degrees goes off at a right angle, to the
/// side to which the joint is bent.
#[test]
fn the_bend_asked_for_is_drawn_from_the_joint() {
    let spots = vec![
        spot("near end", [600.0, 300.0]),
        spot("joint", [600.0, 400.0]),
        spot("far end", [640.0, 480.0]),
    ];
    let bent = input(Quantity::Bend, vec![look(0.0, spots)], picture(0.0));
    near(measure(&bent).unwrap().value.0, 26.565_051, 1e-5);
    let lines = Sight::of(&bent).unwrap().asked(0, Magnitude(90.0));
    let [from, to] = lines[0].map(|end| end.0);
    near(from[0], 600.0, 1e-9);
    near(from[1], 400.0, 1e-9);
    near(to[1], 400.0, 1e-9);
    assert!(to[0] > 640.0);
}

/// 2 cm under the heel at the first frame: heading -10.194269 degrees wrong, by the table.
#[test]
fn a_raised_heel_is_bounded_by_its_height() {
    let mut input = turn();
    input.facts.heel_height = 0.02;
    input.facts.click = 0.5;
    let measured = measure(&input).unwrap();
    let heel = measured.budget.iter().find(|share| share.cause == ErrorSource::HeelHeight).unwrap();
    assert!(heel.u.0 > 3.0, "2 cm turn a heading by some ten degrees: {}", heel.u.0);
}

#[test]
fn a_foot_that_pivots_after_the_drop_is_told() {
    let mut input = turn();
    input.facts.click = 0.5;
    let mut later = input.looks[1].clone();
    later.seconds = 0.9;
    input.looks.push(later.clone());
    let still = measure(&input).unwrap();
    assert!(still.notes.iter().all(|note| !note.contains("pivots")));
    later.spots[1].placed = vec![Shown([858.0, 590.0])];
    input.looks[2] = later;
    let pivots = measure(&input).unwrap();
    assert!(pivots.notes.iter().any(|note| note.contains("pivots")));
    near(pivots.value.0, 150.0, 1e-6);
    assert!(pivots.u > still.u);
}

/// A leg in a vertical plane on the fixture's floor, through (0.2, 0.1) and (1.2, 0.85).
#[test]
fn the_plane_along_a_line_of_travel_needs_only_the_floor() {
    let rows = [
        [0.906_307_787, -0.422_618_262, 0.0],
        [-0.144_543_958, -0.309_975_519, -0.939_692_621],
        [0.397_131_262, 0.851_650_740, -0.342_020_143],
    ];
    let seen = |along: f64, up: f64| {
        let at = [0.2 + 0.8 * along + 1.5, 0.1 + 0.6 * along + 5.5, up - 2.5];
        let [u, v, w] = rows.map(|row| row[0] * at[0] + row[1] * at[1] + row[2] * at[2]);
        [960.0 + 1500.0 * u / w, 540.0 + 1500.0 * v / w]
    };
    let (sin, cos) = 55_f64.to_radians().sin_cos();
    let leg =
        vec![spot("hip", seen(0.5, 0.9)), spot("ankle", seen(0.5 + 0.8 * sin, 0.9 - 0.8 * cos))];
    let line = [0.0, 1.25].map(|along| vec![Shown(seen(along, 0.0))]);
    let view = View::Standing { floor: floor(), line };
    let mut input = input(Quantity::Kick, vec![look(0.0, leg)], view);
    input.facts.click = 0.5;
    let measured = measure(&input).unwrap();
    near(measured.value.0, 55.0, 1e-4);
    assert!(measured.budget.iter().any(|share| share.cause == ErrorSource::Line));
}

#[test]
fn what_cannot_be_measured_says_why() {
    let refused = |input: &MeasureInput| measure(input).unwrap_err();
    let mut no_floor = turn();
    no_floor.view = picture(10.0);
    assert_eq!(refused(&no_floor), Refusal::NoFloor { quantity: "turn" });
    let mut upright = turn();
    upright.view = View::Plane(Plane { lies: Lies::Upright, ..floor() });
    assert!(matches!(refused(&upright), Refusal::WrongPlane { .. }));
    let mut small = turn();
    small.looks[0].spots[1].placed = vec![Shown([906.0, 565.0])];
    assert!(matches!(refused(&small), Refusal::ShortFoot { .. }));
    let mut no_travel = input(
        Quantity::Repulsion,
        vec![look(0.0, vec![spot("hand", HIP), spot("hip", [900.0, 300.0])])],
        picture(0.0),
    );
    no_travel.facts.travel = None;
    assert_eq!(refused(&no_travel), Refusal::NoTravel);
    let missing = input(Quantity::Kick, vec![look(0.0, vec![spot("hip", HIP)])], picture(0.0));
    assert_eq!(refused(&missing), Refusal::MissingPoint { name: "ankle".to_owned() });
    let broken = input(Quantity::Kick, vec![look(0.0, kick(f64::NAN, 200.0))], picture(0.0));
    assert!(matches!(refused(&broken), Refusal::NoAngle { .. }));
    let mut sky = turn();
    sky.looks[0].spots[1].placed = vec![Shown([900.0, -400.0])];
    assert_eq!(refused(&sky), Refusal::BeyondHorizon);
    assert!(measure(&MeasureInput { looks: Vec::new(), ..turn() }).is_err());
    let mut bent = floor();
    bent.points.push(PlanePoint {
        place: OnPlane([1.0, 0.5]),
        along: None,
        placed: vec![Shown([900.0, 640.0])],
    });
    let bent = MeasureInput { view: View::Plane(bent), ..turn() };
    assert!(matches!(refused(&bent), Refusal::NotOnePlane { .. }));
    // A camera 10 cm above the floor: the mat is a sliver.
    let sliver = [[500.0, 640.0], [1400.0, 640.0], [1300.0, 617.0], [600.0, 617.0]];
    let mut low = floor();
    for (point, at) in low.points.iter_mut().zip(sliver) {
        point.placed = vec![Shown(at)];
    }
    let mut low = MeasureInput { view: View::Plane(low), ..turn() };
    for look in &mut low.looks {
        look.spots = vec![spot("heel", [800.0, 630.0]), spot("toe", [900.0, 630.5])];
    }
    let why = refused(&low);
    assert!(matches!(why, Refusal::Grazing { .. }), "{why:?}");
    assert!(Sight::of(&low).is_ok(), "its directions are still drawn");
}

/// The budget example of the worked examples: clicks, camera angle and frame choice together.
#[test]
fn the_budget_example_adds_up_and_decides() {
    let (clicks, camera, frame) = (0.973_840_992_6_f64, 2.056_291_873_f64, 2.405_626_122);
    let u = clicks.hypot(camera).hypot(frame);
    near(u, 3.311_153_815, 1e-8);
    let above = Limit { edge: Magnitude(90.0), side: Side::Above };
    near(conformance(Magnitude(93.0), Magnitude(u), above), 0.817_539_638_2, 1e-8);
    near(conformance(Magnitude(96.0), Magnitude(u), above), 0.965_011_318_1, 1e-8);
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![8 => -3000.0..3000.0, 1 => Just(0.0), 1 => any::<f64>()]
}

fn any_spots() -> impl Strategy<Value = Vec<Spot>> {
    let names = ["shoulder", "hip", "knee", "toe", "heel", "ankle", "hand"];
    let sides = ["left hip", "right hip", "left ankle", "right ankle"];
    let names = [&names[..], &sides[..]].concat();
    let n = names.len();
    proptest::collection::vec((any_number(), any_number()), n)
        .prop_map(move |at| names.iter().zip(at).map(|(name, (x, y))| spot(name, [x, y])).collect())
}

fn any_plane() -> impl Strategy<Value = Plane> {
    let point = ((any_number(), any_number()), (any_number(), any_number()));
    (proptest::collection::vec(point, 0..7), any::<bool>()).prop_map(|(points, flat)| Plane {
        lies: if flat { Lies::Flat } else { Lies::Upright },
        points: points
            .into_iter()
            .map(|((x, y), (u, v))| PlanePoint {
                place: OnPlane([x, y]),
                along: [None, None, Some(Along::X), Some(Along::Y)][(x.to_bits() % 4) as usize],
                placed: vec![Shown([u, v])],
            })
            .collect(),
        size_u: 0.01,
    })
}

fn any_view() -> impl Strategy<Value = View> {
    prop_oneof![
        (any_number(), any_number()).prop_map(|(x, angle)| View::Picture {
            line: [[x, 0.0], [0.0, 500.0]].map(|at| vec![Shown(at)]),
            off_square: Degrees(angle),
        }),
        any_plane().prop_map(View::Plane),
        Just(View::Plane(floor())),
        Just(View::Standing {
            floor: floor(),
            line: [[700.0, 640.0], [1100.0, 580.0]].map(|at| vec![Shown(at)]),
        }),
    ]
}

proptest! {
    /// Whatever was clicked gives a number with an interval around it, or a reason.
    #[test]
    fn no_click_is_too_odd(
        quantity in proptest::sample::select(&Quantity::ALL[..]),
        looks in proptest::collection::vec((any_number(), any_spots()), 0..4),
        view in any_view(),
        (heel_height, speed, click) in (any_number(), any_number(), any_number()),
    ) {
        let looks = looks.into_iter().map(|(seconds, spots)| look(seconds, spots)).collect();
        let facts = Facts {
            travel: Some(Travel::Left), heel_height, speed: Some(Magnitude(speed)), click,
            ..Facts::default()
        };
        if let Ok(measured) = measure(&MeasureInput { quantity, looks, view, facts }) {
            let [low, high] = measured.interval;
            prop_assert!(measured.value.is_finite() && measured.u.is_finite(), "{measured:?}");
            prop_assert!(low <= high, "{measured:?}");
        }
    }
}
