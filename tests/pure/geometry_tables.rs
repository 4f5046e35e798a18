//! More rows of the handbooks' tables, each through the formula that the program measures with.

use stillcall::{
    geometry::{
        HALF_WIDTH, Limit, Side, angle, conformance,
        homography::{Pair, fit},
        moment,
        placing::three_points,
        propagate::{Input, first_order},
        rng::Rng,
        turned_away::opening_seen,
    },
    units::{Degrees, Magnitude, OnPlane, Shown},
};

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

fn above_90(y: f64, u: f64) -> f64 {
    conformance(Magnitude(y), Magnitude(u), Limit { edge: Magnitude(90.0), side: Side::Above })
}

/// Table of the normal distribution, and its quantiles (computed with scipy).
#[test]
fn the_normal_distribution_is_the_tabled_one() {
    for (z, p) in [
        (0.0, 0.5),
        (0.5, 0.691_462_461_3),
        (1.0, 0.841_344_746_1),
        (1.96, 0.975_002_104_9),
        (2.0, 0.977_249_868_1),
        (3.0, 0.998_650_102_0),
        (4.0, 0.999_968_328_8),
        (-1.0, 0.158_655_253_9),
        (-2.0, 0.022_750_131_9),
        (-3.0, 0.001_349_898_0),
        (0.841_621_233_6, 0.80),
        (1.281_551_565_5, 0.90),
        (1.644_853_627_0, 0.95),
        (1.959_963_984_5, 0.975),
        (2.326_347_874_0, 0.99),
        (3.090_232_306_2, 0.999),
    ] {
        near(above_90(90.0 + 1.7 * z, 1.7), p, 1e-9);
    }
    near(HALF_WIDTH, 1.959_963_984_5, 1e-9);
}

/// Rows of an angle rule "more than 90", read to 1 degree (computed with scipy).
#[test]
fn readings_next_to_a_limit() {
    for (y, p) in [
        (91.6, 0.945_200_708_3),
        (91.7, 0.955_434_537_2),
        (88.4, 0.054_799_291_7),
        (88.3, 0.044_565_462_8),
    ] {
        near(above_90(y, 1.0), p, 1e-9);
    }
}

/// JCGM 100:2008, clauses 4.3.7 and 4.3.8 (numbers from memory, arithmetic computed): what is known
/// by its bounds only is rectangular; the digital voltmeter with its repeated readings.
#[test]
fn what_is_bounded_is_rectangular() {
    let rectangular = |half: f64| moment::instant(Degrees(1.0), 2.0 * half).0;
    near(rectangular(1.0), 0.577_350_269_2, 1e-9);
    near(rectangular(0.5), 0.288_675_134_6, 1e-9);
    near(rectangular(0.40e-6), 0.230_940_1e-6, 1e-13);
    near(rectangular((16.92 - 16.40) / 2.0), 0.150_111_07, 1e-9);
    let half = 14e-6 * 0.928_571 + 2e-6;
    near(half, 1.499_999_40e-5, 1e-13);
    near(rectangular(half), 8.660_250_57e-6, 1e-14);
    let input = |u: f64| Input { value: 0.0, u, freedom: f64::INFINITY, cause: () };
    let both = first_order(&[input(12e-6), input(rectangular(half))], |x| Some(x[0] + x[1]));
    near(both.unwrap().u(), 1.479_864_656e-5, 1e-12);
}

/// Folding at half a turn: an opening that never passes 180 is read too small by u root 2 over pi,
/// here 0.8958 (closed form, and four million drawings with numpy).
#[test]
fn a_straight_limb_is_folded_by_its_own_uncertainty() {
    let u = three_points([250.0, 250.0], Degrees(180.0), 2.0);
    near(u.0, 1.122_763_394, 1e-8);
    let mut rng = Rng::new(3);
    let draws = 200_000;
    let mut click = |x: f64| Shown([x + 2.0 * rng.normal(), 2.0 * rng.normal()]);
    let sum: f64 = (0..draws)
        .map(|_| {
            let [at, a, b] = [click(0.0), click(-250.0), click(250.0)];
            angle::between(a - at, b - at).abs()
        })
        .sum();
    near(sum / f64::from(draws), 179.104_158_3, 0.006);
}

/// How far off a true angle is known when the angle that the camera is off by is known to 5 degrees
/// (first order, computed with numpy).
#[test]
fn a_corrected_opening_is_as_sure_as_the_correction() {
    for (seen, away, u) in [(93.561_63, 20.0, 1.819_85), (98.213_21, 30.0, 2.886_75)] {
        let inputs = [Input { value: away, u: 5.0, freedom: f64::INFINITY, cause: () }];
        let truth = |x: &[f64]| Some(opening_seen(Degrees(seen), Degrees(x[0]))[0].0);
        let found = first_order(&inputs, truth).unwrap();
        near(found.value, 89.999_99, 2e-5);
        near(found.u(), u, 1e-4);
    }
}

/// Smallest reading that is clear at 95 % by the budget example: 95.446; its expanded uncertainty.
#[test]
fn the_budget_example_says_from_where_on_it_is_clear() {
    let u = 3.311_153_815;
    near(above_90(95.446_363_36, u), 0.95, 1e-8);
    near(2.0 * u, 6.622_307_63, 1e-8);
    // Half-widths of its rectangular parts: camera 3.561602 degrees, half a frame at 60 per second.
    near(moment::instant(Degrees(1.0), 2.0 * 3.561_602).0, 2.056_291_873, 1e-6);
    near(moment::turned(Degrees(500.0), 0.5 / 60.0).0, 4.166_666_7, 1e-7);
}

/// The floor of the synthetic camera, from the picture back to metres (computed with numpy).
#[test]
fn the_way_back_to_the_floor_is_the_computed_matrix() {
    let picture = [
        [724.066_973_831, 644.538_475_010],
        [1_143.503_957_209, 569.974_144_828],
        [1_041.944_373_434, 506.935_049_865],
        [662.090_837_258, 565.243_353_346],
    ];
    let floor = [[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]];
    let pairs: Vec<Pair> = floor
        .into_iter()
        .zip(picture)
        .map(|(from, to)| Pair { from: OnPlane(from), to: Shown(to), along: None })
        .collect();
    let back = fit(&pairs).unwrap().homography.back_matrix();
    let expected = [
        [0.404_876_445_284, -0.316_446_678_453, -89.195_602_960_331],
        [-0.188_796_987_042, -1.062_015_021_423, 821.211_205_421_806],
        [0.0, 0.167_916_203_923, 1.0],
    ];
    for (i, row) in expected.into_iter().enumerate() {
        for (j, number) in row.into_iter().enumerate() {
            near(back[(i, j)] / back[(2, 2)], number, 1e-6 * number.abs().max(1.0));
        }
    }
}

/// The deficit of the frame nearest to a leap's peak, at worst an eighth and on average a
/// twenty-fourth of the bend times the square of a frame (bend from a published share of the time
/// near the peak, figures computed); the parabola has none on a parabola.
#[test]
fn the_nearest_frame_of_a_leap_is_low_by_the_computed_deficit() {
    for (bend, fps, most, mean) in [
        (16_124.968_5, 24.0, 3.499_3, 1.166_4),
        (16_124.968_5, 30.0, 2.239_6, 0.746_5),
        (16_124.968_5, 60.0, 0.559_9, 0.186_6),
        (16_124.968_5, 120.0, 0.140_0, 0.046_7),
        (16_124.968_5, 240.0, 0.035_0, 0.011_7),
        (20_408.163, 30.0, 2.834_5, 0.944_8),
        (13_061.224, 30.0, 1.814_1, 0.604_7),
    ] {
        let at = |t: f64| 180.0 - bend * t * t / 2.0;
        let steps = 2000;
        let off = |step: i32| (f64::from(step) + 0.5) / f64::from(steps) - 0.5;
        let deficits: Vec<f64> = (0..steps).map(|step| 180.0 - at(off(step) / fps)).collect();
        near(deficits.iter().fold(0.0, |a: f64, b| a.max(*b)), most, 0.003 * most + 5e-5);
        near(deficits.iter().sum::<f64>() / f64::from(steps), mean, 6e-5);
        let times = [-1.3, -0.3, 0.7].map(|frames| frames / fps);
        near(moment::peak(times, times.map(at)).unwrap().value, 180.0, 1e-9);
    }
}
