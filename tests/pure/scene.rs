//! Random scenes of known truth, seen by a pinhole camera of our own.

use stillcall::{
    geometry::{
        Lies, Limit, MeasureInput, Quantity, Side,
        input::{
            ClickedFrame, Depth, Facts, Plane, PlanePoint, Rotation, Spot, Travel, USUAL_SIZE_U,
            View,
        },
        rng::Rng,
    },
    units::{Degrees, Magnitude, OnPlane, Shown, Unit},
};

/// A point of the hall in metres: x along the movement, y away from the camera's side, z up.
pub(crate) type Place = [f64; 3];

/// Standard deviation of a click in pixels.
pub(crate) const CLICK: f64 = 1.5;

/// Between the shoulders, in metres; a typical grown woman's.
const SHOULDERS: f64 = 0.36;

const WIDTH: f64 = 1920.0;
const HEIGHT: f64 = 1080.0;

/// A pinhole camera with square pixels and no distortion.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Camera {
    place: Place,
    rows: [Place; 3],
    focal: f64,
}

impl Camera {
    /// Stands at `place`, looks at `target` and is rolled by `roll` degrees.
    pub(crate) fn looking_at(place: Place, target: Place, roll: f64, focal: f64) -> Self {
        let forward = unit(minus(target, place));
        let right = unit([forward[1], -forward[0], 0.0]);
        let down = cross(forward, right);
        let (sin, cos) = roll.to_radians().sin_cos();
        let turned = |a: f64, b: f64| [0, 1, 2].map(|k| right[k] * a + down[k] * b);
        Self { place, rows: [turned(cos, sin), turned(-sin, cos), forward], focal }
    }

    /// Returns where a point of the hall is in the picture, pixels, y down.
    pub(crate) fn sees(&self, point: Place) -> Shown {
        let at = minus(point, self.place);
        let [u, v, w] = self.rows.map(|row| dot(row, at));
        Shown([WIDTH / 2.0 + self.focal * u / w, HEIGHT / 2.0 + self.focal * v / w])
    }

    /// Returns whether a point is in the picture.
    pub(crate) fn shows(&self, point: Place) -> bool {
        let Shown([x, y]) = self.sees(point);
        let in_front = dot(self.rows[2], minus(point, self.place)) > 0.5;
        in_front && x > 0.0 && x < WIDTH && y > 0.0 && y < HEIGHT
    }
}

/// What a worked example states: clicks of a known spread, joints in the plane, a camera that is level
/// with the athlete.
pub(crate) fn known(click: f64) -> Facts {
    Facts {
        click,
        click_freedom: f64::INFINITY,
        joint_depth: 0.0,
        pitch: Some([Degrees(0.0); 2]),
        ..Facts::default()
    }
}

/// A measurement whose truth is known.
pub(crate) struct Scene {
    pub input: MeasureInput,
    pub truth: f64,
    pub limit: Limit,
}

/// What is real about a scene; spans are drawn from evenly.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Effects {
    /// Standard deviation of a click in pixels, on the body and on the plane.
    pub clicks: [[f64; 2]; 2],
    /// Metres by which joints lie off the plane, to either side; nothing where normal by 5 cm.
    pub joints: Option<[f64; 2]>,
    /// Share by which each size is wrong, up or down.
    pub sizes: [f64; 2],
    /// Seconds from the first row of a picture to the last.
    pub readout: f64,
    /// Degrees off square, to either side.
    pub off: f64,
    /// Whether the program is told how well was clicked, and that the sizes are exact.
    pub told: bool,
}

impl Effects {
    /// Everything is as the program is told.
    pub(crate) const ASSUMED: Self = Self {
        clicks: [[CLICK; 2]; 2],
        joints: None,
        sizes: [0.0; 2],
        readout: 0.0,
        off: 50.0,
        told: true,
    };

    /// What the program is told of the sizes.
    fn size_u(&self) -> f64 {
        if self.told { 0.0 } else { USUAL_SIZE_U }
    }

    /// Nothing is told; clicks and sizes are as they usually are.
    pub(crate) const USUAL: Self =
        Self { clicks: [[2.5; 2]; 2], sizes: [0.02; 2], told: false, ..Self::ASSUMED };
}

/// Makes one scene of a quantity: yaw 0 to 50, pitch 0 to 25, roll 0 to 5 degrees, 4 to 15 m; a
/// turn 4 to 8 m away from 1.5 to 3 m high.
pub(crate) fn scene(quantity: Quantity, rng: &mut Rng) -> Scene {
    scene_with(&Effects::ASSUMED, quantity, rng)
}

/// The same as real as is asked for.
pub(crate) fn scene_with(effects: &Effects, quantity: Quantity, rng: &mut Rng) -> Scene {
    loop {
        if let Some(scene) = attempt(effects, quantity, rng) {
            return scene;
        }
    }
}

/// Nothing where a point would fall outside the picture.
fn attempt(effects: &Effects, quantity: Quantity, rng: &mut Rng) -> Option<Scene> {
    let edge = match quantity {
        Quantity::BodyLine | Quantity::Repulsion => 0.0,
        Quantity::OffVertical | Quantity::Trunk => 20.0,
        Quantity::Bend => 30.0,
        Quantity::Twist => 90.0,
        Quantity::Split => 160.0,
        Quantity::Kick | Quantity::HipBend => 60.0,
        Quantity::Turn => 360.0,
        Quantity::Length | Quantity::KneeDistance => 1.0,
        Quantity::Offset => 0.5,
    };
    let spread = match quantity.unit() {
        Unit::Degree => 30.0,
        Unit::Metre | Unit::ShoulderWidth => 0.4,
    };
    let truth = edge + rng.between(-spread, spread);
    let limit = Limit { edge: Magnitude(edge), side: Side::AtLeast };
    let lies = quantity
        .lies()
        .unwrap_or_else(|| if rng.uniform() < 0.5 { Lies::Flat } else { Lies::Upright });
    let mut depth = None;
    // How each point goes while the value grows by one.
    let mut ways: Vec<Place> = Vec::new();
    let (camera, corners, mut frames) = match (lies, quantity) {
        (Lies::Flat, _) => {
            let (camera, corners) = (above(rng), floor(rng));
            let frames = match quantity {
                Quantity::Turn => turn(truth, rng),
                Quantity::Twist => twist(truth, rng),
                _ => vec![placed(apart(quantity, truth, rng), |[x, y]| [x, y, 0.0])],
            };
            (camera, corners, frames)
        }
        (Lies::Upright, Quantity::Length | Quantity::Offset) => {
            let said = Depth { nearer: rng.between(-1.0, 1.0), within: 0.1 };
            let y = -said.nearer + rng.between(-said.within, said.within);
            depth = Some(said);
            let frame = apart(quantity, truth, rng);
            let frame = placed(frame, |[x, z]| [x - 1.0, y, z + 0.6]);
            (beside_within(effects.off, rng), side(rng), vec![frame])
        }
        (Lies::Upright, _) => {
            let mut same = rng.clone();
            let mut still = body(quantity, truth, rng);
            ways =
                out_of_the_plane(effects, &mut still, &body(quantity, truth + 1.0, &mut same), rng);
            (beside_within(effects.off, rng), side(rng), vec![still])
        }
    };
    let speed = (effects.readout > 0.0).then(|| rng.between(100.0, 400.0));
    if let Some(speed) = speed {
        let turned = either(rng) * speed * effects.readout;
        for frame in &mut frames {
            roll(frame, &ways, &camera, turned);
        }
    }
    // Half of the people say how far away the camera stands, give or take a tenth.
    let distance = (depth.is_some() && rng.uniform() < 0.5)
        .then(|| -camera.place[1] * (1.0 + 0.1 * rng.normal()));
    let all = corners.iter().map(|(_, at)| *at);
    let clicked = frames.iter().flatten().map(|(_, at)| *at);
    if !all.chain(clicked).all(|at| camera.shows(at)) {
        return None;
    }
    let [on_body, on_plane] = effects.clicks.map(|[low, high]| rng.between(low, high));
    let wrong = [0, 1].map(|_| {
        let [low, high] = effects.sizes;
        1.0 + either(rng) * rng.between(low, high)
    });
    let mut click =
        |at: Place, s: f64| vec![camera.sees(at) + [s * rng.normal(), s * rng.normal()]];
    let points = corners
        .iter()
        .map(|(OnPlane([x, y]), at)| PlanePoint {
            place: OnPlane([x * wrong[0], y * wrong[1]]),
            along: None,
            placed: click(*at, on_plane),
        })
        .collect();
    let mut look = |frame: &Vec<(&str, Place)>| ClickedFrame {
        spots: frame
            .iter()
            .map(|(name, at)| Spot { name: (*name).to_owned(), placed: click(*at, on_body) })
            .collect(),
        ..ClickedFrame::default()
    };
    let looks = frames.iter().map(&mut look).collect();
    let view = View::Plane(Plane { lies, points, size_u: effects.size_u() });
    let usual = Facts::default();
    let facts = Facts {
        travel: Some(Travel::Right),
        rotation: Rotation::Left,
        about: Degrees(360.0),
        click: if effects.told { on_body } else { usual.click },
        click_freedom: if effects.told { f64::INFINITY } else { usual.click_freedom },
        speed: speed.map(Magnitude),
        depth,
        distance,
        ..usual
    };
    let truth = if quantity.is_size() { truth.abs() } else { truth };
    Some(Scene { input: MeasureInput { quantity, looks, view, facts }, truth, limit })
}

/// Moves joints off the plane, and returns how each goes while the value grows by one.
fn out_of_the_plane(
    effects: &Effects,
    still: &mut [(&'static str, Place)],
    then: &[(&'static str, Place)],
    rng: &mut Rng,
) -> Vec<Place> {
    still
        .iter_mut()
        .zip(then)
        .map(|((_, place), (_, then))| {
            let off = match effects.joints {
                None => 0.05 * rng.normal(),
                Some([low, high]) => either(rng) * rng.between(low, high),
            };
            let way = minus(*then, *place);
            place[1] -= off;
            way
        })
        .collect()
}

/// Rows are read one after another while the limb moves: by `turned` in the time of all rows.
fn roll(frame: &mut [(&'static str, Place)], ways: &[Place], camera: &Camera, turned: f64) {
    let rows: Vec<f64> = frame.iter().map(|(_, at)| camera.sees(*at).0[1]).collect();
    let mean = rows.iter().sum::<f64>() / rows.len() as f64;
    for (((_, at), row), way) in frame.iter_mut().zip(rows).zip(ways) {
        let by = turned * (row - mean) / HEIGHT;
        *at = [0, 1, 2].map(|k| at[k] + by * way[k]);
    }
}

fn either(rng: &mut Rng) -> f64 {
    if rng.uniform() < 0.5 { -1.0 } else { 1.0 }
}

/// A camera that looks at the plane of the movement, no further off square than so many degrees to
/// either side.
pub(crate) fn beside_within(off: f64, rng: &mut Rng) -> Camera {
    let away = rng.between(4.0, 15.0);
    let (yaw, pitch) = (rng.between(-off, off), rng.between(0.0, 25.0));
    let ((sy, cy), (sp, cp)) = (yaw.to_radians().sin_cos(), pitch.to_radians().sin_cos());
    let target = [rng.between(-0.5, 0.5), 0.0, rng.between(1.0, 1.6)];
    let from = [sy * cp, -cy * cp, sp].map(|c| c * away);
    let place = [0, 1, 2].map(|k| target[k] + from[k]);
    // At least 3 m of the hall fit into the picture's height.
    let focal = rng.between(1000.0, 2500.0).min(HEIGHT * away / 3.0);
    Camera::looking_at(place, target, rng.between(-5.0, 5.0), focal)
}

/// A camera that looks down at a turn.
fn above(rng: &mut Rng) -> Camera {
    let (away, height) = (rng.between(4.0, 8.0), rng.between(1.5, 3.0));
    let (sin, cos) = rng.between(-50.0, 50.0).to_radians().sin_cos();
    let place = [1.0 + sin * away, 0.5 - cos * away, height];
    let target = [1.0, 0.5, rng.between(0.0, 0.9)];
    let focal = rng.between(1000.0, 2500.0).min(HEIGHT * away / 2.5);
    Camera::looking_at(place, target, rng.between(-5.0, 5.0), focal)
}

/// Corners of something upright along the movement, four to six of them clicked.
fn side(rng: &mut Rng) -> Vec<(OnPlane, Place)> {
    let (half, top) = (rng.between(1.0, 2.0), rng.between(1.2, 2.4));
    let mut places = vec![[-half, 0.0], [half, 0.0], [half, top], [-half, top]];
    let more = (rng.uniform() * 3.0) as usize;
    places.extend([[0.0, 0.0], [0.0, top]].into_iter().take(more));
    places.into_iter().map(|[x, z]| (OnPlane([x, z]), [x, 0.0, z])).collect()
}

/// Corners of a mat.
fn floor(rng: &mut Rng) -> Vec<(OnPlane, Place)> {
    let (long, wide) = (rng.between(1.8, 2.4), rng.between(0.9, 1.3));
    [[0.0, 0.0], [long, 0.0], [long, wide], [0.0, wide]]
        .into_iter()
        .map(|[x, y]| (OnPlane([x, y]), [x, y, 0.0]))
        .collect()
}

/// A foot of 24 cm at the lift, at the drop and on one frame after.
fn turn(truth: f64, rng: &mut Rng) -> Vec<Vec<(&'static str, Place)>> {
    let heading = rng.between(0.0, 360.0);
    let heel = [rng.between(0.7, 1.3), rng.between(0.3, 0.7), 0.0];
    let foot = |degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        vec![("heel", heel), ("toe", [heel[0] + 0.24 * cos, heel[1] + 0.24 * sin, 0.0])]
    };
    vec![foot(heading), foot(heading + truth), foot(heading + truth)]
}

/// Both hands on the surface, a shoulder's width apart, turned from the way to the right.
fn twist(truth: f64, rng: &mut Rng) -> Vec<Vec<(&'static str, Place)>> {
    let [x, y] = [rng.between(0.7, 1.3), rng.between(0.3, 0.7)];
    let (sin, cos) = truth.to_radians().sin_cos();
    let hand = |side: f64| [x - side * 0.18 * sin, y + side * 0.18 * cos, 0.0];
    vec![vec![("left hand or foot", hand(1.0)), ("right hand or foot", hand(-1.0))]]
}

fn placed(
    points: Vec<(&'static str, [f64; 2])>,
    place: impl Fn([f64; 2]) -> Place,
) -> Vec<(&'static str, Place)> {
    points.into_iter().map(|(name, at)| (name, place(at))).collect()
}

/// The points of a length or an offset in a plane, in metres about (1, 0.5).
fn apart(quantity: Quantity, truth: f64, rng: &mut Rng) -> Vec<(&'static str, [f64; 2])> {
    let (sin, cos) = rng.between(0.0, 360.0).to_radians().sin_cos();
    let middle = [rng.between(0.9, 1.1), rng.between(0.4, 0.6)];
    let at = |along: f64, off: f64| {
        [middle[0] + along * cos - off * sin, middle[1] + along * sin + off * cos]
    };
    if quantity == Quantity::Length {
        return vec![("near end", at(-truth / 2.0, 0.0)), ("far end", at(truth / 2.0, 0.0))];
    }
    vec![
        ("one end of the line", at(-0.6, 0.0)),
        ("other end of the line", at(0.6, 0.0)),
        ("point", at(rng.between(-0.5, 0.5), truth)),
    ]
}

/// The points of one quantity with that angle.
fn body(quantity: Quantity, truth: f64, rng: &mut Rng) -> Vec<(&'static str, Place)> {
    let middle = [rng.between(-0.2, 0.2), 0.0, rng.between(1.1, 1.6)];
    let from = |at: Place, degrees: f64, length: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        [at[0] + length * cos, at[1], at[2] + length * sin]
    };
    let deep = |at: Place, y: f64| [at[0], at[1] + y, at[2]];
    let mut more = || rng.between(0.0, 15.0);
    match quantity {
        Quantity::BodyLine => {
            let lags = lagging([more(), more(), more()]);
            let part = |length: f64, lag: f64| from(middle, truth + lag, length);
            vec![
                ("shoulder", middle),
                ("hip", part(0.5, lags[0])),
                ("knee", part(0.92, lags[1])),
                ("toe", part(1.4, lags[2])),
            ]
        }
        Quantity::OffVertical => {
            let lags = lagging([more(), more(), more()]);
            let low = deep([middle[0], 0.0, middle[2] - 0.7], 0.0);
            let less = |lag: f64| truth - lag.min(2.0 * truth.abs()) * truth.signum();
            let part = |length: f64, lag: f64| from(low, 90.0 - less(lag), length);
            vec![
                ("shoulder", low),
                ("hip", part(0.5, lags[0])),
                ("knee", part(0.92, lags[1])),
                ("toe", part(1.4, lags[2])),
            ]
        }
        Quantity::Repulsion => {
            let hands = [middle[0], 0.0, middle[2] - 0.4];
            let hips = from(hands, 90.0 - truth, 1.1);
            vec![
                ("left hand", deep(hands, -0.18)),
                ("right hand", deep(hands, 0.18)),
                ("left hip", deep(hips, -0.1)),
                ("right hip", deep(hips, 0.1)),
            ]
        }
        Quantity::Split => {
            let front = truth / 2.0 + more() - 7.5;
            let [left, right] = [deep(middle, -0.1), deep(middle, 0.1)];
            vec![
                ("left hip", left),
                ("left ankle", from(left, front - 90.0, 0.84)),
                ("right hip", right),
                ("right ankle", from(right, -90.0 - (truth - front), 0.84)),
            ]
        }
        Quantity::Trunk => {
            vec![("hip", middle), ("shoulder", from(middle, 90.0 - truth, 0.5))]
        }
        Quantity::Bend => {
            let limb = more() * 24.0;
            vec![
                ("near end", from(middle, limb + 180.0, 0.42)),
                ("joint", middle),
                ("far end", from(middle, limb + truth, 0.42)),
            ]
        }
        Quantity::HipBend => {
            let trunk = more() * 24.0;
            vec![
                ("shoulder", from(middle, trunk + 180.0, 0.5)),
                ("hip", middle),
                ("knee", from(middle, trunk + truth, 0.42)),
            ]
        }
        Quantity::KneeDistance => {
            let [knees, shoulders] = [more() - 7.5, more() - 7.5];
            let low = [middle[0], 0.0, middle[2] - 0.8];
            let ends = |at: Place, tilt: f64, wide: f64| {
                [from(at, tilt, wide / 2.0), from(at, tilt + 180.0, wide / 2.0)]
            };
            let [left_knee, right_knee] = ends(low, knees, truth * SHOULDERS);
            let [left_shoulder, right_shoulder] = ends(middle, shoulders, SHOULDERS);
            vec![
                ("left knee", left_knee),
                ("right knee", right_knee),
                ("left shoulder", left_shoulder),
                ("right shoulder", right_shoulder),
            ]
        }
        _ => vec![("hip", middle), ("ankle", from(middle, truth - 90.0, 0.84))],
    }
}

/// One part lags by nothing and makes the angle; which one is as it falls.
fn lagging(by: [f64; 3]) -> [f64; 3] {
    let least = by.into_iter().fold(f64::INFINITY, f64::min);
    by.map(|lag| lag - least)
}

fn minus(a: Place, b: Place) -> Place {
    [0, 1, 2].map(|k| a[k] - b[k])
}

fn dot(a: Place, b: Place) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Place, b: Place) -> Place {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn unit(a: Place) -> Place {
    let size = dot(a, a).sqrt();
    a.map(|c| c / size)
}
