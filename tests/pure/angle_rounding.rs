//! A rounded angle meets what is asked exactly where its limit on the unrounded angle says so. The
//! rounded value is worked out here in whole tenths of a degree.

use stillcall::{
    geometry::{Limit, Side},
    rulebook::Angle,
    units::Magnitude,
};

use crate::books::ask::like_base;

/// An angle rule of the beam with these keys.
fn rule(keys: &str) -> Angle {
    let rule = "[[angle]]\nid = \"line\"\nlabel = \"Line\"\nevents = \"beam\"\n\
                elements = \"handstand\"\nquantity = \"off-vertical\"\n";
    like_base(&format!("{rule}{keys}\n")).angles[0].clone()
}

fn holds(limit: Limit, tenths: i64) -> bool {
    limit.holds(Magnitude(tenths as f64 / 10.0))
}

/// The nearest multiple of 5 degrees, halves up.
fn to_five_degrees(tenths: i64) -> i64 {
    (tenths + 25).div_euclid(50) * 50
}

#[test]
fn halves_are_rounded_up() {
    let five = rule("target = 20\nside = \"at-most\"\nround_to = 5");
    let half = rule("target = 20\nside = \"at-most\"\nround_to = 0.5");
    for (rule, value, rounded) in [
        (&five, 22.4, 20.0),
        (&five, 22.5, 25.0),
        (&five, 17.5, 20.0),
        (&five, -2.5, 0.0),
        (&five, -2.6, -5.0),
        (&half, 20.2, 20.0),
        (&half, 20.25, 20.5),
    ] {
        assert_eq!(rule.rounded(Magnitude(value)), Magnitude(rounded), "{value}");
    }
    let exact = rule("target = 20\nside = \"at-most\"");
    assert_eq!(exact.rounded(Magnitude(22.4)), Magnitude(22.4));
}

#[test]
fn the_target_is_met_where_the_rounded_angle_meets_it() {
    for (name, side) in [
        ("at-least", Side::AtLeast),
        ("above", Side::Above),
        ("at-most", Side::AtMost),
        ("below", Side::Below),
    ] {
        for target in [180_i64, 200, 225] {
            let keys =
                format!("target = {}\nside = \"{name}\"\nround_to = 5", target as f64 / 10.0);
            let limit = rule(&keys).limit();
            for tenths in 0..450 {
                let rounded = to_five_degrees(tenths);
                let met = match side {
                    Side::AtLeast => rounded >= target,
                    Side::Above => rounded > target,
                    Side::AtMost => rounded <= target,
                    Side::Below => rounded < target,
                };
                assert_eq!(holds(limit, tenths), met, "{name} {target}: {tenths}");
            }
        }
    }
}

#[test]
fn credit_is_kept_up_to_the_last_degree_of_its_tolerance() {
    for (name, upward) in
        [("at-least", true), ("above", true), ("at-most", false), ("below", false)]
    {
        let keys = format!(
            "target = 20\nside = \"{name}\"\nround_to = 5\ngates = [\"value-part\"]\n\
             gate_within = 10"
        );
        let gate = rule(&keys).gate();
        for tenths in 0..450 {
            let rounded = to_five_degrees(tenths);
            let kept = if upward { rounded >= 100 } else { rounded <= 300 };
            assert_eq!(holds(gate, tenths), kept, "{name}: {tenths}");
        }
    }
}
