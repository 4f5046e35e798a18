//! Readings worked out anew from the marks file.

use std::fs;

use stillcall::{
    geometry::{
        Lies, Refusal,
        homography::Along,
        input::{BodySide, CameraHeight, Rotation, Travel},
    },
    marks::{
        At, CameraSince, ClickedPoint, ClipFacts, Edit, How, Id, Moved, Outcome, PlacedPoint,
        Quantity, Reading, ReferencePlane, Sheaf, Since, camera_since, remeasure, renew,
    },
    units::{
        Coded, Degrees, FrameIndex, FrameRef, Magnitude, OnPlane, Orientation, PixelShape, Shown,
        Ticks, TimeBase, Upright,
    },
};

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

fn frame(index: u64) -> FrameRef {
    let ticks = Ticks(index as i64 * 512);
    FrameRef { ticks, index: FrameIndex(index), field: None, lo: ticks, hi: Ticks(ticks.0 + 512) }
}

fn clip(orientation: Orientation, pixel: PixelShape) -> ClipFacts {
    ClipFacts {
        name: "meet.mp4".to_owned(),
        quick_id: "q".to_owned(),
        content_hash: None,
        time_base: TimeBase::new(1, 15_360).unwrap(),
        upright: Upright { coded_width: 1440, coded_height: 1080, pixel, orientation },
        orientation_override: None,
        assumed_times: false,
        unknown: std::collections::BTreeMap::new(),
    }
}

/// A kick of so many degrees whose leg is 300 shown pixels long.
fn kick(clip: &ClipFacts, degrees: f64) -> Reading {
    let hip = Shown([700.0, 500.0]);
    let (sin, cos) = degrees.to_radians().sin_cos();
    let ankle = hip + [300.0 * sin, 300.0 * cos];
    let point = |name: &str, at| ClickedPoint {
        name: name.to_owned(),
        coded: clip.upright.to_coded(at),
        frame: None,
    };
    Reading {
        id: Id(2),
        of: Id(1),
        quantity: Quantity::Kick,
        value: Magnitude(0.0),
        u: Magnitude(0.0),
        at: At::Frame(frame(10)),
        points: vec![point("hip", hip), point("ankle", ankle)],
        how: How { off_square: Some(Degrees(0.0)), ..How::default() },
    }
}

fn sheaf(clip: ClipFacts, reading: Reading) -> Sheaf {
    Sheaf { clip: Some(clip), readings: vec![reading], ..Sheaf::default() }
}

fn value(sheaf: &Sheaf) -> f64 {
    match &remeasure(sheaf)[0].outcome {
        Outcome::Measured(measured) => measured.value.0,
        other => panic!("{other:?}"),
    }
}

/// Clicks are kept in coded pixels; the angle is the one people see.
#[test]
fn every_orientation_and_pixel_shape_gives_the_angle_seen() {
    for quarter_turns in 0..4 {
        for mirrored in [false, true] {
            let pixel = PixelShape { width: 4, height: 3 };
            let clip = clip(Orientation { quarter_turns, mirrored }, pixel);
            let reading = kick(&clip, 55.0);
            near(value(&sheaf(clip, reading)), 55.0, 1e-9);
        }
    }
}

#[test]
fn a_changed_value_is_told_and_put_in() {
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let mut sheaf = sheaf(clip.clone(), kick(&clip, 55.0));
    sheaf.readings[0].value = Magnitude(50.0);
    let told = renew(&mut sheaf).remove(0).change().unwrap();
    assert!(told.starts_with("was 50° ± 0° when last shown, is 55° ± "), "{told}");
    near(sheaf.readings[0].value.0, 55.0, 1e-9);
    assert!(sheaf.readings[0].u.0 > 0.0);
    assert!(sheaf.readings[0].how.program.is_some());
    assert_eq!(remeasure(&sheaf)[0].change(), None);
}

#[test]
fn stated_values_are_left_alone() {
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let stated = Reading { points: Vec::new(), value: Magnitude(78.0), ..kick(&clip, 0.0) };
    let mut sheaf = sheaf(clip, stated);
    assert_eq!(renew(&mut sheaf)[0].outcome, Outcome::Stated);
    assert_eq!(sheaf.readings[0].value, Magnitude(78.0));
    assert_eq!(sheaf.readings[0].how.program, None);
}

#[test]
fn an_unknown_plane_is_refused_by_name() {
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let mut reading = kick(&clip, 55.0);
    reading.how.plane = Some("beam side".to_owned());
    let sheaf = sheaf(clip, reading);
    let missing = Refusal::NoPlane { name: "beam side".to_owned() };
    assert_eq!(remeasure(&sheaf)[0].outcome, Outcome::Refused(missing));
}

/// Nothing of what was clicked is lost on the way to disk and back.
#[test]
fn planes_and_ways_of_measuring_go_through_the_file() {
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let mut sheaf = sheaf(clip.clone(), kick(&clip, 55.0));
    let corners = [[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]];
    sheaf.planes.push(ReferencePlane {
        name: "mat".to_owned(),
        lies: Lies::Flat,
        points: corners
            .map(|place| PlacedPoint {
                name: String::new(),
                place: OnPlane(place),
                along: Some(Along::X),
                coded: vec![Coded(place.map(|c| 100.0 * c))],
            })
            .to_vec(),
        size_u: 0.01,
        frame: Some(frame(3)),
    });
    sheaf.readings[0].how.travel = Some(Travel::Left);
    sheaf.readings[0].how.height = Some(CameraHeight::Stands);
    sheaf.readings[0].how.side = Some(BodySide::Near);
    sheaf.readings[0].how.joint_depth = Some(0.1);
    sheaf.readings[0].points[1].frame = Some(frame(11));
    let text = serde_json::to_string(&sheaf).unwrap();
    assert_eq!(serde_json::from_str::<Sheaf>(&text).unwrap(), sheaf);
    // A file from before planes were kept reads as before.
    let old = r#"{"routine":{},"readings":[{"id":2,"of":1,"quantity":"kick","value":78.0,
        "at":{"place":0}}]}"#;
    assert!(serde_json::from_str::<Sheaf>(old).unwrap().readings[0].how.is_default());
}

/// A camera whose height is said leaves less, joints that are said to lie further off leave more, and
/// clicks said to be good less than the usual ones.
#[test]
fn what_is_said_of_camera_joints_and_clicks_is_in_the_uncertainty() {
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let u = |how: How| {
        let mut reading = kick(&clip, 55.0);
        reading.how = How { off_square: Some(Degrees(20.0)), ..how };
        match &remeasure(&sheaf(clip.clone(), reading))[0].outcome {
            Outcome::Measured(measured) => measured.u.0,
            other => panic!("{other:?}"),
        }
    };
    let unsaid = u(How::default());
    assert!(u(How { height: Some(CameraHeight::Table), ..How::default() }) < unsaid);
    assert!(u(How { joint_depth: Some(0.15), ..How::default() }) > unsaid);
    assert!(u(How { click: Some(1.0), ..How::default() }) < unsaid);
    // What was learnt of her clicks is as good as its repeats: Student's t is wider with few.
    let interval = |how: How| {
        let mut reading = kick(&clip, 55.0);
        reading.how = How { off_square: Some(Degrees(0.0)), joint_depth: Some(0.0), ..how };
        reading.how.height = Some(CameraHeight::Table);
        match &remeasure(&sheaf(clip.clone(), reading))[0].outcome {
            Outcome::Measured(measured) => measured.interval[1].0 - measured.interval[0].0,
            other => panic!("{other:?}"),
        }
    };
    let learnt = |freedom| {
        interval(How { click: Some(8.0), click_freedom: Some(freedom), ..How::default() })
    };
    assert!(learnt(14.0) > learnt(200.0));
    assert!(learnt(200.0) > interval(How { click: Some(4.0), ..How::default() }));
}

#[test]
fn the_command_prints_value_interval_and_budget() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("meet.mp4.1.J-2.marks.json");
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let stored = stillcall::marks::file::Stored::anew(
        "d".to_owned(),
        sheaf(clip.clone(), kick(&clip, 55.0)),
    );
    fs::write(&path, stillcall::marks::file::text(&stored)).unwrap();
    let run = |more: &[&str]| {
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .arg("measure")
            .arg(&path)
            .args(more)
            .env("STILLCALL_STATE", folder.path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let text = run(&[]);
    assert!(text.contains("2  kick: 55° ± "), "{text}");
    assert!(text.contains("clicks on the body"), "{text}");
    assert!(text.contains("what would help most"), "{text}");
    let json: serde_json::Value = serde_json::from_str(&run(&["--json"])).unwrap();
    let measured = &json["readings"][0]["measured"];
    near(measured["value"].as_f64().unwrap(), 55.0, 1e-9);
    assert!(measured["interval"][0].as_f64().unwrap() < 55.0);
    assert!(!measured["budget"].as_array().unwrap().is_empty());
}

/// Turning the picture by hand moves no click. What is left and right of the picture changes
/// places where the picture is mirrored or stood on its head; the sense of a turn only where it is
/// mirrored, so that the turn keeps its true direction.
#[test]
fn a_turn_by_hand_keeps_clicks_and_true_directions() {
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let mut before = sheaf(clip.clone(), kick(&clip, 55.0));
    before.readings[0].how.travel = Some(Travel::Left);
    before.readings[0].how.rotation = Some(Rotation::Left);
    let rows = [
        ((0, true), Travel::Right, Rotation::Right),
        ((2, false), Travel::Right, Rotation::Left),
        ((2, true), Travel::Left, Rotation::Right),
        ((1, false), Travel::Left, Rotation::Left),
    ];
    for ((quarter_turns, mirrored), travel, rotation) in rows {
        let by_hand = Some(Orientation { quarter_turns, mirrored });
        let edit = Edit::orient(&before, by_hand).unwrap();
        let mut after = before.clone();
        edit.apply(&mut after);
        assert_eq!(after.clip.as_ref().unwrap().orientation_override, by_hand);
        assert_eq!(after.readings[0].points, before.readings[0].points);
        let how = &after.readings[0].how;
        assert_eq!((how.travel, how.rotation), (Some(travel), Some(rotation)), "{by_hand:?}");
        assert!(Edit::orient(&after, by_hand).is_none(), "it stands so already");
        edit.inverse().apply(&mut after);
        assert_eq!(after, before);
    }
    let planned = Sheaf { clip: None, ..before };
    assert!(Edit::orient(&planned, Some(Orientation::UPRIGHT)).is_none());
}

/// With the book that the marks name, or another, each reading says what it decides: a cast of
/// seven degrees below horizontal, read to one and a half, does not meet "at least 0".
#[test]
fn the_command_says_what_a_reading_decides() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("meet.mp4.1.J-2.marks.json");
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let cast = Reading {
        quantity: Quantity::BodyLine,
        value: Magnitude(-7.0),
        u: Magnitude(1.5),
        points: Vec::new(),
        ..kick(&clip, 0.0)
    };
    let mut sheaf = sheaf(clip, cast);
    sheaf.routine.book = "saltmarsh".to_owned();
    sheaf.routine.event = "bars".to_owned();
    sheaf.routine.division = "redshank".to_owned();
    let mark = serde_json::json!({
        "id": 1, "at": { "frame": frame(10) }, "kind": "element", "element": "cast",
    });
    sheaf.marks = vec![serde_json::from_value(mark).unwrap()];
    let stored = stillcall::marks::file::Stored::anew("d".to_owned(), sheaf);
    fs::write(&path, stillcall::marks::file::text(&stored)).unwrap();
    let run = |more: &[&str]| {
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .arg("measure")
            .arg(&path)
            .args(more)
            .env("STILLCALL_STATE", folder.path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let text = run(&[]);
    assert!(text.contains("✗ not met: Cast, body line, at least 0°"), "{text}");
    let json: serde_json::Value = serde_json::from_str(&run(&["--json"])).unwrap();
    let decisions = &json["readings"][0]["decisions"];
    assert_eq!(decisions[0]["rule"], "cast-line");
    assert_eq!(decisions.as_array().unwrap().len(), 1, "{decisions}");
}

/// A kick of 55 degrees in a plane of 200 px to a metre that was clicked on another frame.
fn kick_in_a_plane() -> Sheaf {
    let clip = clip(Orientation::UPRIGHT, PixelShape::SQUARE);
    let mut sheaf = sheaf(clip.clone(), kick(&clip, 55.0));
    let place = |x: f64, y: f64| PlacedPoint {
        name: String::new(),
        place: OnPlane([x, y]),
        along: None,
        coded: vec![clip.upright.to_coded(Shown([400.0 + 200.0 * x, 900.0 - 200.0 * y]))],
    };
    sheaf.planes.push(ReferencePlane {
        name: "side".to_owned(),
        lies: Lies::Upright,
        points: [[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0], [1.5, 0.0], [1.5, 2.0]]
            .map(|[x, y]| place(x, y))
            .to_vec(),
        size_u: 0.02,
        frame: Some(frame(3)),
    });
    sheaf.readings[0].how.plane = Some("side".to_owned());
    sheaf
}

/// What is expected is the project's own rule: nothing is said of a camera that stood still, what moved
/// is in the uncertainty, and beyond a fiftieth of the picture the plane is clicked anew.
#[test]
fn a_plane_of_another_frame_holds_as_far_as_the_camera_stood_still() {
    let measured = |pixels: Option<f64>, from: u64, frames: &[u64]| {
        let mut sheaf = kick_in_a_plane();
        sheaf.readings[0].how.camera = Some(CameraSince {
            plane: frame(from),
            frames: frames.iter().map(|it| frame(*it)).collect(),
            moved: pixels.map(|pixels| Moved { pixels, u: 0.2 }),
        });
        let text = serde_json::to_string(&sheaf).unwrap();
        assert_eq!(serde_json::from_str::<Sheaf>(&text).unwrap(), sheaf);
        let since = camera_since(&sheaf, &sheaf.readings[0]);
        let outcome = renew(&mut sheaf).remove(0).outcome;
        let reading = sheaf.readings.remove(0);
        (since, outcome, reading.u.0, reading.how.warnings.join(" "))
    };
    let (since, _, still, said) = measured(Some(0.4), 3, &[10]);
    assert!(matches!(since, Since::Told(moved) if moved.is_still()));
    assert!(!said.contains("camera"), "{said}");
    let (since, _, wider, said) = measured(Some(12.0), 3, &[10]);
    assert!(matches!(since, Since::Told(moved) if !moved.is_still()));
    assert!(said.contains("The camera has moved by 12 px"), "{said}");
    assert!(wider > 1.1 * still, "{still} grows to {wider}");
    // The picture is 1920 wide: 38.4 px are a fiftieth.
    let (_, outcome, ..) = measured(Some(40.0), 3, &[10]);
    let Outcome::Refused(refusal) = outcome else { panic!("{outcome:?}") };
    assert_eq!(refusal, Refusal::CameraMoved { pixels: 40.0_f64.hypot(0.2) });
    assert!(refusal.to_string().contains("click the plane anew"));
    let (since, .., said) = measured(None, 3, &[10]);
    assert_eq!(since, Since::NotTold);
    assert!(said.contains("does not follow from the pictures"), "{said}");
    // Of a plane clicked since on another frame, or of another frame of the reading, nothing is known.
    for (from, frames) in [(4, [10]), (3, [11])] {
        let (since, .., said) = measured(Some(0.4), from, &frames);
        assert_eq!(since, Since::NotCompared);
        assert!(said.contains("was not looked at"), "{said}");
    }
    let mut same = kick_in_a_plane();
    same.planes[0].frame = Some(frame(10));
    assert_eq!(camera_since(&same, &same.readings[0]), Since::Same);
}
