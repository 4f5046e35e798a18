//! The points of a cast clicked in the real program: the reading is in the file and on the sheet,
//! and near the truth that the generator knows.

use std::{fs, path::PathBuf};

use sample_clips_generator::{Options, Truth, generate, truth::EventKind, truth_path};
use serde_json::Value;

use crate::{
    clips,
    xvfb::{Screen, Window},
};

/// A bars routine with its truth, in a folder of its own without marks.
fn bars() -> (PathBuf, Truth) {
    let mut options = Options::new("bars-routine", clips::folder("clips").join("cast.mp4"));
    options.size = (640, 360);
    let truth = match fs::read_to_string(truth_path(&options)) {
        Ok(text) if options.out.exists() => serde_json::from_str(&text).unwrap(),
        _ => generate(&options).unwrap(),
    };
    let folder = clips::folder("pointing");
    fs::remove_dir_all(&folder).unwrap();
    fs::create_dir_all(&folder).unwrap();
    let clip = folder.join("bars.mp4");
    fs::copy(&options.out, &clip).unwrap();
    (clip, truth)
}

/// Where the points of the cast are seen at its peak: the middles of left and right.
fn cast_points(truth: &Truth, frame: u64) -> Vec<[f64; 2]> {
    let joints = &truth.frames[frame as usize].joints;
    let side = |name: &str, axis: usize| joints[name].px.unwrap()[axis];
    ["shoulder", "hip", "knee", "toe"]
        .iter()
        .map(|name| {
            let [left, right] = ["left", "right"].map(|it| format!("{it}_{name}"));
            [0, 1].map(|axis| f64::midpoint(side(&left, axis), side(&right, axis)))
        })
        .collect()
}

struct Hand<'a> {
    window: &'a Window<'a>,
    screen: &'a Screen,
    marks: PathBuf,
}

impl Hand<'_> {
    fn file(&self) -> Option<Value> {
        serde_json::from_str(&fs::read_to_string(&self.marks).ok()?).ok()
    }

    fn click(&self, [x, y]: [f64; 2]) {
        let [x, y] = [x, y].map(|it| it.round().to_string());
        self.screen.xdotool(&["mousemove", &x, &y]);
        self.screen.xdotool(&["click", "1"]);
    }

    /// Waits until so many points of the angle being placed are in the file, and returns where
    /// they lie.
    fn points(&self, count: usize) -> Vec<[f64; 2]> {
        let read = || -> Option<Vec<[f64; 2]>> {
            let file = self.file()?;
            let points = file["unfinished"].as_array()?.first()?["points"].as_array().cloned()?;
            points.iter().map(|it| serde_json::from_value(it["coded"].clone()).ok()).collect()
        };
        self.window.wait_for(&format!("{count} points in the file"), || {
            read().is_some_and(|points| points.len() == count)
        });
        read().unwrap()
    }
}

#[test]
fn the_points_of_a_cast_clicked_in_the_window_make_its_reading() {
    let Some(screen) = Screen::start() else { return };
    let (clip, truth) = bars();
    let peak = truth.events.iter().find(|event| event.kind == EventKind::CastPeak).unwrap();
    let window = Window::open(&screen, &clip);
    let marks = clip.with_file_name("bars.mp4.1.J-9.marks.json");
    let hand = Hand { window: &window, screen: &screen, marks };

    // Two divisions on is one that asks for the cast's body line.
    screen.keys(&["Return"]);
    screen.write("SC-07");
    screen.keys(&["Tab"]);
    screen.write("J-9");
    screen.keys(&["Down", "Down", "Return"]);
    window.wait_for_sheet("an empty sheet", |sheet| sheet["elements"] == Value::Array(vec![]));
    for _ in 0..peak.frame / 10 {
        screen.keys(&["shift+Right"]);
    }
    for _ in 0..peak.frame % 10 {
        screen.keys(&["Right"]);
    }
    window.put("cast");
    window.wait_for_sheet("the cast", |sheet| sheet["elements"][0]["element"] == "cast");

    // Two clicks tell how the picture lies on the screen; Backspace takes them back.
    screen.keys(&["a"]);
    let probes = [[200.0, 300.0], [500.0, 400.0]];
    hand.click(probes[0]);
    hand.points(1);
    hand.click(probes[1]);
    let seen = hand.points(2);
    screen.keys(&["BackSpace"]);
    hand.points(1);
    screen.keys(&["BackSpace"]);
    hand.points(0);
    let on_screen = |at: [f64; 2]| {
        [0, 1].map(|axis| {
            let scale = (probes[1][axis] - probes[0][axis]) / (seen[1][axis] - seen[0][axis]);
            probes[0][axis] + (at[axis] - seen[0][axis]) * scale
        })
    };
    let points = cast_points(&truth, peak.frame);
    for (count, at) in points.iter().enumerate() {
        hand.click(on_screen(*at));
        hand.points(count + 1);
    }
    // A point is moved by keys: ten tenths right and one pixel back is where it was.
    screen.keys(&["shift+Right"; 10]);
    screen.keys(&["Left"]);
    screen.keys(&["Return"]);
    let sheet = window.wait_for_sheet("the reading on the sheet", |sheet| {
        sheet["elements"][0]["decisions"][0]["reading"].is_array()
    });
    window.wait_for("the reading in the file", || {
        hand.file().is_some_and(|file| file["readings"].as_array().is_some_and(|it| it.len() == 1))
    });

    let file = hand.file().unwrap();
    let reading = &file["readings"][0];
    assert!(file["unfinished"].as_array().is_none_or(Vec::is_empty), "{file}");
    assert_eq!(reading["quantity"], "body-line");
    assert_eq!(reading["at"]["frame"]["index"], peak.frame);
    let names: Vec<&str> = reading["points"]
        .as_array()
        .unwrap()
        .iter()
        .map(|point| point["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["shoulder", "hip", "knee", "toe"]);
    assert_eq!(sheet["elements"][0]["decisions"][0]["reading"][0], reading["value"]);
    // The clip's truth is the generator's own; a click is good to a screen's pixel here, and the
    // camera is four degrees off square.
    let true_line = truth.frames[peak.frame as usize].angles.body_line.lowest();
    let value = reading["value"].as_f64().unwrap();
    assert!((value - true_line).abs() < 2.0, "{value} is not {true_line}");
}
