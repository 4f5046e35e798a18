//! Lengths, offsets and knees of the generator's motions, seen by cameras anywhere: what the program
//! finds against what the generator knows.

use sample_clips_generator::{Params, truth::EventKind};
use stillcall::{
    geometry::{
        Lies, MeasureInput, Quantity,
        input::{Depth, Facts, Spot, View},
        measure,
    },
    units::{Degrees, Shown},
};

use crate::geometry_motions::{BEAM, CLICK, Filmed, SIZE, VIEWS, camera, decides, finds};

fn facts(depth: Option<Depth>) -> Facts {
    let centre = Shown([f64::from(SIZE.0) / 2.0, f64::from(SIZE.1) / 2.0]);
    Facts { click: CLICK, centre, depth, ..Facts::default() }
}

/// A leg in the air, behind the side of the beam that the plane is on.
#[test]
fn a_leg_is_as_long_as_it_is_at_whatever_depth() {
    let ends: &[(&str, &[&str])] = &[("near end", &["left_hip"]), ("far end", &["left_ankle"])];
    for [yaw, pitch, away] in VIEWS {
        let params = Params { peak: Some(160.0), turn: None };
        let view = camera([0.2, 0.0, 1.9], yaw, pitch, away);
        let mut film = Filmed::new("beam-leap", params, view);
        let top = film.event(EventKind::WidestSplit, "");
        let [hip, ankle] = ["left_hip", "left_ankle"].map(|it| film.frame(top.frame).joints[it].m);
        let looks = vec![film.look(top.frame, ends)];
        let side = film.plane(Lies::Upright, BEAM);
        let plane_at = BEAM[0][1];
        let behind = f64::midpoint(hip[1], ankle[1]) - plane_at;
        let depth = Depth { nearer: -behind, within: (hip[1] - ankle[1]).abs() + 0.01 };
        // A camera square on does not see how far away it stands; a person says it.
        let distance = (yaw == 0.0).then_some(plane_at - view.at[1]);
        let facts = Facts { distance, ..facts(Some(depth)) };
        let input = MeasureInput { quantity: Quantity::Length, looks, view: side, facts };
        let long = (hip[0] - ankle[0]).hypot(hip[2] - ankle[2]);
        finds(&measure(&input).unwrap(), long, &format!("a leg of {long} from {yaw}"));
    }
}

/// Where a toe is down after the landing, from the edge of the mat.
#[test]
fn a_foot_is_so_far_beside_a_line_of_the_floor() {
    let mat = [[-1.0, -1.0, 0.0], [1.5, 1.0, 0.0]];
    for [yaw, pitch, away] in [[0.0, 20.0, 6.0], [30.0, 15.0, 7.0], [-25.0, 25.0, 5.0]] {
        let mut film =
            Filmed::new("floor-pass", Params::default(), camera([0.0, 0.0, 0.5], yaw, pitch, away));
        let landing = film.event(EventKind::Landing, "");
        let frame = landing.frame + 3;
        let toe = film.frame(frame).joints["left_toe"].m;
        // The mat lies about where the foot comes down.
        let at = |[x, y, z]: [f64; 3]| [toe[0] + x, y, z];
        let view = camera([toe[0], 0.0, 0.5], yaw, pitch, away);
        film = Filmed::new("floor-pass", Params::default(), view);
        let mut look = film.look(frame, &[]);
        let down = film.corner([toe[0], toe[1], 0.0]);
        look.spots.push(Spot { name: "point".to_owned(), placed: down });
        for (name, x) in [("one end of the line", -1.0), ("other end of the line", 1.5)] {
            let placed = film.corner(at([x, -1.0, 0.0]));
            look.spots.push(Spot { name: name.to_owned(), placed });
        }
        let plane = film.plane(Lies::Flat, mat.map(at));
        let facts = facts(None);
        let looks = vec![look];
        let input = MeasureInput { quantity: Quantity::Offset, looks, view: plane, facts };
        finds(&measure(&input).unwrap(), toe[1] + 1.0, &format!("a toe from {yaw}"));
    }
}

/// Knees in the stretched jump, together and apart, from behind: square on and 15 degrees off to
/// either side, without any plane.
#[test]
fn knees_are_as_far_apart_as_they_are() {
    let points: &[(&str, &[&str])] = &[
        ("left knee", &["left_knee"]),
        ("right knee", &["right_knee"]),
        ("left shoulder", &["left_shoulder"]),
        ("right shoulder", &["right_shoulder"]),
    ];
    let mut ratios = Vec::new();
    for [yaw, away] in [[75.0, 6.0], [90.0, 9.0], [105.0, 8.0]] {
        for out in [0.0, 12.0, 25.0] {
            let params = Params { peak: Some(out), turn: None };
            let film =
                |x: f64| Filmed::new("floor-pass", params, camera([x, 0.0, 1.3], yaw, 4.0, away));
            let landing = film(0.0).event(EventKind::Landing, "");
            // Widest between the two landings: so many frames before the second.
            let frame = film(0.0).widest_knees(landing.frame);
            let mut film = film(film(0.0).frame(frame).joints["left_knee"].m[0]);
            let joints = &film.frame(frame).joints;
            let apart = |a: &str, b: &str| {
                let [a, b] = [a, b].map(|joint| joints[joint].m);
                (a[1] - b[1]).hypot(a[2] - b[2])
            };
            let truth = apart("left_knee", "right_knee") / apart("left_shoulder", "right_shoulder");
            ratios.push(truth);
            let looks = vec![film.look(frame, points)];
            let line = [Vec::new(), Vec::new()];
            let picture = View::Picture { line, off_square: Degrees(15.0) };
            let facts = facts(None);
            let quantity = Quantity::KneeDistance;
            let input = MeasureInput { quantity, looks, view: picture, facts };
            let measured = measure(&input).unwrap();
            let of = format!("knees {truth} from {yaw}");
            finds(&measured, truth, &of);
            decides(&measured, 1.0, truth, &of);
        }
    }
    assert!(ratios.iter().any(|it| *it < 0.7) && ratios.iter().any(|it| *it > 1.1), "{ratios:?}");
}
