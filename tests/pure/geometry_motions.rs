//! Motions of the sample clips generator, on both sides of their limits, seen by cameras anywhere
//! and measured: what the program finds against what the generator knows.

use sample_clips_generator::{
    Camera, Options, Params, Truth,
    camera::View as Eye,
    figure::V3,
    truth::{Event, EventKind, FrameTruth},
    truth_of,
};
use stillcall::{
    geometry::{
        Lies, Limit, MeasureInput, Measured, Quantity, Refusal, Side, Verdict,
        input::{ClickedFrame, Facts, Plane, PlanePoint, Rotation, Spot, Travel, View},
        measure,
        rng::Rng,
    },
    units::{Magnitude, OnPlane, Shown},
};

pub(crate) const SIZE: (u32, u32) = (1920, 1080);
pub(crate) const CLICK: f64 = 1.0;

/// A motion seen by a camera.
pub(crate) struct Filmed {
    pub truth: Truth,
    pub eye: Eye,
    rng: Rng,
}

/// Stands `yaw` and `pitch` degrees off square and looks at `target` from `away` metres.
pub(crate) fn camera(target: [f64; 3], yaw: f64, pitch: f64, away: f64) -> Camera {
    let ((sy, cy), (sp, cp)) = (yaw.to_radians().sin_cos(), pitch.to_radians().sin_cos());
    let forward = [sy * cp, cy * cp, -sp];
    let at = [0, 1, 2].map(|k| target[k] - away * forward[k]);
    Camera { at, yaw, pitch: -pitch, roll: 2.0, focal: 260.0 * away }
}

impl Filmed {
    pub(crate) fn new(motion: &str, params: Params, camera: Camera) -> Self {
        let options = Options {
            size: SIZE,
            rate: (60, 1),
            params,
            camera: Some(camera),
            ..Options::new(motion, "never-written.mp4")
        };
        let truth = truth_of(&options).unwrap();
        Self { truth, eye: Eye { camera, size: SIZE }, rng: Rng::new(17) }
    }

    pub(crate) fn event(&self, kind: EventKind, part: &str) -> Event {
        let is_it = |event: &&Event| event.kind == kind && event.part == part;
        let found = self.truth.events.iter().find(is_it);
        found.unwrap_or_else(|| panic!("no {kind:?} of {part:?}: {:?}", self.truth.events)).clone()
    }

    pub(crate) fn frame(&self, frame: u64) -> &FrameTruth {
        &self.truth.frames[frame as usize]
    }

    /// The frame, from this one on, on which the knees are furthest apart across the way.
    pub(crate) fn widest_knees(&self, from: u64) -> u64 {
        let apart = |frame: &&FrameTruth| {
            let [l, r] = ["left_knee", "right_knee"].map(|knee| frame.joints[knee].m[1]);
            (l - r).abs()
        };
        let later = self.truth.frames.iter().filter(|frame| frame.frame >= from);
        later.max_by(|a, b| apart(a).total_cmp(&apart(b))).unwrap().frame
    }

    fn click(&mut self, at: [f64; 2]) -> Vec<Shown> {
        vec![Shown(at) + [CLICK * self.rng.normal(), CLICK * self.rng.normal()]]
    }

    /// Clicks a point of the hall.
    pub(crate) fn corner(&mut self, at: [f64; 3]) -> Vec<Shown> {
        let (x, y, _) = self.eye.project(V3::from(at)).unwrap();
        self.click([x, y])
    }

    /// Clicks the middle of joints on a frame; each spot has a name and its joints.
    pub(crate) fn look(&mut self, frame: u64, spots: &[(&str, &[&str])]) -> ClickedFrame {
        let seen = self.frame(frame).clone();
        let middle = |joints: &[&str]| {
            let sum = joints.iter().fold([0.0, 0.0], |[x, y], joint| {
                let [u, v] = seen.joints[*joint].px.unwrap();
                [x + u, y + v]
            });
            sum.map(|c| c / joints.len() as f64)
        };
        let spots = spots.iter().map(|(name, joints)| Spot {
            name: (*name).to_owned(),
            placed: self.click(middle(joints)),
        });
        ClickedFrame { spots: spots.collect(), seconds: seen.time_s, instant: [seen.time_s; 2] }
    }

    /// A rectangle upright along x at depth `y`, or flat at height `z`, by two opposite corners.
    pub(crate) fn plane(&mut self, lies: Lies, [lo, hi]: [[f64; 3]; 2]) -> View {
        let corners = match lies {
            Lies::Upright => [[0, 0], [1, 0], [1, 1], [0, 1]].map(|[i, j]: [usize; 2]| {
                let at = [[lo, hi][i][0], lo[1], [lo, hi][j][2]];
                ([at[0], at[2]], at)
            }),
            Lies::Flat => [[0, 0], [1, 0], [1, 1], [0, 1]].map(|[i, j]: [usize; 2]| {
                let at = [[lo, hi][i][0], [lo, hi][j][1], hi[2]];
                ([at[0], at[1]], at)
            }),
        };
        let points = corners.map(|(place, at)| PlanePoint {
            place: OnPlane(place),
            along: None,
            placed: self.corner(at),
        });
        View::Plane(Plane { lies, points: points.to_vec(), size_u: 0.0 })
    }
}

fn facts() -> Facts {
    Facts {
        travel: Some(Travel::Right),
        rotation: Rotation::Left,
        click: CLICK,
        ..Facts::default()
    }
}

fn ask(quantity: Quantity, looks: Vec<ClickedFrame>, view: View) -> Result<Measured, Refusal> {
    let centre = Shown([f64::from(SIZE.0) / 2.0, f64::from(SIZE.1) / 2.0]);
    measure(&MeasureInput { quantity, looks, view, facts: Facts { centre, ..facts() } })
}

/// Three and a half standard uncertainties: one in two thousand misses it, and nothing is drawn
/// anew from run to run.
#[track_caller]
pub(crate) fn finds(measured: &Measured, truth: f64, of: &str) {
    let off = measured.value.0 - truth;
    assert!(off.abs() <= 3.5 * measured.u.0, "{of}: {off} off {truth}, u {}", measured.u.0);
}

#[track_caller]
pub(crate) fn decides(measured: &Measured, edge: f64, truth: f64, of: &str) {
    let limit = Limit { edge: Magnitude(edge), side: Side::AtLeast };
    let right = if limit.holds(Magnitude(truth)) { Verdict::Clear } else { Verdict::NotMet };
    let found = measured.decide(limit);
    assert!(found == right || found == Verdict::Close, "{of}: {found:?} of {truth} at {edge}");
    if (truth - edge).abs() > 4.0 * measured.u.0 {
        assert_eq!(found, right, "{of}: {truth} is far from {edge}");
    }
}

/// Cameras to either side, level and from above, near and far.
pub(crate) const VIEWS: [[f64; 3]; 5] =
    [[0.0, 2.0, 7.0], [25.0, 8.0, 6.0], [-25.0, 3.0, 9.0], [45.0, 15.0, 8.0], [-40.0, 0.0, 12.0]];

pub(crate) const BEAM: [[f64; 3]; 2] = [[-2.5, -0.05, 0.20], [2.5, -0.05, 1.25]];

#[test]
fn kicks_on_both_sides_of_their_limits() {
    for [yaw, pitch, away] in VIEWS {
        for peak in [40.0, 45.0, 60.0] {
            let params = Params { peak: Some(peak), turn: None };
            let view = camera([-0.3, 0.0, 1.6], yaw, pitch, away);
            let mut film = Filmed::new("beam-kick", params, view);
            let top = film.event(EventKind::HighestKick, "right_leg");
            let leg: &[(&str, &[&str])] = &[("hip", &["right_hip"]), ("ankle", &["right_ankle"])];
            let frames = [top.frame, top.frame - 2, top.frame + 2];
            let looks = frames.map(|frame| film.look(frame, leg)).to_vec();
            let plane = film.plane(Lies::Upright, BEAM);
            let measured = ask(Quantity::Kick, looks, plane).unwrap();
            let of = format!("kick {peak} from {yaw}");
            finds(&measured, top.degrees.unwrap(), &of);
            for edge in [30.0, 42.5, 52.5, 70.0] {
                decides(&measured, edge, peak, &of);
            }
        }
    }
}

#[test]
fn splits_on_both_sides_of_their_limits() {
    for [yaw, pitch, away] in VIEWS {
        for peak in [120.0, 160.0, 180.0] {
            let params = Params { peak: Some(peak), turn: None };
            let view = camera([0.2, 0.0, 1.9], yaw, pitch, away);
            let mut film = Filmed::new("beam-leap", params, view);
            let top = film.event(EventKind::WidestSplit, "");
            let legs: &[(&str, &[&str])] = &[
                ("left hip", &["left_hip"]),
                ("left ankle", &["left_ankle"]),
                ("right hip", &["right_hip"]),
                ("right ankle", &["right_ankle"]),
            ];
            let looks = vec![film.look(top.frame, legs)];
            let truth = film.frame(top.frame).angles.split;
            let plane = film.plane(Lies::Upright, BEAM);
            let measured = ask(Quantity::Split, looks, plane).unwrap();
            let of = format!("split {peak} from {yaw}");
            finds(&measured, truth, &of);
            for edge in [110.0, 140.0, 170.0] {
                decides(&measured, edge, truth, &of);
            }
        }
    }
}

/// The mat below and the high rail above, on the near uprights.
const BARS: [[f64; 3]; 2] = [[-0.80, -1.2, 0.20], [0.85, -1.2, 2.48]];

#[test]
fn of_a_cast_with_heels_above_and_hips_below_the_hips_count() {
    let body: &[(&str, &[&str])] = &[
        ("shoulder", &["left_shoulder", "right_shoulder"]),
        ("hip", &["left_hip", "right_hip"]),
        ("knee", &["left_knee", "right_knee"]),
        ("heel", &["left_heel", "right_heel"]),
    ];
    let casts = [("bars-routine", None), ("bars-routine-clean", Some(25.0))];
    for ([yaw, pitch, away], (motion, peak)) in VIEWS.into_iter().zip(casts.into_iter().cycle()) {
        let view = camera([-1.0, 0.0, 1.7], yaw, pitch, away);
        let mut film = Filmed::new(motion, Params { peak, turn: None }, view);
        let top = film.event(EventKind::CastPeak, "");
        let looks = vec![film.look(top.frame, body)];
        let truth = film.frame(top.frame).angles.body_line;
        let lowest = truth.hip.min(truth.knee).min(truth.heel);
        let plane = film.plane(Lies::Upright, BARS);
        let measured = ask(Quantity::BodyLine, looks, plane).unwrap();
        let of = format!("{motion} from {yaw}");
        finds(&measured, lowest, &of);
        decides(&measured, 0.0, lowest, &of);
        if peak.is_none() {
            assert!(truth.heel > 3.0 && truth.hip < -3.0, "{truth:?}");
            assert!(measured.notes[0].ends_with("the hip counts."), "{of}: {:?}", measured.notes);
        }
    }
}

/// Near side of the stack.
const STACK: [[f64; 3]; 2] = [[0.0, -1.525, 0.0], [1.52, -1.525, 0.81]];

/// From before vertical to far past it; the instant runs from the last frame on which a hand
/// touches to the first one clear, and the angle at the release itself lies within.
#[test]
fn repulsion_from_before_vertical_to_far_past_it() {
    let arms: &[(&str, &[&str])] = &[
        ("left hand", &["left_hand"]),
        ("right hand", &["right_hand"]),
        ("left hip", &["left_hip"]),
        ("right hip", &["right_hip"]),
    ];
    for [yaw, pitch, away] in VIEWS {
        for past in [-18.0, -4.0, 12.0, 30.0, 62.0] {
            let params = Params { peak: Some(past), turn: None };
            let view = camera([0.6, 0.0, 1.3], yaw, pitch, away);
            let mut film = Filmed::new("vault-handspring-clean", params, view);
            let off = film.event(EventKind::HandRelease, "left_hand");
            let mut last = film.look(off.frame_before, arms);
            let after = film.look(off.frame, arms);
            last.instant = [last.seconds, after.seconds];
            let [a, b] =
                [off.frame_before, off.frame].map(|it| film.frame(it).angles.hands_to_hips);
            let share = (off.time_s - last.seconds) / (after.seconds - last.seconds);
            let truth = a + (b - a) * share;
            // The hands are clear a little later than the arms let go.
            assert!((-2.0..12.0).contains(&(truth - past)), "{truth} for {past}");
            let plane = film.plane(Lies::Upright, STACK);
            let measured = ask(Quantity::Repulsion, vec![last, after], plane).unwrap();
            let of = format!("repulsion {past} from {yaw}");
            let [low, high] = measured.interval;
            let slack = measured.u.0;
            assert!(
                low.0 - slack <= truth && truth <= high.0 + slack,
                "{of}: {truth} {low:?} {high:?}"
            );
            for edge in [0.0, 20.0, 45.0, 75.0] {
                decides(&measured, edge, truth, &of);
            }
        }
    }
}

/// The trunk alone: hips over shoulders while a leg lags by 50 degrees, and a trunk short of it.
#[test]
fn hips_over_shoulders_with_a_lagging_leg() {
    let trunk: &[(&str, &[&str])] = &[
        ("shoulder", &["left_shoulder", "right_shoulder"]),
        ("hip", &["left_hip", "right_hip"]),
        ("toe", &["right_toe"]),
    ];
    for [yaw, pitch, away] in VIEWS {
        for off in [0.0, 8.0, 25.0] {
            let params = Params { peak: Some(off), turn: None };
            let view = camera([0.1, 0.0, 1.8], yaw, pitch, away);
            let mut film = Filmed::new("beam-handstand", params, view);
            let end = film.truth.frames.len() as u64 - 2;
            let looks = vec![film.look(end, trunk)];
            let truth = film.frame(end).angles.inverted;
            assert!((truth - off).abs() < 3.0, "{truth} for {off}");
            let plane = film.plane(Lies::Upright, BEAM);
            let of = format!("trunk {off} from {yaw}");
            let measured = ask(Quantity::Trunk, looks.clone(), plane.clone()).unwrap();
            finds(&measured, truth, &of);
            decides(&measured, 15.0, truth, &of);
            let whole = ask(Quantity::OffVertical, looks, plane).unwrap();
            assert!(whole.value.0 > truth + 10.0, "{of}: the leg enters the whole body");
        }
    }
}

/// Quarters at the hands: none, one and two, on the stack's top.
#[test]
fn a_vault_with_a_quarter_on_is_a_quarter_on() {
    let top = [[0.0, -1.525, 0.81], [1.52, 1.525, 0.81]];
    let hands: &[(&str, &[&str])] =
        &[("left hand or foot", &["left_hand"]), ("right hand or foot", &["right_hand"])];
    for [yaw, pitch, away] in [[0.0, 12.0, 7.0], [30.0, 20.0, 6.0], [-25.0, 15.0, 9.0]] {
        for quarters in [0.0, 1.0, 2.0] {
            let params = Params { peak: None, turn: Some(90.0 * quarters) };
            let view = camera([0.6, 0.0, 1.0], yaw, pitch, away);
            let mut film = Filmed::new("vault-half-on", params, view);
            let down = film.event(EventKind::HandRelease, "left_hand").frame_before - 3;
            let looks = vec![film.look(down, hands)];
            let [l, r] = ["left_hand", "right_hand"].map(|hand| film.frame(down).joints[hand].m);
            let facing = (r[0] - l[0]).atan2(l[1] - r[1]).to_degrees().abs();
            let plane = film.plane(Lies::Flat, top);
            let measured = ask(Quantity::Twist, looks, plane).unwrap();
            let of = format!("{quarters} quarters from {yaw}");
            finds(&measured, facing, &of);
            assert_eq!((measured.value.0 / 90.0).round(), quarters, "{of}");
        }
    }
}

/// From heel lift to the first heel drop, on a beam seen from above; a camera barely higher than
/// the beam is refused.
#[test]
fn a_full_turn_on_beam_ends_at_the_first_heel() {
    let foot: &[(&str, &[&str])] = &[("heel", &["left_heel"]), ("toe", &["left_toe"])];
    let top = [[-2.5, -0.05, 1.25], [2.5, 0.05, 1.25]];
    // The beam's top is too narrow to tie anything, but the mat under it has the same directions.
    let mat = [[-1.2, -1.25, 0.20], [1.4, 1.25, 0.20]];
    for size in [345.0, 352.0, 360.0, 375.0] {
        for [yaw, pitch, away] in [[0.0, 25.0, 4.0], [25.0, 35.0, 4.5], [-20.0, 30.0, 4.0]] {
            let params = Params { peak: None, turn: Some(size) };
            let view = camera([0.1, 0.0, 1.3], yaw, pitch, away);
            let view = Camera { focal: 2.0 * view.focal, ..view };
            let mut film = Filmed::new("turn-beam", params, view);
            let lift = film.event(EventKind::HeelLift, "left_foot");
            let drop = film.event(EventKind::HeelDrop, "left_foot");
            let other = film.event(EventKind::HeelDrop, "right_foot");
            assert!(other.frame > drop.frame, "both come down, the turned one first");
            let looks = [lift.frame_before, drop.frame].map(|it| film.look(it, foot)).to_vec();
            let [before, after] =
                [lift.frame_before, drop.frame].map(|it| film.frame(it).angles.heading[0].unwrap());
            let turned = (after - before - size + 180.0).rem_euclid(360.0) - 180.0 + size;
            assert!((turned - size).abs() < 3.0, "{turned} for {size}");
            let narrow = film.plane(Lies::Flat, top);
            let refused = ask(Quantity::Turn, looks.clone(), narrow).unwrap_err();
            assert_eq!(refused, Refusal::InLine);
            let plane = film.plane(Lies::Flat, mat);
            let measured = ask(Quantity::Turn, looks, plane).unwrap();
            let of = format!("turn {size} from {yaw}");
            let slack = 3.5 * measured.u.0 + HEEL_UP;
            assert!((measured.value.0 - turned).abs() < slack, "{of}: {}", measured.value.0);
        }
    }
    let low = camera([0.1, 0.0, 1.3], 0.0, 1.0, 6.0);
    let mut film = Filmed::new("turn-beam", Params::default(), low);
    let frames = [EventKind::HeelLift, EventKind::HeelDrop].map(|it| film.event(it, "left_foot"));
    let looks = frames.map(|it| film.look(it.frame, foot)).to_vec();
    let plane = film.plane(Lies::Flat, mat);
    let refused = ask(Quantity::Turn, looks, plane).unwrap_err();
    let said = refused.to_string();
    assert!(said.contains("by eye") || said.contains("past, not past"), "{said}");
}

/// A heel that the generator counts as down may be 12 mm up, which turns the foot in the picture by
/// a few degrees.
const HEEL_UP: f64 = 4.0;
