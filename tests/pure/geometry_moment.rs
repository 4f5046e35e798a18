//! What time does to an angle.
//!
//! Expected values come from the project's sheet of worked examples, computed there with numpy
//! 2.4.6 and scipy 1.17.1, unless said otherwise.

use stillcall::{
    geometry::moment::{self, Peak},
    units::Degrees,
};

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

#[test]
fn degrees_per_frame_are_speed_over_frame_rate() {
    let ntsc = [30_000.0 / 1001.0, 60_000.0 / 1001.0];
    let rates = [24.0, 25.0, ntsc[0], 30.0, 50.0, ntsc[1], 60.0, 120.0, 240.0];
    let rows = [
        (100.0, [4.1667, 4.0, 3.3367, 3.3333, 2.0, 1.6683, 1.6667, 0.8333, 0.4167]),
        (300.0, [12.5, 12.0, 10.01, 10.0, 6.0, 5.005, 5.0, 2.5, 1.25]),
        (500.0, [20.8333, 20.0, 16.6833, 16.6667, 10.0, 8.3417, 8.3333, 4.1667, 2.0833]),
        (720.0, [30.0, 28.8, 24.024, 24.0, 14.4, 12.012, 12.0, 6.0, 3.0]),
        (900.0, [37.5, 36.0, 30.03, 30.0, 18.0, 15.015, 15.0, 7.5, 3.75]),
    ];
    for (speed, per_frame) in rows {
        for (rate, degrees) in rates.into_iter().zip(per_frame) {
            near(moment::turned(Degrees(speed), 1.0 / rate).0, degrees, 5e-5 + 1e-9);
        }
    }
}

/// Trade figures: degrees of rotation between two frames.
#[test]
fn the_error_budget_of_time_is_the_printed_one() {
    let rates = [24.0, 25.0, 30_000.0 / 1001.0, 50.0, 60_000.0 / 1001.0, 120.0, 240.0];
    let rows = [
        (180.0, [7.5, 7.2, 6.0, 3.6, 3.0, 1.5, 0.75]),
        (360.0, [15.0, 14.4, 12.0, 7.2, 6.0, 3.0, 1.5]),
        (540.0, [22.5, 21.6, 18.0, 10.8, 9.0, 4.5, 2.25]),
        (720.0, [30.0, 28.8, 24.0, 14.4, 12.0, 6.0, 3.0]),
    ];
    for (speed, per_frame) in rows {
        for (rate, degrees) in rates.into_iter().zip(per_frame) {
            near(moment::turned(Degrees(speed), 1.0 / rate).0, degrees, 0.05);
        }
    }
}

/// JCGM 100 clause 4.3.7: rectangular of half-width a is a over root 3.
#[test]
fn an_instant_between_frames_is_rectangular() {
    for (rate, u) in
        [(24.0, 6.0141), (30.0, 4.8113), (60.0, 2.4056), (120.0, 1.2028), (240.0, 0.6014)]
    {
        near(moment::instant(Degrees(500.0), 1.0 / rate).0, u, 5e-5 + 1e-9);
    }
    near(moment::instant(Degrees(500.0), 1.0 / 60.0).0, 2.405_626_122, 1e-9);
}

#[test]
fn a_smeared_limb_is_rectangular_over_its_arc() {
    for (speed, exposure, arc, u) in [
        (300.0, 60.0, 5.0, 1.443_376),
        (300.0, 250.0, 1.2, 0.346_410),
        (500.0, 48.0, 10.4167, 3.007_033),
        (500.0, 60.0, 8.3333, 2.405_626),
        (500.0, 120.0, 4.1667, 1.202_813),
        (500.0, 500.0, 1.0, 0.288_675),
        (500.0, 1000.0, 0.5, 0.144_338),
        (720.0, 120.0, 6.0, 1.732_051),
    ] {
        near(moment::turned(Degrees(speed), 1.0 / exposure).0, arc, 5e-5 + 1e-9);
        near(moment::blur(Degrees(speed), 1.0 / exposure).0, u, 5e-7 + 1e-9);
    }
}

const FRAMES: [f64; 3] = [-1.0, 0.0, 1.0];

#[test]
fn a_parabola_finds_the_peak_between_frames() {
    for (values, offset, value) in [
        ([170.0, 176.0, 174.0], 0.25, 176.25),
        ([0.0, 1.0, 0.0], 0.0, 1.0),
        ([160.0, 178.5, 175.1], 0.344_748_858_4, 179.801_426_9),
    ] {
        let peak = moment::peak(FRAMES, values).unwrap();
        near(peak.seconds, offset, 1e-9);
        near(peak.value, value, 1e-7);
    }
}

/// The same parabola, sampled at frames of a variable rate: plain algebra.
#[test]
fn frames_need_not_be_equally_far_apart() {
    let angle = |t: f64| 90.0 - 40.0 * (t - 0.013).powi(2);
    let seconds = [-0.04, 0.0, 0.033];
    let peak = moment::peak(seconds, seconds.map(angle)).unwrap();
    near(peak.seconds, 0.013, 1e-9);
    near(peak.value, 90.0, 1e-9);
}

#[test]
fn what_does_not_rise_and_fall_has_no_peak() {
    assert_eq!(moment::peak(FRAMES, [1.0, 0.0, 1.0]), None);
    assert_eq!(moment::peak(FRAMES, [1.0, 1.0, 1.0]), None);
    assert_eq!(moment::peak(FRAMES, [0.0, 1.0, 2.0]), None);
    assert_eq!(moment::peak([0.0, 0.0, 1.0], [0.0, 1.0, 0.0]), None);
    assert_eq!(moment::peak(FRAMES, [f64::NAN, 1.0, 0.0]), None);
}

/// Worst error of the parabola on A cos(2 pi f t), over all offsets within half a frame.
#[test]
fn the_parabola_is_as_good_as_computed() {
    for (amplitude, hertz, rate, nearest, parabola) in [
        (90.0, 1.0, 24.0, 0.769_962_476_4, 0.009_852_527),
        (90.0, 1.0, 30.0, 0.493_029_416_9, 0.004_043_902),
        (90.0, 1.0, 60.0, 0.123_341_872_1, 0.000_253_438),
        (60.0, 1.5, 24.0, 1.152_883_175_8, 0.033_015_665),
        (60.0, 1.5, 30.0, 0.738_699_564_3, 0.013_585_941),
        (60.0, 1.5, 60.0, 0.184_959_976_0, 0.000_854_376),
        (30.0, 2.0, 24.0, 1.022_225_211_3, 0.051_653_792),
        (30.0, 2.0, 30.0, 0.655_571_978_0, 0.021_332_204),
        (30.0, 2.0, 60.0, 0.164_343_139_0, 0.001_347_967),
    ] {
        let angle = |t: f64| amplitude * (2.0 * std::f64::consts::PI * hertz * t).cos();
        near(amplitude - angle(0.5 / rate), nearest, 1e-9);
        let worst = (0..=500)
            .map(|step| f64::from(step) / 1000.0 / rate)
            .map(|offset| {
                let seconds = FRAMES.map(|frame| offset + frame / rate);
                (moment::peak(seconds, seconds.map(angle)).unwrap().value - amplitude).abs()
            })
            .fold(0.0, f64::max);
        near(worst, parabola, parabola * 1e-3);
    }
}

/// Lagrange weights: noise s of the frames becomes 1.0, 0.9550, 0.8478 s at offsets 0, 1/4, 1/2.
#[test]
fn noise_of_the_peak_follows_the_weights() {
    for (offset, factor) in [(0.0, 1.0), (0.25, 0.955_044_174_4), (0.5, 0.847_791_247_9)] {
        let values = FRAMES.map(|frame| 100.0 - 50.0 * (frame - offset).powi(2));
        let value =
            |values| moment::peak(FRAMES, values).map_or(f64::NAN, |Peak { value, .. }| value);
        let squares: f64 = (0..3)
            .map(|k| {
                let [mut up, mut down] = [values, values];
                up[k] += 1e-4;
                down[k] -= 1e-4;
                ((value(up) - value(down)) / 2e-4).powi(2)
            })
            .sum();
        near(squares.sqrt(), factor, 1e-6);
    }
}
