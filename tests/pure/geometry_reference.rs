//! Planes and cameras against OpenCV 5.0.0, recorded by `fixtures/planes.py`.

use serde_json::Value;
use stillcall::{
    geometry::{
        homography::{Pair, fit},
        pose::Pose,
    },
    units::{OnPlane, Shown},
};

fn numbers(of: &Value) -> Vec<f64> {
    match of {
        Value::Array(list) => list.iter().flat_map(numbers).collect(),
        number => vec![number.as_f64().unwrap()],
    }
}

fn pairs(plane: &Value, picture: &Value) -> Vec<Pair> {
    let points = |of: &Value| -> Vec<[f64; 2]> {
        numbers(of).chunks(2).map(|point| [point[0], point[1]]).collect()
    };
    let [plane, picture] = [points(plane), points(picture)];
    plane
        .into_iter()
        .zip(picture)
        .map(|(from, to)| Pair { from: OnPlane(from), to: Shown(to), along: None })
        .collect()
}

fn recorded() -> Value {
    serde_json::from_str(include_str!("fixtures/planes.json")).unwrap()
}

/// `findHomography` with all points: least squares of the distance in the picture.
#[test]
fn maps_are_those_of_a_reference_library() {
    let recorded = recorded();
    let cases = recorded["cases"].as_array().unwrap();
    assert!(cases.len() >= 12);
    for case in cases {
        let found = fit(&pairs(&case["plane"], &case["picture"])).unwrap().homography;
        for (found, expected) in found.matrix().transpose().iter().zip(numbers(&case["homography"]))
        {
            assert!(
                (found - expected).abs() <= 1e-4 * expected.abs().max(1.0),
                "{found} {expected}"
            );
        }
    }
}

/// `solvePnP` with `SOLVEPNP_IPPE` on the four corners.
#[test]
fn cameras_are_those_of_a_reference_library() {
    let recorded = recorded();
    let centre = numbers(&recorded["centre"]);
    let focal = recorded["focal"].as_f64().unwrap();
    for case in recorded["cases"].as_array().unwrap() {
        let map = fit(&pairs(&case["plane"], &case["exact_picture"])).unwrap().homography;
        let pose = Pose::of(&map, Shown([centre[0], centre[1]]), focal);
        let turned = pose.rotation.transpose();
        let found = turned.iter().chain(pose.place().as_slice()).copied().collect::<Vec<_>>();
        let expected = [numbers(&case["rotation"]), numbers(&case["camera"])].concat();
        for (found, expected) in found.into_iter().zip(expected) {
            assert!((found - expected).abs() <= 1e-4, "{found} {expected}");
        }
    }
}
