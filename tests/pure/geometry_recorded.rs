//! A person's own movement, recorded by other people with markers, seen by a camera of ours and
//! measured: a truth that is not our invention. `fixtures/recorded.py` names the source.

use serde_json::Value;
use stillcall::{
    geometry::{
        Lies, Limit, MeasureInput, Quantity, Side,
        input::{ClickedFrame, Facts, Plane, PlanePoint, Spot, Travel, View},
        rng::Rng,
    },
    units::{Magnitude, OnPlane},
};

use crate::{
    geometry_accuracy::Tally,
    scene::{CLICK, Camera, Place, Scene, beside_within},
};

/// Joints of the side that the camera sees, x along the jump, z up, the body about the origin.
struct Frame(Value);

impl Frame {
    fn all() -> Vec<Self> {
        let recorded: Value = serde_json::from_str(include_str!("fixtures/recorded.json")).unwrap();
        recorded["frames"].as_array().unwrap().iter().cloned().map(Self).collect()
    }

    /// Of the right side, or in the middle of the body.
    fn at(&self, joint: &str) -> Place {
        let of = |name: &str| [0, 1, 2].map(|k| self.0[name][k].as_f64().unwrap());
        let [x, y, z] = match joint.strip_prefix("middle ") {
            None => of(joint),
            Some(pair) => {
                let [l, r] = ["left", "right"].map(|side| of(&format!("{side} {pair}")));
                [0, 1, 2].map(|k| f64::midpoint(l[k], r[k]))
            }
        };
        [x + 0.65, y - MIDDLE, z]
    }
}

/// How far to the left of the recording's origin the body is, in metres.
const MIDDLE: f64 = 0.49;

/// Joints by the names of the points to click.
fn joints(quantity: Quantity) -> &'static [(&'static str, &'static str)] {
    match quantity {
        Quantity::Bend => {
            &[("near end", "right hip"), ("joint", "right knee"), ("far end", "right ankle")]
        }
        _ => &[("shoulder", "middle shoulder"), ("hip", "middle hip")],
    }
}

/// The angle in the plane of the movement, worked out here from the recorded joints.
fn truth(quantity: Quantity, frame: &Frame) -> f64 {
    let direction = |from: &str, to: &str| {
        let [a, b] = [frame.at(from), frame.at(to)];
        (b[2] - a[2]).atan2(b[0] - a[0]).to_degrees()
    };
    match quantity {
        Quantity::Bend => {
            let bent =
                direction("right knee", "right ankle") - direction("right hip", "right knee");
            ((bent + 180.0).rem_euclid(360.0) - 180.0).abs()
        }
        _ => (90.0 - direction("middle hip", "middle shoulder")).abs(),
    }
}

fn seen(quantity: Quantity, frame: &Frame, camera: &Camera, rng: &mut Rng) -> Option<Scene> {
    let mut click = |at: Place| {
        let is_seen = camera.shows(at);
        is_seen.then(|| vec![camera.sees(at) + [CLICK * rng.normal(), CLICK * rng.normal()]])
    };
    let corners = [[-0.8, 0.0], [0.8, 0.0], [0.8, 1.5], [-0.8, 1.5]];
    let points = corners
        .map(|[x, z]| {
            Some(PlanePoint { place: OnPlane([x, z]), along: None, placed: click([x, 0.0, z])? })
        })
        .into_iter()
        .collect::<Option<Vec<_>>>()?;
    let spots = joints(quantity)
        .iter()
        .map(|(name, joint)| {
            Some(Spot { name: (*name).to_owned(), placed: click(frame.at(joint))? })
        })
        .collect::<Option<Vec<_>>>()?;
    let edge = if quantity == Quantity::Bend { 60.0 } else { 15.0 };
    Some(Scene {
        input: MeasureInput {
            quantity,
            looks: vec![ClickedFrame { spots, ..ClickedFrame::default() }],
            view: View::Plane(Plane { lies: Lies::Upright, points, size_u: 0.0 }),
            facts: Facts {
                travel: Some(Travel::Right),
                click: CLICK,
                click_freedom: f64::INFINITY,
                ..Facts::default()
            },
        },
        truth: truth(quantity, frame),
        limit: Limit { edge: Magnitude(edge), side: Side::AtLeast },
    })
}

fn check(scenes: usize) {
    let frames = Frame::all();
    // Limbs of people do not keep to a plane, which clicks do not tell: that comes on top, and the
    // more the further the camera stands off square.
    let cases = [(Quantity::Bend, 20.0, 0.86), (Quantity::Trunk, 20.0, 0.88)];
    let aslant = [(Quantity::Bend, 50.0, 0.74), (Quantity::Trunk, 50.0, 0.88)];
    for (quantity, off, held) in cases.into_iter().chain(aslant) {
        let mut rng = Rng::new(31 + quantity as u64);
        let mut all = Vec::new();
        while all.len() < scenes {
            let frame = &frames[(rng.uniform() * frames.len() as f64) as usize % frames.len()];
            let camera = beside_within(off, &mut rng);
            all.extend(seen(quantity, frame, &camera, &mut rng));
        }
        let tally = Tally::of(all.into_iter());
        println!("{}", tally.row(&format!("{}, to {off}", quantity.words()), quantity.unit()));
        assert!(tally.coverage() >= held, "{quantity:?}: {}", tally.coverage());
        assert!(tally.right_share() >= 0.97, "{quantity:?}: {}", tally.right_share());
        assert!(tally.mean_error() < 5.0, "{quantity:?}: {}", tally.mean_error());
    }
}

/// Worked out once from the recorded places with a calculator: the deepest bend of the jump is on
/// the seventeenth frame, 88 degrees at the knee and 30 at the trunk.
#[test]
fn the_recording_is_a_jump() {
    let frames = Frame::all();
    assert_eq!(frames.len(), 60);
    let bend: Vec<f64> = frames.iter().map(|frame| truth(Quantity::Bend, frame)).collect();
    assert!((bend[16] - 88.0).abs() < 1.0 && bend.iter().all(|b| *b < bend[16] + 1.0));
    assert!((truth(Quantity::Trunk, &frames[16]) - 30.0).abs() < 1.5);
    let lowest = |frame: &Frame| frame.at("right ankle")[2];
    assert!(lowest(&frames[40]) - lowest(&frames[0]) > 0.2, "off the floor");
}

#[test]
fn a_recorded_jump_is_measured_from_anywhere() {
    check(150);
}

#[test]
#[ignore = "`make accuracy` runs it and prints the rows"]
fn accuracy_recorded() {
    check(2000);
}
