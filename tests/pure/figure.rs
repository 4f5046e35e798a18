//! Drawings: the line that a rule asks for lies where it would be seen.

use stillcall::{
    figure::{self, Caption, Ink, Shape, Stroke},
    geometry::{
        Lies, MeasureInput, Quantity, Sight, Verdict,
        input::{ClickedFrame, Facts, Plane, PlanePoint, Spot, View},
    },
    units::{Degrees, Magnitude, OnPlane, Shown},
};

fn spot(name: &str, at: [f64; 2]) -> Spot {
    Spot { name: name.to_owned(), placed: vec![Shown(at)] }
}

fn picture(quantity: Quantity, spots: Vec<Spot>) -> MeasureInput {
    MeasureInput {
        quantity,
        looks: vec![ClickedFrame { spots, ..ClickedFrame::default() }],
        view: View::Picture { line: [Vec::new(), Vec::new()], off_square: Degrees(0.0) },
        facts: Facts::default(),
    }
}

/// Distance of a point from the line through two others.
fn off_line([a, b]: [Shown; 2], point: Shown) -> f64 {
    let [along, off] = [b - a, point - a];
    let cross = along[0] * off[1] - along[1] * off[0];
    cross.abs() / along[0].hypot(along[1])
}

/// A camera whose truth is known: f = 1500 px, centre of projection (960, 540), yaw 25 degrees,
/// pitched down 20, at (-1.5, -5.5, 2.5) m above the floor. Corners of a mat of 2 by 1 m, a foot
/// of heading 20 degrees and one of 170, projected with a linear algebra library outside this
/// project (the arithmetic of a pinhole camera; checked to 1e-9 there).
fn turn_on_the_floor() -> MeasureInput {
    let corner =
        |place, at| PlanePoint { place: OnPlane(place), along: None, placed: vec![Shown(at)] };
    MeasureInput {
        quantity: Quantity::Turn,
        looks: vec![
            ClickedFrame {
                spots: vec![
                    spot("heel", [901.804_716_082, 567.598_994_123]),
                    spot("toe", [940.383_618_988, 554.224_798_660]),
                ],
                ..ClickedFrame::default()
            },
            ClickedFrame {
                seconds: 0.8,
                spots: vec![
                    spot("heel", [904.633_525_123, 567.973_915_319]),
                    spot("toe", [851.591_515_913, 573.036_913_104]),
                ],
                ..ClickedFrame::default()
            },
        ],
        view: View::Plane(Plane {
            lies: Lies::Flat,
            size_u: 0.0,
            points: vec![
                corner([0.0, 0.0], [724.066_973_831, 644.538_475_010]),
                corner([2.0, 0.0], [1_143.503_957_209, 569.974_144_828]),
                corner([2.0, 1.0], [1_041.944_373_434, 506.935_049_865]),
                corner([0.0, 1.0], [662.090_837_258, 565.243_353_346]),
            ],
        }),
        facts: Facts { about: Degrees(150.0), ..Facts::default() },
    }
}

#[test]
fn an_asked_turn_is_drawn_as_it_would_look_on_the_floor() {
    let input = turn_on_the_floor();
    let sight = Sight::of(&input).unwrap();
    // The true turn is 150 degrees, so the line for 150 runs through the toe after it, though in
    // the raw picture the feet differ by 166.3 degrees.
    let asked = sight.asked(1, Magnitude(150.0));
    let toe = input.looks[1].spots[1].placed[0];
    assert!(off_line(asked[0], toe) < 1e-3, "{}", off_line(asked[0], toe));
    // And the arc ends on it.
    let end = *sight.arc(1).last().unwrap();
    assert!(off_line(asked[0], end) < 1e-3);
    // A quarter less is another line.
    assert!(off_line(sight.asked(1, Magnitude(105.0))[0], toe) > 5.0);
}

#[test]
fn the_line_for_the_measured_value_is_the_line_that_counts() {
    // Elevations from the definition of the tangent: 3-4-5 triangles.
    let cast = picture(
        Quantity::BodyLine,
        vec![
            spot("shoulder", [500.0, 400.0]),
            spot("hip", [300.0, 400.0]),
            spot("toe", [100.0, 100.0]),
        ],
    );
    let sight = Sight::of(&cast).unwrap();
    assert_eq!(sight.part_that_counts(), Some("hip"));
    let counts: Vec<bool> = sight.compared(0).iter().map(|line| line.counts).collect();
    assert_eq!(counts.iter().filter(|counts| **counts).count(), 1);
    // Asked for atan(3/4) above level, on the side on which the body is: 4 across, 3 up.
    let line = sight.asked(0, Magnitude((0.75_f64).atan().to_degrees()))[0];
    assert!(off_line(line, Shown([500.0 - 400.0, 400.0 - 300.0])) < 1e-6 && line[1].0[0] < 500.0);
}

#[test]
fn asked_angles_of_kick_split_and_vertical_lie_on_their_side() {
    let kick =
        picture(Quantity::Kick, vec![spot("hip", [500.0, 300.0]), spot("ankle", [400.0, 400.0])]);
    let level = Sight::of(&kick).unwrap().asked(0, Magnitude(90.0))[0];
    assert!((level[1].0[1] - 300.0).abs() < 1e-6 && level[1].0[0] < 500.0, "{level:?}");
    let split = picture(
        Quantity::Split,
        vec![
            spot("left hip", [500.0, 300.0]),
            spot("left ankle", [400.0, 350.0]),
            spot("right hip", [500.0, 300.0]),
            spot("right ankle", [600.0, 350.0]),
        ],
    );
    let legs = Sight::of(&split).unwrap().asked(0, Magnitude(180.0));
    assert_eq!(legs.len(), 2);
    assert!(legs.iter().all(|leg| (leg[1].0[1] - 300.0).abs() < 1e-6), "{legs:?}");
    let handstand = picture(
        Quantity::OffVertical,
        vec![spot("shoulder", [500.0, 400.0]), spot("hip", [520.0, 200.0])],
    );
    let line = Sight::of(&handstand).unwrap().asked(0, Magnitude(0.0))[0];
    assert!((line[1].0[0] - 500.0).abs() < 1e-6 && line[1].0[1] < 400.0);
}

#[test]
fn a_decision_is_told_by_word_and_stroke_and_not_by_colour_alone() {
    let kick =
        picture(Quantity::Kick, vec![spot("hip", [500.0, 300.0]), spot("ankle", [400.0, 400.0])]);
    let said = Caption {
        value: "45° ± 1°".to_owned(),
        verdict: Some(Verdict::NotMet),
        asked: Some(Magnitude(60.0)),
    };
    let shapes = figure::reading(&kick, 0, &said);
    let words: Vec<&str> = shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Label { text, .. } => Some(text.as_str()),
            _ => None,
        })
        .collect();
    assert_eq!(words, ["asked 60°", "45° ± 1° ✗ not met"]);
    let stroke = |wanted: Stroke, of: Ink| {
        shapes.iter().any(
            |shape| matches!(shape, Shape::Path { stroke, ink, .. } if *stroke == wanted && *ink == of),
        )
    };
    assert!(stroke(Stroke::Dashed, Ink::Asked) && stroke(Stroke::Thick, Ink::Missed));
}
