//! Bodies that are no drawings, filmed by a simulator that shares nothing with this program
//! (`fixtures/bodies.py`), measured and held against its truth. What is expected of the shares is the
//! project's own aim.

use std::{env, fs};

use serde::Deserialize;
use stillcall::{
    geometry::{
        Lies, Limit, MeasureInput, Quantity, Side,
        input::{ClickedFrame, Depth, Facts, Plane, PlanePoint, Spot, Travel, USUAL_SIZE_U, View},
    },
    units::{Degrees, Magnitude, OnPlane, Shown},
};

use crate::{
    geometry_accuracy::{Tally, before, both, heading},
    scene::Scene,
};

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
    /// Name and where it was clicked.
    spots: Vec<(String, f64, f64)>,
    /// Place and where it was clicked.
    plane: Option<Vec<[f64; 4]>>,
    speed: Option<f64>,
    /// Both ends of an upright and of a level edge, where they were clicked.
    upright: Option<[[f64; 2]; 2]>,
    level: Option<[[f64; 2]; 2]>,
    /// By how many pixels the plane has moved since it was clicked, where the pictures tell.
    moved: Option<f64>,
    /// Seconds from the frame to the next one, between which the moment lies.
    gap: Option<f64>,
    /// The same points on the next frame.
    next: Option<Vec<(String, f64, f64)>>,
}

impl Filmed {
    /// As the program takes it where nobody says more.
    fn scene(&self) -> Scene {
        let spot = |(name, u, v): &(String, f64, f64)| Spot {
            name: name.clone(),
            placed: vec![Shown([*u, *v])],
        };
        let look = |seconds: f64, spots: &[(String, f64, f64)]| ClickedFrame {
            seconds,
            // As marks keep it: from the frame before to the frame after.
            instant: self.gap.map_or([seconds; 2], |gap| [seconds - gap, seconds + gap]),
            spots: spots.iter().map(spot).collect(),
        };
        let next = self.next.as_ref().zip(self.gap).map(|(spots, gap)| look(1.0 + gap, spots));
        let looks = std::iter::once(look(1.0, &self.spots)).chain(next).collect();
        let point = |[x, y, u, v]: &[f64; 4]| PlanePoint {
            place: OnPlane([*x, *y]),
            along: None,
            placed: vec![Shown([*u, *v])],
        };
        let view = match &self.plane {
            None => View::Picture {
                line: self
                    .upright
                    .map_or([Vec::new(), Vec::new()], |ends| ends.map(|end| vec![Shown(end)])),
                off_square: Degrees(20.0),
            },
            Some(points) => View::Plane(Plane {
                lies: Lies::Upright,
                points: points.iter().map(point).collect(),
                size_u: USUAL_SIZE_U,
            }),
        };
        let in_plane = Depth { nearer: 0.0, within: 0.0 };
        let facts = Facts {
            travel: Some(Travel::Right),
            speed: self.speed.map(Magnitude),
            level: self.level.map(|ends| ends.map(Shown)),
            camera_moved: self.moved.unwrap_or(0.0),
            depth: (self.quantity == Quantity::Length).then_some(in_plane),
            ..Facts::default()
        };
        Scene {
            input: MeasureInput { quantity: self.quantity, looks, view, facts },
            truth: self.truth,
            limit: Limit { edge: Magnitude(self.edge), side: Side::AtLeast },
        }
    }
}

impl Cell {
    /// Cells named so come from a file of more scenes, where one is named.
    fn all() -> Vec<Self> {
        let text = env::var("STILLCALL_BODIES").map_or_else(
            |_| include_str!("fixtures/bodies.json").to_owned(),
            |path| fs::read_to_string(path).unwrap(),
        );
        serde_json::from_str::<Recorded>(&text).unwrap().cells
    }

    fn now(&self) -> Tally {
        Tally::of(self.scenes.iter().map(Filmed::scene))
    }

    fn before(&self) -> Tally {
        Tally::of(self.scenes.iter().map(|filmed| before(filmed.scene())))
    }

    /// What it comes to where a person says that joints lie further off than usual, and sizes too.
    fn said(&self) -> Tally {
        Tally::of(self.scenes.iter().map(|filmed| {
            let mut scene = filmed.scene();
            scene.input.facts.joint_depth = 0.13;
            if let View::Plane(plane) = &mut scene.input.view {
                plane.size_u = 0.035;
            }
            scene
        }))
    }

    /// What it would come to if every moment were that of its frame.
    fn still(&self) -> Tally {
        Tally::of(self.scenes.iter().map(|filmed| {
            let mut scene = filmed.scene();
            scene.input.looks[0].instant = [1.0; 2];
            scene
        }))
    }

    /// Whether its joints lie further off the plane than the program takes them to lie.
    fn is_beyond(&self) -> bool {
        self.cell.contains("5 to 20 cm") || self.cell.starts_with("all, ")
    }
}

/// Two standard deviations of a share among so many.
fn slack(share: f64, among: usize) -> f64 {
    2.0 * (share * (1.0 - share) / among as f64).sqrt()
}

#[test]
fn bodies_that_are_no_drawings_are_held() {
    let cells = Cell::all();
    assert!(cells.len() >= 12);
    for cell in &cells {
        let tally = if cell.is_beyond() { cell.said() } else { cell.now() };
        let (name, n) = (&cell.cell, cell.scenes.len());
        assert!(tally.coverage() >= 0.92 - slack(0.92, n), "{name}: {}", tally.coverage());
        let wrong = 1.0 - tally.right_share();
        assert!(wrong <= 0.005 + slack(0.005, n), "{name}: {wrong}");
        assert!(tally.clear_share() > 0.5, "{name}: {} are decided", tally.clear_share());
    }
    let mild = cells.iter().find(|cell| cell.cell == "all mild").unwrap();
    let most = 0.97 + slack(0.97, mild.scenes.len());
    assert!(mild.now().coverage() <= most, "as sure as it may be");
    assert!(mild.before().coverage() < 0.9, "these scenes tell a budget without bodies in it");
}

/// The same scenes without the frames beside: a value that says nothing of its moment.
#[test]
fn a_release_between_frames_is_held_only_because_its_moment_is_unsure() {
    let cells = Cell::all();
    let named = |part: &str| cells.iter().find(|cell| cell.cell.contains(part)).unwrap();
    let one = named("frames, one clicked");
    let still = one.still().coverage();
    assert!(still < 0.7, "these scenes tell a moment that is left out: {still}");
    // The next frame tells the speed, so that the value is surer and nearer.
    let both = named("frames, both clicked").now();
    assert!(both.mean_error() < 0.9 * one.now().mean_error());
}

#[test]
#[ignore = "`make accuracy` runs it and prints the table"]
fn accuracy_bodies() {
    println!("{}", heading("filmed by fixtures/bodies.py"));
    for cell in Cell::all() {
        println!("{}", both(&cell.cell, [&cell.before(), &cell.now()]));
        if cell.is_beyond() {
            println!(
                "{}",
                both("    said: joints 13 cm off, sizes to 3.5 %", [&cell.before(), &cell.said()])
            );
        }
        if cell.cell.contains("one clicked") {
            println!("{}", both("    without a moment", [&cell.before(), &cell.still()]));
        }
        if env::var("EACH").is_ok() {
            for quantity in Quantity::ALL {
                let of = |filmed: &&Filmed| filmed.quantity == quantity;
                let scenes: Vec<&Filmed> = cell.scenes.iter().filter(of).collect();
                if !scenes.is_empty() {
                    let now = Tally::of(scenes.iter().map(|filmed| filmed.scene()));
                    let then = Tally::of(scenes.iter().map(|filmed| before(filmed.scene())));
                    println!("{}", both(&format!("    {}", quantity.words()), [&then, &now]));
                }
            }
        }
    }
}
