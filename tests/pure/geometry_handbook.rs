//! Worked examples of the handbooks that go through several formulas at once.

use stillcall::{
    geometry::{
        Limit, Side, conformance, conformance_between, moment,
        propagate::{Input, first_order},
    },
    units::Magnitude,
};

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// An input of its own, one standard uncertainty wide: what correlated inputs are made from.
fn unit() -> Input<()> {
    Input { value: 0.0, u: 1.0, freedom: f64::INFINITY, cause: () }
}

/// JCGM 100:2008 example H.2 (table from memory; published R 127.732 ± 0.071, X 219.847 ± 0.295,
/// Z 254.260 ± 0.236; further digits computed with a library for correlated uncertainties). The
/// correlated inputs are made from independent ones by Cholesky's triangle.
#[test]
fn correlated_inputs_made_from_independent_ones_give_h2() {
    let (v, i, phi) = (4.999, 0.019_661, 1.044_46);
    let (uv, ui, uphi) = (3.209_361_31e-3, 9.471_008_39e-6, 7.520_638_27e-4);
    let (vi, vphi, iphi) = (-0.355_311_22, 0.857_624_21, -0.645_111_22);
    let l22 = (1.0_f64 - vi * vi).sqrt();
    let l32 = (iphi - vi * vphi) / l22;
    let l33 = (1.0 - vphi * vphi - l32 * l32).sqrt();
    let all = |z: &[f64]| {
        [
            v + uv * z[0],
            i + ui * (vi * z[0] + l22 * z[1]),
            phi + uphi * (vphi * z[0] + l32 * z[1] + l33 * z[2]),
        ]
    };
    let inputs = [unit(), unit(), unit()];
    let r = first_order(&inputs, |z| Some(all(z)[0] / all(z)[1] * all(z)[2].cos())).unwrap();
    near(r.value, 127.732_169_9, 1e-6);
    near(r.u(), 0.071_071_407_4, 1e-7);
    let x = first_order(&inputs, |z| Some(all(z)[0] / all(z)[1] * all(z)[2].sin())).unwrap();
    near(x.value, 219.846_511_9, 1e-6);
    near(x.u(), 0.295_581_677_4, 1e-6);
    let z = first_order(&inputs, |z| Some(all(z)[0] / all(z)[1])).unwrap();
    near(z.value, 254.259_701_9, 1e-6);
    near(z.u(), 0.236_336_130_1, 1e-6);
}

/// JCGM 100:2008 example H.3 (table from memory, results as published): at 30 degrees the
/// correction is -0.1494 ± 0.0041; leaving out the covariance of the two coefficients would give
/// another one.
#[test]
fn a_straight_line_read_beyond_its_points_gives_h3() {
    let (y1, u1, y2, u2, r) =
        (-0.171_203_79, 0.002_877_6, 0.002_182_7, 0.000_667_94, -0.930_429_603_f64);
    let fell = |z: &[f64]| {
        let slope = y2 + u2 * (r * z[0] + (1.0 - r * r).sqrt() * z[1]);
        Some(y1 + u1 * z[0] + 10.0 * slope)
    };
    let read = first_order(&[unit(), unit()], fell).unwrap();
    near(read.value, -0.149_376_812_7, 1e-6);
    near(read.u(), 0.004_138_595_75, 1e-6);
}

/// JCGM 106:2012, guarded acceptance: at the acceptance limit, r times 2 u inside the tolerance,
/// the risk of a false acceptance is the normal tail beyond 2 r (table of the normal distribution).
#[test]
fn a_guard_band_leaves_the_tail_of_the_normal_distribution() {
    let limit = Limit { edge: Magnitude(90.0), side: Side::AtLeast };
    for (r, risk) in [
        (0.0, 0.5),
        (0.5, 0.158_655_253_9),
        (0.83, 0.048_457_226_3),
        (1.0, 0.022_750_131_9),
        (1.5, 0.001_349_898_0),
    ] {
        let u = 1.7;
        let accepted = Magnitude(90.0 + r * 2.0 * u);
        near(1.0 - conformance(accepted, Magnitude(u), limit), risk, 1e-9);
    }
}

/// Integrates a chance over what is drawn from a normal distribution between two ends: the ends
/// are where a thing stops to conform, so that nothing jumps within them.
fn integral([mean, sd]: [f64; 2], [from, to]: [f64; 2], chance: impl Fn(f64) -> f64) -> f64 {
    let steps = 20_000;
    let (from, to) = (from.max(mean - 9.0 * sd), to.min(mean + 9.0 * sd));
    let h = (to - from) / f64::from(steps);
    (0..steps)
        .map(|step| {
            let eta = from + h * (f64::from(step) + 0.5);
            let z = (eta - mean) / sd;
            let density = (-z * z / 2.0).exp() / (sd * std::f64::consts::TAU.sqrt());
            density * chance(eta) * h
        })
        .sum()
}

/// JCGM 106:2012, clause 9.5, precision resistors (clause number from memory; digits computed with
/// scipy and found in a published worked script): about 1 % and 7 %.
#[test]
fn consumers_and_producers_risk_follow_from_conformance() {
    let prior = [1500.0, 0.12];
    let accepted = |eta: f64, reach: f64| {
        let ends = [1500.0 - reach, 1500.0 + reach].map(Magnitude);
        conformance_between(Magnitude(eta), Magnitude(0.04), ends[0], ends[1])
    };
    let consumer = |reach: f64| {
        let outside = [[f64::NEG_INFINITY, 1499.8], [1500.2, f64::INFINITY]];
        outside.map(|ends| integral(prior, ends, |eta| accepted(eta, reach))).iter().sum::<f64>()
    };
    let producer = |reach: f64| integral(prior, [1499.8, 1500.2], |eta| 1.0 - accepted(eta, reach));
    near(consumer(0.18), 0.009_878_291_52, 1e-8);
    near(producer(0.18), 0.069_026_510_46, 1e-8);
    near(consumer(0.2), 0.018_942_206_7, 1e-8);
    near(producer(0.2), 0.037_207_800_2, 1e-8);
}

/// The same for an angle that must exceed 90 degrees, of a population of 85 ± 8, read to 2
/// (computed with scipy).
#[test]
fn the_risks_of_an_angle_rule() {
    let prior = [85.0, 8.0];
    let accepted = |eta: f64, at: f64| {
        conformance(
            Magnitude(eta),
            Magnitude(2.0),
            Limit { edge: Magnitude(at), side: Side::Above },
        )
    };
    for (at, consumer, producer) in [
        (90.0, 0.035_400_360_5, 0.029_241_077_4),
        (92.0, 0.007_259_661_22, 0.075_269_677_7),
        (93.289_707_25, 0.001_804_222_91, 0.110_407_446_5),
    ] {
        let wrong = integral(prior, [f64::NEG_INFINITY, 90.0], |eta| accepted(eta, at));
        let lost = integral(prior, [90.0, f64::INFINITY], |eta| 1.0 - accepted(eta, at));
        near(wrong, consumer, 1e-8);
        near(lost, producer, 1e-8);
    }
}

/// A swing of 90 degrees at 1 Hz, 60 at 1.5 Hz and 30 at 2 Hz: how far the highest of its frames
/// and the parabola through three lie off the peak, at worst (closed form of the cosine, and
/// worked out over all phases with numpy).
#[test]
fn a_parabola_finds_the_peak_that_lies_between_frames() {
    for (reach, hertz, fps, nearest, parabola) in [
        (90.0, 1.0, 24.0, 0.769_962_476_4, 0.009_852_527),
        (90.0, 1.0, 30.0, 0.493_029_416_9, 0.004_043_902),
        (90.0, 1.0, 60.0, 0.123_341_872_1, 0.000_253_438),
        (90.0, 1.0, 120.0, 0.030_840_752_2, 0.000_015_850_7),
        (90.0, 1.0, 240.0, 0.007_710_518_3, 0.000_000_99),
        (60.0, 1.5, 60.0, 0.184_959_976_0, 0.000_854_376),
        (60.0, 1.5, 120.0, 0.046_257_825_6, 0.000_053_480_9),
        (30.0, 2.0, 24.0, 1.022_225_211_3, 0.051_653_792),
        (60.0, 1.5, 24.0, 1.152_883_175_8, 0.033_015_665),
        (60.0, 1.5, 30.0, 0.738_699_564_3, 0.013_585_941),
        (30.0, 2.0, 30.0, 0.655_571_978_0, 0.021_332_204),
        (30.0, 2.0, 60.0, 0.164_343_139_0, 0.001_347_967),
    ] {
        let at = |t: f64| reach * (std::f64::consts::TAU * hertz * t).cos();
        let (mut off_nearest, mut off_parabola) = (0.0_f64, 0.0_f64);
        for step in -500..=500 {
            let middle = f64::from(step) / 1000.0 / fps;
            let times = [middle - 1.0 / fps, middle, middle + 1.0 / fps];
            off_nearest = off_nearest.max(reach - at(middle));
            let peak = moment::peak(times, times.map(at));
            // At the very edge of half a frame two frames are equally high.
            let value = peak.map_or(at(middle), |peak| peak.value);
            off_parabola = off_parabola.max((reach - value).abs());
        }
        near(off_nearest, nearest, 1e-8);
        near(off_parabola, parabola, parabola * 0.01 + 1e-8);
    }
}
