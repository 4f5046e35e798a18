//! Angles between points, what clicks do to them, and what a camera off square does.
//!
//! Expected values come from the project's sheet of worked examples, computed there with numpy
//! 2.4.6 and scipy 1.17.1 and checked against Monte Carlo of 4e6 draws, unless said otherwise.

use stillcall::{
    geometry::{
        Quantity,
        angle::{between, elevation, off_vertical, wrap},
        placing,
        shape::MissingPoint,
        turned_away,
    },
    units::{Coded, Degrees, OnPlane, Orientation, PixelShape, Shown, Upright},
};

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// JCGM 100:2008 clause 5, first order, closed forms; rows A to N.
#[test]
fn clicks_make_angles_unsure_by_the_closed_forms() {
    let three = |a, b, opening, s| placing::three_points([a, b], Degrees(opening), s).0;
    near(three(300.0, 200.0, 90.0, 2.0), 0.973_840_992_6, 1e-9);
    near(three(250.0, 250.0, 180.0, 2.0), 1.122_763_394, 1e-9);
    near(three(180.0, 140.0, 60.0, 1.5), 0.957_362_604_6, 1e-9);
    near(three(120.0, 90.0, 135.0, 2.0), 2.604_906_272, 1e-9);
    near(three(60.0, 60.0, 90.0, 3.0), 5.729_577_951, 1e-9);
    near(placing::four_points([200.0, 150.0], 2.0).0, 1.350_474_474, 1e-9);
    near(placing::four_points([300.0, 300.0], 2.0).0, 0.763_943_726_8, 1e-9);
    near(placing::four_points([100.0, 80.0], 1.5).0, 1.945_632_564, 1e-9);
    near(placing::segment(100.0, 1.0).0, 0.810_284_684_5, 1e-9);
    near(placing::segment(200.0, 2.0).0, 0.810_284_684_5, 1e-9);
    near(placing::segment(50.0, 2.0).0, 3.241_138_738, 1e-9);
    near(placing::segment(400.0, 2.0).0, 0.405_142_342_3, 1e-9);
    near(placing::segment(25.0, 2.0).0, 6.482_277_476, 1e-9);
    near(placing::segment_across(200.0, [1.0, 3.0], Degrees(30.0)).0, 1.071_905_883, 1e-9);
    let against_line = placing::segment(200.0, 2.0).0.hypot(placing::segment(600.0, 1.0).0);
    // The sheet prints 0.8214615630; the sum of its own squares gives ...5530.
    near(against_line, 0.821_461_553_0, 1e-9);
}

/// Trade figures: one line √2·e/L, two lines 2·e/L, to the digit printed in the error budget.
#[test]
fn clicks_give_the_printed_error_budget() {
    let rows = [
        (60.0, [1.9, 3.8, 5.7]),
        (100.0, [1.1, 2.3, 3.4]),
        (150.0, [0.8, 1.5, 2.3]),
        (250.0, [0.5, 0.9, 1.4]),
    ];
    for (length, expected) in rows {
        for (s, degrees) in [1.0, 2.0, 3.0].into_iter().zip(expected) {
            near(placing::four_points([length, length], s).0, degrees, 0.05 + 1e-9);
        }
    }
}

/// JCGM 100 clause 4.2.3: the mean of n is sure to s over root n; F.2.2.1: half a pixel each way.
#[test]
fn placing_again_lowers_the_uncertainty() {
    near(placing::repeated(2.0, 4), 1.0, 1e-12);
    let one = [Shown([3.0, 4.0])];
    let usual = placing::Spread { s: 2.0, freedom: f64::INFINITY };
    assert_eq!(placing::Spread::of([&one[..]], usual), usual);
    // Standard deviation of 2, 4, 4, 4, 5, 5, 7, 9 is 2.138090 (n - 1), a common textbook set.
    let set = [2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0].map(|x| Shown([x, x]));
    let spread = placing::Spread::of([&set[..]], usual);
    near(spread.s, 2.138_089_935, 1e-9);
    near(spread.freedom, 14.0, 0.0);
    let same = [Shown([1.0, 1.0]); 5];
    near(placing::Spread::of([&same[..]], usual).s, 0.288_675_134_6, 1e-10);
}

/// Pooled variance, as in any handbook: (12.5 · 2.5² + 4 · 4²) / 16.5 of a guess and of six points
/// that miss by 4 px, and 16.5 degrees of freedom; what is known is replaced by more alone. Where nothing
/// checks four points, four misses of 5 px stand for what nobody noticed, and tell nothing.
#[test]
fn a_planes_own_misses_are_pooled_with_the_usual_click() {
    let guess = placing::Spread { s: 2.5, freedom: 12.5 };
    let pooled = guess.of_a_plane(Some(4.0), 4);
    near(pooled.s, (142.125_f64 / 16.5).sqrt(), 1e-9);
    near(pooled.freedom, 16.5, 1e-12);
    assert!(guess.of_a_plane(Some(0.5), 4).s < 2.5);
    let four = guess.of_a_plane(None, 0);
    near(four.s, ((12.5 * 6.25 + 4.0 * 25.0) / 16.5_f64).sqrt(), 1e-9);
    near(four.freedom, 12.5, 0.0);
    let five = guess.of_a_plane(Some(2.5), 2);
    near(five.s, ((14.5 * 6.25 + 2.0 * 25.0) / 16.5_f64).sqrt(), 1e-9);
    let known = placing::Spread { s: 2.5, freedom: f64::INFINITY };
    assert_eq!([4.0, 0.5].map(|residual| known.of_a_plane(Some(residual), 4).s), [4.0, 2.5]);
    assert_eq!(known.of_a_plane(None, 0), known);
}

/// ITU-R BT.601 pixel shapes; the elevation of (100, 100) coded pixels.
#[test]
fn angles_are_taken_in_square_pixels() {
    for (pixel, degrees) in [((16, 15), 43.152_389_73), ((4, 3), 36.869_897_65)] {
        let upright = Upright {
            coded_width: 720,
            coded_height: 576,
            pixel: PixelShape { width: pixel.0, height: pixel.1 },
            orientation: Orientation::UPRIGHT,
        };
        let [a, b] = [[100.0, 300.0], [200.0, 200.0]].map(|at| upright.to_shown(Coded(at)));
        let [across, down] = b - a;
        near(elevation([across, -down]), degrees, 1e-7);
    }
}

/// Plain geometry: definitions of the angles.
#[test]
fn lines_are_measured_from_where_the_quantity_says() {
    near(elevation([-1.0, 1.0]), 45.0, 1e-12);
    near(elevation([1.0, -3_f64.sqrt()]), -60.0, 1e-12);
    near(off_vertical([1.0, 3_f64.sqrt()]), 30.0, 1e-12);
    near(off_vertical([1.0, -3_f64.sqrt()]), -30.0, 1e-12);
    near(between([0.0, -1.0], [1.0, 0.0]), 90.0, 1e-12);
    near(wrap(-190.0), 170.0, 1e-12);
    near(wrap(540.0), 180.0, 1e-12);
    near(between([1.0, 0.0], [-1.0, 1.0]), 135.0, 1e-12);
}

fn at(from: OnPlane, degrees: f64, length: f64) -> OnPlane {
    let (sin, cos) = degrees.to_radians().sin_cos();
    from + [length * cos, length * sin]
}

/// The example of the quantity's definition: heels +8, hips -3, so the hips count.
#[test]
fn the_lowest_body_part_counts() {
    let shoulder = OnPlane([0.0, 0.0]);
    let points =
        [shoulder, at(shoulder, -3.0, 0.5), at(shoulder, 2.0, 0.9), at(shoulder, 8.0, 1.3)];
    let shape = Quantity::BodyLine.shape(&["shoulder", "hip", "knee", "toe"]).unwrap();
    near(shape.value(&points, 1.0), -3.0, 1e-9);
    let compared = shape.compared(&points);
    assert!(compared.iter().any(|(part, degrees)| *part == 3 && (degrees - 8.0).abs() < 1e-9));
}

#[test]
fn in_a_handstand_the_part_furthest_off_vertical_counts() {
    let shoulder = OnPlane([0.0, 0.0]);
    let points = [shoulder, at(shoulder, 96.0, 0.5), at(shoulder, 80.0, 1.3)];
    let shape = Quantity::OffVertical.shape(&["shoulder", "hip", "toe"]).unwrap();
    near(shape.value(&points, 1.0).abs(), 10.0, 1e-9);
}

/// Before vertical is negative, whichever way the athlete travels.
#[test]
fn repulsion_is_signed_in_the_direction_of_travel() {
    let shape = Quantity::Repulsion.shape(&["left hand", "right hand", "hip"]).unwrap();
    let hands = [[-0.1, 0.0], [0.1, 0.0]].map(OnPlane);
    let points = [hands[0], hands[1], at(OnPlane::mean(hands), 110.0, 1.0)];
    near(shape.value(&points, 1.0), -20.0, 1e-9);
    near(shape.value(&points, -1.0), 20.0, 1e-9);
}

const LEGS: [&str; 5] = ["left hip", "left ankle", "right hip", "right ankle", "shoulder"];

/// Never folded: a leg above level on both sides opens past 180.
#[test]
fn a_split_may_open_past_half_a_turn() {
    let shape = Quantity::Split.shape(&LEGS[..4]).unwrap();
    let hips = [[0.1, 1.0], [-0.1, 1.0]].map(OnPlane);
    let points = [hips[0], at(hips[0], 12.0, 0.8), hips[1], at(hips[1], 172.0, 0.8)];
    near(shape.value(&points, 1.0), 200.0, 1e-9);
    // Standing on one leg with the other straight up behind and past it, the trunk in front.
    let shape = Quantity::Split.shape(&LEGS).unwrap();
    let hip = OnPlane([0.0, 1.0]);
    let stand =
        |free: f64| [hip, at(hip, -90.0, 0.8), hip, at(hip, free, 0.8), OnPlane([0.5, 1.0])];
    near(shape.value(&stand(95.0), 1.0), 175.0, 1e-9);
    near(shape.value(&stand(85.0), 1.0), 185.0, 1e-9);
}

#[test]
fn a_split_needs_both_hips_and_no_click_between_the_legs() {
    let refused = Quantity::Split.shape(&["hip", "left ankle", "right ankle"]);
    assert_eq!(refused, Err(MissingPoint("left hip".to_owned())));
    let bent = Quantity::Split.shape(&["left hip", "left knee", "right hip", "right ankle"]);
    assert!(bent.is_ok());
}

#[test]
fn a_kick_is_measured_from_straight_down() {
    let shape = Quantity::Kick.shape(&["hip", "ankle"]).unwrap();
    for degrees in [40.0, 60.0, 135.0] {
        let hip = OnPlane([0.0, 1.0]);
        let points = [hip, at(hip, degrees - 90.0, 0.8)];
        near(shape.value(&points, 1.0).abs(), degrees, 1e-9);
    }
}

/// Table of splits seen from off square, bounds confirmed by brute force over roll.
#[test]
fn an_opening_looks_within_its_bounds() {
    let rows = [
        (30.0, [(29.5643, 30.4415), (28.2654, 31.8305), (26.1286, 34.3842), (21.4572, 41.5071)]),
        (45.0, [(44.3831, 45.6236), (42.5353, 47.5755), (39.4678, 51.1229), (32.6499, 60.7224)]),
        (60.0, [(59.2433, 60.7625), (56.9625, 63.1334), (53.1301, 67.3801), (44.4153, 78.4630)]),
        (90.0, [(89.1229, 90.8771), (86.4384, 93.5616), (81.7868, 98.2132), (70.5288, 109.4712)]),
        (
            120.0,
            [
                (119.2375, 120.7567),
                (116.8666, 123.0375),
                (112.6199, 126.8699),
                (101.5370, 135.5847),
            ],
        ),
        (
            135.0,
            [
                (134.3764, 135.6169),
                (132.4245, 137.4647),
                (128.8771, 140.5322),
                (119.2776, 147.3501),
            ],
        ),
        (
            150.0,
            [
                (149.5585, 150.4357),
                (148.1695, 151.7346),
                (145.6158, 153.8714),
                (138.4929, 158.5428),
            ],
        ),
        (
            170.0,
            [
                (169.8465, 170.1512),
                (169.3618, 170.6003),
                (168.4627, 171.3343),
                (165.8935, 172.9200),
            ],
        ),
        (180.0, [(180.0, 180.0); 4]),
    ];
    for (truth, seen) in rows {
        for (away, (least, most)) in [10.0, 20.0, 30.0, 45.0].into_iter().zip(seen) {
            let [low, high] = turned_away::opening_seen(Degrees(truth), Degrees(away));
            near(low.0, least, 5e-5 + 1e-9);
            near(high.0, most, 5e-5 + 1e-9);
            let back = turned_away::opening_true(high, Degrees(away));
            near(back[0].0, truth, 1e-9);
        }
    }
    // Past half a turn the other side of the full turn obeys the same bounds.
    let [low, high] = turned_away::opening_seen(Degrees(190.0), Degrees(20.0));
    near(low.0, 360.0 - 170.6003, 5e-5);
    near(high.0, 360.0 - 169.3618, 5e-5);
}

/// Correction when the angle away is known: 93.56163 at 20, 98.21321 at 30 degrees are 90.
#[test]
fn a_known_angle_away_corrects_an_opening() {
    for (seen, away) in [(93.561_63, 20.0), (98.213_21, 30.0)] {
        near(turned_away::opening_true(Degrees(seen), Degrees(away))[0].0, 89.999_99, 1e-5);
    }
}

/// Table of elevations seen from off square about the vertical.
#[test]
fn an_elevation_looks_steeper_from_off_square() {
    let rows = [
        (5.0, [5.0767, 5.3191, 5.7686, 7.0532]),
        (10.0, [10.1511, 10.6276, 11.5084, 14.0019]),
        (15.0, [15.2207, 15.9153, 17.1921, 20.7536]),
        (20.0, [20.2836, 21.1728, 22.7959, 27.2363]),
        (30.0, [30.3813, 31.5667, 33.6901, 39.2315]),
        (45.0, [45.4385, 46.7808, 49.1066, 54.7356]),
        (60.0, [60.3783, 61.5188, 63.4349, 67.7923]),
        (85.0, [85.0756, 85.3001, 85.6671, 86.4600]),
        (90.0, [90.0; 4]),
        (120.0, [119.6217, 118.4812, 116.5651, 112.2077]),
        (150.0, [149.6187, 148.4333, 146.3099, 140.7685]),
        (170.0, [169.8489, 169.3724, 168.4916, 165.9981]),
    ];
    for (truth, seen) in rows {
        for (away, looks) in [10.0, 20.0, 30.0, 45.0].into_iter().zip(seen) {
            near(turned_away::elevation_seen(Degrees(truth), Degrees(away)).0, looks, 5e-5 + 1e-9);
            near(turned_away::elevation_true(Degrees(looks), Degrees(away)).0, truth, 2e-4);
        }
    }
    for (away, worst, at) in [
        (10.0, 0.438_561, 44.78),
        (20.0, 1.781_682, 44.11),
        (30.0, 4.117_194, 42.94),
        (45.0, 9.879_282, 40.06),
    ] {
        near(turned_away::elevation_seen(Degrees(at), Degrees(away)).0 - at, worst, 2e-6);
    }
}

/// Trade table: a split symmetric about the vertical looks smaller from off square.
#[test]
fn a_symmetric_split_looks_smaller_from_off_square() {
    let rows = [
        (170.0, [169.8, 169.6, 169.4, 168.5, 165.9, 160.2]),
        (160.0, [159.7, 159.3, 158.7, 157.0, 152.0, 141.1]),
        (150.0, [149.6, 149.0, 148.2, 145.6, 138.5, 123.6]),
        (135.0, [134.4, 133.6, 132.4, 128.9, 119.3, 100.7]),
        (120.0, [119.2, 118.3, 116.9, 112.6, 101.5, 81.8]),
        (90.0, [89.1, 88.0, 86.4, 81.8, 70.5, 53.1]),
    ];
    for (truth, seen) in rows {
        for (away, looks) in [10.0, 15.0, 20.0, 30.0, 45.0, 60.0].into_iter().zip(seen) {
            near(turned_away::opening_seen(Degrees(truth), Degrees(away))[0].0, looks, 0.05 + 1e-9);
        }
    }
}

/// Trade table: a deviation from vertical looks smaller from off square.
#[test]
fn a_lean_looks_smaller_from_off_square() {
    let rows = [
        (10.0, [9.9, 9.7, 9.4, 8.7, 7.1, 5.0]),
        (20.0, [19.7, 19.4, 18.9, 17.5, 14.4, 10.3]),
        (30.0, [29.6, 29.1, 28.5, 26.6, 22.2, 16.1]),
        (45.0, [44.6, 44.0, 43.2, 40.9, 35.3, 26.6]),
    ];
    for (lean, seen) in rows {
        for (away, looks) in [10.0, 15.0, 20.0, 30.0, 45.0, 60.0].into_iter().zip(seen) {
            let elevation = turned_away::elevation_seen(Degrees(90.0 - lean), Degrees(away)).0;
            near(90.0 - elevation, looks, 0.05 + 1e-9);
        }
    }
}

/// Worked by hand: what lies out along a straight line is bent by nothing, whichever way it turns
/// is only its size, and a right angle is 90.
#[test]
fn a_bend_counts_from_straight() {
    let bend = Quantity::Bend.shape(&["near end", "joint", "far end"]).unwrap();
    for (far, bent) in
        [([2.0, 0.0], 0.0), ([1.0, 1.0], 90.0), ([1.0, -1.0], -90.0), ([2.0, 1.0], 45.0)]
    {
        near(bend.value(&[[0.0, 0.0], [1.0, 0.0], far].map(OnPlane), 1.0), bent, 1e-12);
    }
    assert!(Quantity::Bend.is_size());
}

/// Worked by hand: from the shoulder at (-3, 4) to the hip at the origin the trunk runs along
/// (3, -4), five long. The thigh along the same is stretched; along (4, 3) it is 3*4 - 4*3 = 0, a
/// right angle; along (0, -5) its cosine is 20/25 and its sine 15/25, so its tangent 3/4.
#[test]
fn hips_bend_from_the_trunk_to_the_thigh() {
    let hips = Quantity::HipBend.shape(&["shoulder", "hip", "knee"]).unwrap();
    let tangent = 0.75_f64.atan().to_degrees();
    for (knee, bent) in [([3.0, -4.0], 0.0), ([4.0, 3.0], 90.0), ([0.0, -5.0], tangent)] {
        let found = hips.value(&[[-3.0, 4.0], [0.0, 0.0], knee].map(OnPlane), 1.0);
        near(found.abs(), bent, 1e-12);
    }
    assert!(Quantity::HipBend.is_size());
}

/// Common practice, no source: legs do not enter the trunk's line, whatever is clicked of them.
#[test]
fn the_legs_do_not_enter_the_trunk() {
    let names = ["hip", "shoulder", "knee", "toe"];
    let trunk = Quantity::Trunk.shape(&names).unwrap();
    let hip = OnPlane([0.0, 0.0]);
    let bent = [hip, at(hip, 80.0, 0.5), OnPlane([0.4, 0.0]), OnPlane([0.8, 0.0])];
    near(trunk.value(&bent, 1.0).abs(), 10.0, 1e-9);
    let whole = Quantity::OffVertical.shape(&names).unwrap();
    assert!(whole.value(&bent, 1.0).abs() > 45.0, "where the legs do enter");
}

/// Worked by hand, seen from above with y to the left of x: both hands across the run face it, the
/// left hand in front is a quarter to the right, hands the other way round are half a turn.
#[test]
fn a_twist_counts_from_the_direction_of_travel() {
    let names = ["left hand or foot", "right hand or foot"];
    let twist = Quantity::Twist.shape(&names).unwrap();
    for (left, right, towards, turned) in [
        ([0.0, 1.0], [0.0, -1.0], 1.0, 0.0),
        ([1.0, 0.0], [-1.0, 0.0], 1.0, -90.0),
        ([-1.0, 0.0], [1.0, 0.0], 1.0, 90.0),
        ([0.0, -1.0], [0.0, 1.0], 1.0, 180.0),
        ([0.0, 1.0], [0.0, -1.0], -1.0, 180.0),
    ] {
        near(twist.value(&[left, right].map(OnPlane), towards), turned, 1e-12);
    }
}
