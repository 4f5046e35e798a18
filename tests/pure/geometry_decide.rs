//! Conformance probability against JCGM 106:2012 and the normal distribution's table.

use stillcall::{
    geometry::{Limit, Side, Verdict, conformance, conformance_between, decide},
    units::Magnitude,
};

fn above(edge: f64) -> Limit {
    Limit { edge: Magnitude(edge), side: Side::Above }
}

fn p(y: f64, u: f64, limit: Limit) -> f64 {
    conformance(Magnitude(y), Magnitude(u), limit)
}

fn close_to(actual: f64, expected: f64) {
    assert!((actual - expected).abs() < 1e-9, "{actual} is not {expected}");
}

#[test]
fn examples_of_jcgm_106() {
    // JCGM 106:2012, 7.3.3 example 1 (published 0.92) and example 2 (0.99), 7.4 (0.66); clause
    // numbers from memory, digits computed with scipy.
    let upper = Limit { edge: Magnitude(-5.40), side: Side::AtMost };
    close_to(p(-5.47, 0.05, upper), 0.919_243_340_8);
    let lower = Limit { edge: Magnitude(490.0), side: Side::AtLeast };
    close_to(p(509.7, 8.6, lower), 0.989_009_547_4);
    let both =
        conformance_between(Magnitude(13.6), Magnitude(1.8), Magnitude(12.5), Magnitude(16.3));
    close_to(both, 0.662_629_786_5);
}

#[test]
fn angle_rules() {
    // Same formula, digits computed with scipy.
    for (y, u, edge, expected) in [
        (93.0, 2.0, 90.0, 0.933_192_798_7),
        (92.0, 2.0, 90.0, 0.841_344_746_1),
        (91.0, 2.0, 90.0, 0.691_462_461_3),
        (90.0, 2.0, 90.0, 0.5),
        (88.0, 2.0, 90.0, 0.158_655_253_9),
        (86.0, 2.0, 90.0, 0.022_750_131_9),
        (95.3, 1.7, 90.0, 0.999_088_495_1),
        (90.5, 0.25, 90.0, 0.977_249_868_1),
        (135.4, 1.1, 135.0, 0.641_935_215_6),
    ] {
        close_to(p(y, u, above(edge)), expected);
    }
}

#[test]
fn decides_where_the_95_percent_interval_ends() {
    // Quantile 0.975 of the normal distribution: 1.9599639845 (table).
    let verdict = |y: f64| decide(Magnitude(y), Magnitude(1.0), above(90.0));
    assert_eq!(verdict(91.9599), Verdict::Close);
    assert_eq!(verdict(91.9600), Verdict::Clear);
    assert_eq!(verdict(88.0401), Verdict::Close);
    assert_eq!(verdict(88.0400), Verdict::NotMet);
}

#[test]
fn an_exact_value_is_held_against_the_edge_itself() {
    // The meaning of "at or above" and "above"; no source needed.
    let exactly =
        |side| decide(Magnitude(0.0), Magnitude(0.0), Limit { edge: Magnitude(0.0), side });
    assert_eq!(exactly(Side::AtLeast), Verdict::Clear);
    assert_eq!(exactly(Side::Above), Verdict::NotMet);
    assert_eq!(exactly(Side::AtMost), Verdict::Clear);
    assert_eq!(exactly(Side::Below), Verdict::NotMet);
}
