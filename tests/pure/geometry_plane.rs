//! Planes, the camera found from one, and what clicks do to a turn measured on the floor.
//!
//! Expected values come from the project's sheet of worked examples, computed there with numpy
//! 2.4.6 and OpenCV 5.0.0, unless said otherwise.

use stillcall::{
    geometry::{
        Homography, Refusal,
        angle::{between, wrap},
        homography::{Along, Pair, fit, fit_linear, fit_near},
        pose::{self, Pose},
        propagate::{self, Input, first_order},
    },
    units::{OnPlane, Shown},
};

/// A position on the plane or in the picture.
type Point = [f64; 2];

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

fn near_point(found: Point, expected: Point, within: f64) {
    near(found[0], expected[0], within);
    near(found[1], expected[1], within);
}

fn pairs(plane: &[Point], picture: &[Point]) -> Vec<Pair> {
    plane
        .iter()
        .zip(picture)
        .map(|(from, to)| Pair { from: OnPlane(*from), to: Shown(*to), along: None })
        .collect()
}

const MAT: [Point; 4] = [[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]];

/// A unit square seen as a trapezium, by hand.
#[test]
fn four_points_fix_the_map_exactly() {
    let picture = [[0.0, 0.0], [4.0, 0.0], [3.0, 2.0], [1.0, 2.0]];
    let plane = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
    for map in [
        fit(&pairs(&plane, &picture)).unwrap().homography,
        fit_linear(&pairs(&plane, &picture)).unwrap(),
    ] {
        let [h, back] = [map.matrix(), map.back_matrix()];
        for (k, expected) in [4.0, 2.0, 0.0, 0.0, 4.0, 0.0, 0.0, 1.0, 1.0].into_iter().enumerate() {
            near(h[(k / 3, k % 3)], expected, 1e-8);
        }
        let expected = [0.25, -0.125, 0.0, 0.0, 0.25, 0.0, 0.0, -0.25, 1.0];
        for (k, expected) in expected.into_iter().enumerate() {
            near(back[(k / 3, k % 3)], expected, 1e-8);
        }
        near_point(map.from(Shown([2.0, 1.0])).unwrap().0, [0.5, 1.0 / 3.0], 1e-8);
        near_point(map.from(Shown([2.0, 4.0 / 3.0])).unwrap().0, [0.5, 0.5], 1e-8);
    }
}

const FLOOR: [Point; 4] = [[620.0, 810.0], [1370.0, 790.0], [1235.0, 560.0], [735.0, 570.0]];
const FEET: [Point; 4] = [[900.0, 700.0], [985.0, 672.0], [903.0, 702.0], [861.0, 748.0]];

/// OpenCV's getPerspectiveTransform and findHomography give the same to 5e-14.
#[test]
fn a_mat_clicked_on_whole_pixels_gives_the_computed_map() {
    let map = fit(&pairs(&MAT, &FLOOR)).unwrap();
    assert_eq!(map.residual, None, "four points leave nothing over");
    let back = map.homography.back_matrix();
    let expected = [
        -0.018_473_839_5,
        -0.008_852_048_1,
        18.623_939_471_7,
        0.000_522_168_9,
        0.019_581_334_1,
        -16.184_625_327_5,
        -0.000_065_641_1,
        -0.009_809_165_9,
        1.0,
    ];
    for (k, expected) in expected.into_iter().enumerate() {
        near(back[(k / 3, k % 3)], expected, 1e-9);
    }
    for (foot, place) in FEET.into_iter().zip([
        [0.708_624_532_2, 0.338_830_780_9],
        [0.976_124_959_7, 0.444_032_488_9],
        [0.718_562_459_0, 0.330_850_842_7],
        [0.610_495_290_8, 0.170_196_845_6],
    ]) {
        near_point(map.homography.from(Shown(foot)).unwrap().0, place, 1e-8);
    }
}

/// The cost is the squared distance in the picture; the same fit the other way round minimises
/// it in the plane. Algebraic and in the plane: the sheet; in the picture: scipy 1.17.1
/// `least_squares` on the same points, residual sum of squares 2 x 15.2338891286.
#[test]
fn the_cost_that_is_minimised_is_the_one_named() {
    let plane = [&MAT[..], &[[1.0, 0.0], [1.0, 1.0]]].concat();
    let picture = [&FLOOR[..], &[[1000.0, 800.5], [980.0, 566.0]]].concat();
    near(fit_linear(&pairs(&picture, &plane)).unwrap().matrix()[(0, 0)], -0.017_266_464, 1e-9);
    let in_the_plane = fit(&pairs(&picture, &plane)).unwrap().homography;
    // OpenCV's iteration stops there; scipy goes on to -0.0165367594 on the flat bottom.
    near(in_the_plane.matrix()[(0, 0)], -0.016_536_777_4, 3e-8);
    let in_the_picture = fit(&pairs(&plane, &picture)).unwrap();
    near(in_the_picture.homography.back_matrix()[(0, 0)], -0.017_444_836_5, 1e-8);
    near(in_the_picture.residual.unwrap(), (2.0 * 15.233_889_128_6 / 4.0_f64).sqrt(), 1e-8);
    let again = fit_near(&in_the_picture.homography, &pairs(&plane, &picture)).unwrap();
    near((again.matrix() - in_the_picture.homography.matrix()).norm(), 0.0, 1e-8);
}

/// scipy 1.17.1 `least_squares` on the same clicks with every unknown place as a parameter of its own,
/// by the method `lm` at 1e-15: residual sum of squares 39.8648609044 of three numbers too many.
#[test]
fn a_point_anywhere_on_an_edge_tells_how_far_beside_it_was_clicked() {
    let mut clicks = pairs(&MAT, &FLOOR);
    for (from, to, along) in [
        ([0.3, 0.0], [1000.0, 803.5], Along::X),
        ([2.0, 0.9], [1290.0, 665.0], Along::Y),
        ([1.0, 1.0], [980.0, 561.5], Along::X),
    ] {
        clicks.push(Pair { from: OnPlane(from), to: Shown(to), along: Some(along) });
    }
    let fitted = fit(&clicks).unwrap();
    near(fitted.residual.unwrap(), (39.864_860_904_4_f64 / 3.0).sqrt(), 1e-7);
    let back = fitted.homography.back_matrix();
    for (at, expected) in [
        ((0, 0), -0.019_947_570_9),
        ((0, 2), 20.038_558_8),
        ((1, 1), 0.020_903_293_7),
        ((2, 1), -0.010_529_718_6),
    ] {
        near(back[at], expected, 1e-6 * expected.abs());
    }
    // Edges alone fix nothing: their places are unknown.
    clicks.remove(0);
    assert!(matches!(fit(&clicks), Err(Refusal::TooFewPoints { found: 3 })));
}

/// Turn from foot clicks and mat corners, every coordinate an input.
fn turn(
    corners: [Point; 4],
    feet: [Point; 4],
    s: [f64; 2],
) -> (Vec<Input<()>>, impl Fn(&[f64]) -> Option<f64>) {
    let input =
        |u| move |value: &f64| Input { value: *value, u, freedom: f64::INFINITY, cause: () };
    let inputs = corners.as_flattened().iter().map(input(s[0]));
    let inputs = inputs.chain(feet.as_flattened().iter().map(input(s[1]))).collect();
    let result = |x: &[f64]| {
        let points: Vec<Point> = x.chunks(2).map(|c| [c[0], c[1]]).collect();
        let map = fit(&pairs(&MAT, &points[..4])).ok()?.homography;
        let place: Vec<OnPlane> = points[4..].iter().filter_map(|p| map.from(Shown(*p))).collect();
        let line = |a: usize, b: usize| place[b] - place[a];
        Some(between(line(0, 1), line(2, 3)))
    };
    (inputs, result)
}

#[test]
fn a_turn_on_the_floor_and_its_first_order_uncertainty() {
    let (inputs, result) = turn(FLOOR, FEET, [1.0, 2.0]);
    let found = first_order(&inputs, result).unwrap();
    near(found.value, -145.396_111_3, 1e-6);
    near(found.u(), 3.654_979_130, 1e-5);
    let norm = |parts: &[f64]| parts.iter().map(|p| p * p).sum::<f64>().sqrt();
    near(norm(&found.parts[..8]), 0.147_712_019, 1e-5);
    near(norm(&found.parts[8..]), 3.651_993_099, 1e-5);
    let raw = |a: usize, b: usize| [FEET[b][0] - FEET[a][0], FEET[b][1] - FEET[a][1]];
    near(between(raw(0, 1), raw(2, 3)).abs(), 150.629_928_9, 1e-7);
}

/// The synthetic camera: f 1500, yaw 25, pitch 20, at (-1.5, -5.5, 2.5).
const SEEN_MAT: [Point; 4] = [
    [724.066_973_831, 644.538_475_010],
    [1_143.503_957_209, 569.974_144_828],
    [1_041.944_373_434, 506.935_049_865],
    [662.090_837_258, 565.243_353_346],
];
const SEEN_FEET: [Point; 4] = [
    [901.804_716_082, 567.598_994_123],
    [940.383_618_988, 554.224_798_660],
    [904.633_525_123, 567.973_915_319],
    [851.591_515_913, 573.036_913_104],
];
const CENTRE: Shown = Shown([960.0, 540.0]);

fn rounded(points: [Point; 4], step: f64) -> [Point; 4] {
    points.map(|point| point.map(|c| (c / step).round() * step))
}

#[test]
fn a_known_camera_is_undone() {
    let map = fit(&pairs(&MAT, &SEEN_MAT)).unwrap().homography;
    let expected = [
        283.741_967_816_238,
        29.936_840_569_609,
        724.066_973_831_111,
        -0.385_513_149_611,
        -0.826_735_617_289,
        644.538_475_009_94,
        0.064_733_904_645,
        0.138_822_306_503,
        1.0,
    ];
    for (k, expected) in expected.into_iter().enumerate() {
        near(map.matrix()[(k / 3, k % 3)], expected, 1e-6);
    }
    let (inputs, result) = turn(SEEN_MAT, SEEN_FEET, [1.0, 2.0]);
    near(first_order(&inputs, &result).unwrap().value, 150.0, 1e-6);
    let (inputs, result) = turn(rounded(SEEN_MAT, 0.01), rounded(SEEN_FEET, 0.01), [1.0, 2.0]);
    near(first_order(&inputs, &result).unwrap().value, 150.008_479_8, 1e-6);
    let raw =
        |a: usize, b: usize| [SEEN_FEET[b][0] - SEEN_FEET[a][0], SEEN_FEET[a][1] - SEEN_FEET[b][1]];
    near(between(raw(0, 1), raw(2, 3)), 166.332_552_4, 1e-6);
}

/// First order and Monte Carlo of 4e5; the partial derivatives in degrees per pixel.
#[test]
fn the_uncertainty_of_a_turn_is_the_computed_one() {
    let points = (rounded(SEEN_MAT, 0.01), rounded(SEEN_FEET, 0.01));
    for (s, [corners, feet, total], drawn) in [
        ([0.5, 1.0], [0.169_831, 5.232_435, 5.235_191], 5.234_911),
        ([1.0, 2.0], [0.339_663, 10.464_870, 10.470_381], 10.485_85),
        ([2.0, 2.0], [0.679_325, 10.464_870, 10.486_896], 10.487_30),
    ] {
        let (inputs, result) = turn(points.0, points.1, s);
        let found = first_order(&inputs, &result).unwrap();
        let norm = |parts: &[f64]| parts.iter().map(|p| p * p).sum::<f64>().sqrt();
        near(norm(&found.parts[..8]), corners, 2e-5);
        near(norm(&found.parts[8..]), feet, 2e-5);
        near(found.u(), total, 2e-5);
        // Paired with first order, 4000 drawings tell the deviation to well under 1 %.
        let drawings = propagate::draw(&inputs, &found, 4000, |x| {
            result(x).map(|r| found.value + wrap(r - found.value))
        });
        let [_, by_drawing] = propagate::mean_and_deviation(drawings.iter().map(|d| d.result));
        let [_, linear] = propagate::mean_and_deviation(drawings.iter().map(|d| d.linear));
        near(by_drawing / linear * total, drawn, 0.01 * drawn);
    }
    let (inputs, result) = turn(points.0, points.1, [1.0, 1.0]);
    let slopes = first_order(&inputs, &result).unwrap().parts;
    let expected = [
        0.057_049, 0.095_203, 0.011_507, 0.201_547, -0.073_751, -0.114_243, -0.010_361, -0.209_047,
        -0.751_656, -2.167_330, 0.769_628, 2.219_151, -0.275_336, -2.880_436, 0.272_919, 2.855_155,
    ];
    for (found, expected) in slopes.into_iter().zip(expected) {
        near(found, expected, 5e-6);
    }
}

#[test]
fn a_click_moves_a_floor_point_by_the_slope_of_the_map() {
    let map = fit(&pairs(&MAT, &SEEN_MAT)).unwrap().homography;
    let [[a, b], [c, d]] = map.from_slope(Shown(SEEN_FEET[0])).unwrap();
    near(a, 0.004_203_928_579, 1e-9);
    near(b, -0.005_029_255_191, 1e-9);
    near(c, -0.001_960_324_091, 1e-9);
    near(d, -0.011_898_911_929, 1e-9);
    near(a * a + b * b, 4.296_642_3e-5, 1e-11);
    near(a * c + b * d, 5.160_160_2e-5, 1e-11);
    near((c * c + d * d).sqrt(), 0.012_059_31, 1e-8);
    let [[a, b], [c, d]] = map.to_slope(map.from(Shown(SEEN_FEET[0])).unwrap()).unwrap();
    near(a * 0.004_203_928_579 + b * -0.001_960_324_091, 1.0, 1e-7);
    near(c * 0.004_203_928_579 + d * -0.001_960_324_091, 0.0, 1e-7);
}

#[test]
fn a_heel_off_the_floor_is_mapped_away_from_the_camera() {
    for (height, shift) in [
        (0.02, 0.052_419_354_8),
        (0.05, 0.132_653_061_2),
        (0.08, 0.214_876_033_1),
        (0.10, 0.270_833_333_3),
    ] {
        near(pose::raised(height, 6.5, 2.5), shift, 1e-10);
    }
    // Heading of a foot at 20 degrees whose heel alone is raised.
    let toe = [1.234_923_155_2, 0.585_505_035_8];
    for (height, degrees) in
        [(0.02, -10.194_268_77), (0.05, -31.358_872_46), (0.08, -56.539_340_32)]
    {
        let away = [1.0 + 1.5, 0.5 + 5.5].map(|c| c / 6.5);
        let shift = pose::raised(height, 6.5, 2.5);
        let heel = [1.0 + away[0] * shift, 0.5 + away[1] * shift];
        near((toe[1] - heel[1]).atan2(toe[0] - heel[0]).to_degrees() - 20.0, degrees, 1e-6);
    }
}

fn map_of(corners: [Point; 4]) -> Homography {
    fit(&pairs(&MAT, &corners)).unwrap().homography
}

#[test]
fn one_plane_gives_the_focal_length_both_ways() {
    for (corners, right_angle, equal_scale, within) in [
        (SEEN_MAT, 1500.0, 1500.0, 1e-4),
        (rounded(SEEN_MAT, 0.01), 1_498.709_906, 1_500.060_892, 1e-5),
        (rounded(SEEN_MAT, 0.1), 1_505.277_123, 1_498.421_204, 1e-5),
        (rounded(SEEN_MAT, 1.0), 1_442.708_690, 1_483.946_288, 1e-5),
    ] {
        let found = pose::focal_lengths(&map_of(corners), CENTRE);
        near(found.from_right_angle.unwrap(), right_angle, within);
        near(found.from_equal_scale.unwrap(), equal_scale, within);
    }
    let vanishing =
        [[4_383.204_896_591, -5.955_351_399], [215.648_632_584, -5.955_351_399]].map(Shown);
    near(pose::focal_from_vanishing(vanishing, CENTRE).unwrap().powi(2), 2_250_000.0, 1e-3);
    assert_eq!(pose::focal_from_vanishing([[0.0, 0.0], [10.0, 0.0]].map(Shown), CENTRE), None);
}

/// The truth of the fixture; an independent planar pose solver (OpenCV, IPPE) returns the same.
#[test]
fn one_plane_gives_the_camera() {
    let pose = Pose::of(&map_of(SEEN_MAT), CENTRE, 1500.0);
    for (found, expected) in pose.place().iter().zip([-1.5, -5.5, 2.5]) {
        near(*found, expected, 1e-7);
    }
    let rows = [
        0.906_307_787,
        -0.422_618_262,
        0.0,
        -0.144_543_958,
        -0.309_975_519,
        -0.939_692_621,
        0.397_131_262,
        0.851_650_740,
        -0.342_020_143,
    ];
    for (k, expected) in rows.into_iter().enumerate() {
        near(pose.rotation[(k / 3, k % 3)], expected, 1e-8);
    }
    near(pose.shift.z, 6.134_826_319, 1e-7);
}

/// The camera of the fixture with another yaw: rows right, down, forward.
fn seen_at_yaw(yaw: f64, pitch: f64) -> [Point; 4] {
    let ((sy, cy), (sp, cp)) = (yaw.to_radians().sin_cos(), pitch.to_radians().sin_cos());
    let rows = [[cy, -sy, 0.0], [-sy * sp, -cy * sp, -cp], [sy * cp, cy * cp, -sp]];
    MAT.map(|[x, y]| {
        let at = [x + 1.5, y + 5.5, -2.5];
        let [u, v, w] = rows.map(|row| row[0] * at[0] + row[1] * at[1] + row[2] * at[2]);
        [960.0 + 1500.0 * u / w, 540.0 + 1500.0 * v / w]
    })
}

#[test]
fn each_way_to_the_focal_length_fails_where_it_must() {
    near_point(seen_at_yaw(25.0, 20.0)[0], SEEN_MAT[0], 1e-6);
    // A side parallel to the picture.
    let square_on = pose::focal_lengths(&map_of(seen_at_yaw(0.0, 20.0)), CENTRE);
    assert_eq!(square_on.from_right_angle, None);
    near(square_on.better.unwrap(), 1500.0, 1e-3);
    // Both sides going away alike.
    let corner_on = pose::focal_lengths(&map_of(seen_at_yaw(45.0, 20.0)), CENTRE);
    assert_eq!(corner_on.from_equal_scale, None);
    near(corner_on.better.unwrap(), 1500.0, 1e-3);
    // Straight from the front: a rectangle stays one.
    let front = [[600.0, 700.0], [1000.0, 700.0], [1000.0, 500.0], [600.0, 500.0]];
    assert_eq!(pose::focal_lengths(&map_of(front), CENTRE).better, None);
    // A square of 2 on 1 that no camera sees so: the focal length squared comes out negative.
    let impossible = [[700.0, 700.0], [900.0, 700.0], [880.0, 300.0], [720.0, 300.0]];
    assert_eq!(pose::focal_lengths(&map_of(impossible), CENTRE).better, None);
}

/// A plane stood on a line of the floor sees what the fixture's camera sees.
#[test]
fn a_vertical_plane_stands_on_the_line_of_travel() {
    let map = map_of(SEEN_MAT);
    let standing = pose::standing(&map, [[0.2, 0.1], [1.2, 0.85]].map(OnPlane), CENTRE).unwrap();
    let rows = [
        [0.906_307_787, -0.422_618_262, 0.0],
        [-0.144_543_958, -0.309_975_519, -0.939_692_621],
        [0.397_131_262, 0.851_650_740, -0.342_020_143],
    ];
    for [along, up] in [[0.0, 0.0], [1.0, 0.0], [0.5, 1.4], [-0.5, 2.0]] {
        let world = [0.2 + 0.8 * along, 0.1 + 0.6 * along, up];
        let at = [world[0] + 1.5, world[1] + 5.5, world[2] - 2.5];
        let [u, v, w] = rows.map(|row| row[0] * at[0] + row[1] * at[1] + row[2] * at[2]);
        let seen = [960.0 + 1500.0 * u / w, 540.0 + 1500.0 * v / w];
        near_point(standing.from(Shown(seen)).unwrap().0, [along, up], 1e-5);
    }
}

#[test]
fn bad_geometry_is_refused_with_the_reason() {
    let refuse = |plane: &[Point], picture: &[Point]| fit(&pairs(plane, picture)).unwrap_err();
    assert_eq!(refuse(&MAT[..3], &FLOOR[..3]), Refusal::TooFewPoints { found: 3 });
    let line = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [3.0, 0.001]];
    assert_eq!(refuse(&line, &FLOOR), Refusal::InLine);
    assert_eq!(refuse(&MAT, &line.map(|p| p.map(|c| c * 300.0))), Refusal::InLine);
    assert_eq!(refuse(&MAT, &[FLOOR[0]; 4]), Refusal::InLine);
    let three_in_line = [[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [1.0, 1.0]];
    assert_eq!(refuse(&three_in_line, &FLOOR), Refusal::InLine);
    let swapped = [FLOOR[0], FLOOR[2], FLOOR[1], FLOOR[3]];
    assert_eq!(refuse(&MAT, &swapped), Refusal::Crossed);
    let mut broken = FLOOR;
    broken[1][0] = f64::NAN;
    assert!(matches!(refuse(&MAT, &broken), Refusal::NoAngle { .. }));
}

/// JCGM 100 H.1, as published: u_c 32 nm, effective degrees of freedom about 16; digits from
/// the sheet.
#[test]
fn parts_add_up_as_in_the_end_gauge_example() {
    let u_d = [5.8_f64, 3.9, 6.7].iter().map(|u| u * u).sum::<f64>().sqrt();
    near(u_d, 9.681_941_954, 1e-9);
    let input = |cause, u, freedom| Input { value: 0.0, u, freedom, cause };
    let inputs =
        [input(0, 25.0, 18.0), input(1, 9.7, 25.6), input(2, 2.9, 50.0), input(3, 16.6, 2.0)];
    let found = first_order(&inputs, |x| Some(x.iter().sum())).unwrap();
    near(found.u(), 31.671_122_49, 1e-7);
    near(found.freedom(&inputs), 16.764_553_98, 1e-6);
}
