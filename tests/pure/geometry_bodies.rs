//! Bodies that are no drawings, filmed by a simulator that shares nothing with this program
//! (`fixtures/bodies.py`), measured and held against its truth.

use std::{collections::BTreeMap, env, fs};

use serde::Deserialize;
use stillcall::{
    geometry::{
        Lies, Limit, MeasureInput, Quantity, Side,
        input::{ClickedFrame, Depth, Facts, Plane, PlanePoint, Spot, Travel, USUAL_SIZE_U, View},
    },
    units::{Degrees, Magnitude, OnPlane, Shown},
};

use crate::{geometry_accuracy::Tally, scene::Scene};

#[derive(Deserialize)]
struct Recorded {
    cells: Vec<Cell>,
}

#[derive(Deserialize)]
struct Cell {
    cell: String,
    scenes: Vec<Filmed>,
}

#[derive(Deserialize)]
struct Filmed {
    quantity: Quantity,
    truth: f64,
    edge: f64,
    spots: Vec<(String, f64, f64)>,
    plane: Option<Vec<[f64; 4]>>,
    speed: Option<f64>,
}

impl Filmed {
    fn scene(&self) -> Scene {
        let spot = |(name, u, v): &(String, f64, f64)| Spot {
            name: name.clone(),
            placed: vec![Shown([*u, *v])],
        };
        let look =
            ClickedFrame { spots: self.spots.iter().map(spot).collect(), ..ClickedFrame::default() };
        let view = match &self.plane {
            None => View::Picture { line: [Vec::new(), Vec::new()], off_square: Degrees(20.0) },
            Some(points) => View::Plane(Plane {
                lies: Lies::Upright,
                points: points
                    .iter()
                    .map(|[x, y, u, v]| PlanePoint {
                        place: OnPlane([*x, *y]),
                        placed: vec![Shown([*u, *v])],
                    })
                    .collect(),
                size_u: USUAL_SIZE_U,
            }),
        };
        let facts = Facts {
            travel: Some(Travel::Right),
            speed: self.speed.map(Magnitude),
            depth: self.quantity.unit().eq(&stillcall::units::Unit::Metre)
                .then_some(Depth { nearer: 0.0, within: 0.0 }),
            ..Facts::default()
        };
        let limit = Limit { edge: Magnitude(self.edge), side: Side::AtLeast };
        let input = MeasureInput { quantity: self.quantity, looks: vec![look], view, facts };
        Scene { input, truth: self.truth, limit }
    }
}

fn recorded() -> Vec<Cell> {
    let text = match env::var("STILLCALL_BODIES") {
        Ok(path) => fs::read_to_string(path).unwrap(),
        Err(_) => include_str!("fixtures/bodies.json").to_owned(),
    };
    serde_json::from_str::<Recorded>(&text).unwrap().cells
}

#[test]
#[ignore = "x"]
fn accuracy_bodies() {
    print();
}

pub(crate) fn all() -> Vec<(String, Vec<Scene>)> {
    recorded().into_iter().map(|c| (c.cell, c.scenes.iter().map(Filmed::scene).collect())).collect()
}

pub(crate) fn print() {
    for Cell { cell, scenes } in recorded() {
        let tally = Tally::of(scenes.iter().map(Filmed::scene));
        println!("{}", tally.line(&cell));
        let mut by: BTreeMap<Quantity, Vec<&Filmed>> = BTreeMap::new();
        for scene in &scenes {
            by.entry(scene.quantity).or_default().push(scene);
        }
        if env::var("EACH").is_ok() {
            for (quantity, scenes) in by {
                let tally = Tally::of(scenes.into_iter().map(Filmed::scene));
                println!("{}", tally.line(&format!("    {}", quantity.words())));
            }
        }
    }
}
