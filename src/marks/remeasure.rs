//! Readings worked out anew from their points.

use crate::{
    geometry::{
        self, ErrorSource, Limit, MeasureInput, Measured, PlaneFit, Refusal, Share, Sight, Verdict,
        input::{
            CameraHeight, ClickedFrame, Depth, Facts, Plane, PlanePoint, Rotation, Spot, View,
        },
        measure,
    },
    units::{Coded, Degrees, FrameRef, Magnitude, Shown, TimeBase, Upright},
};

use super::{
    camera::{Since, since},
    model::{At, ClickedPoint, ClipFacts, How, Id, Quantity, Reading, ReferencePlane, Sheaf},
    placing,
};

/// What became of one reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Remeasured {
    /// The reading.
    pub id: Id,
    /// What it is of.
    pub quantity: Quantity,
    /// Value and standard uncertainty as stored.
    pub stored: [Magnitude; 2],
    /// What its points give now.
    pub outcome: Outcome,
}

/// What the points of a reading give.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It has no points: a person stated it.
    Stated,
    /// A value.
    Measured(Measured),
    /// No value, for this reason.
    Refused(Refusal),
}

impl Remeasured {
    /// Returns the sentence that tells of a change against the stored value, if there is one to
    /// tell: more than the smallest difference that is written.
    pub fn change(&self) -> Option<String> {
        let Outcome::Measured(now) = &self.outcome else { return None };
        let [value, u] = self.stored;
        let unit = self.quantity.unit();
        let told = unit.step();
        let is_same = (now.value.0 - value.0).abs() < told && (now.u.0 - u.0).abs() < told;
        let [was, is] = [unit.write_with(value, u), unit.write_with(now.value, now.u)];
        (!is_same).then(|| format!("was {was} when last shown, is {is} now"))
    }
}

/// What is assumed where nobody says how squarely the camera stood: the usual advice for filming.
pub(crate) const USUAL_OFF_SQUARE: Degrees = Degrees(20.0);

/// By how many metres a depth may be off where nobody says: half a trunk.
pub(super) const USUAL_DEPTH_WITHIN: f64 = 0.1;

/// Works every reading out anew, in the order of the file.
pub fn remeasure(sheaf: &Sheaf) -> Vec<Remeasured> {
    sheaf
        .readings
        .iter()
        .map(|reading| Remeasured {
            id: reading.id,
            quantity: reading.quantity,
            stored: [reading.value, reading.u],
            outcome: match measure_input(sheaf, reading) {
                _ if reading.points.is_empty() => Outcome::Stated,
                Ok(input) => measure(&input).map_or_else(Outcome::Refused, Outcome::Measured),
                Err(refusal) => Outcome::Refused(refusal),
            },
        })
        .collect()
}

/// Puts values worked out anew into the readings, with the version of the program; what was
/// refused keeps the value it had.
pub fn renew(sheaf: &mut Sheaf) -> Vec<Remeasured> {
    let all = remeasure(sheaf);
    let cameras: Vec<Since> = sheaf.readings.iter().map(|it| camera_since(sheaf, it)).collect();
    for ((reading, again), since) in sheaf.readings.iter_mut().zip(&all).zip(cameras) {
        if let Outcome::Measured(measured) = &again.outcome {
            reading.take(measured, since);
        }
    }
    all
}

impl Reading {
    /// Puts what was measured into the reading, with its interval and the version of the program.
    pub fn take(&mut self, measured: &Measured, since: Since) {
        (self.value, self.u) = (measured.value, measured.u);
        self.how.interval = Some(measured.interval);
        let camera = since.warning();
        let worst = most_of_it(&self.how, measured);
        self.how.warnings = camera.into_iter().chain(worst).collect();
        self.how.program = Some(env!("CARGO_PKG_VERSION").to_owned());
    }
}

impl Reading {
    /// Returns what the reading says of a limit: by its own interval where it was measured, which
    /// may reach farther to one side, else by its standard uncertainty.
    pub fn decide(&self, limit: Limit) -> Verdict {
        let holds = |[low, high]: &[Magnitude; 2]| *low <= self.value && self.value <= *high;
        match self.how.interval.filter(holds) {
            Some(interval) => geometry::decide_between(self.value, interval, limit),
            None => geometry::decide(self.value, self.u, limit),
        }
    }
}

/// Returns what a reader of the sheet should know of the uncertainty: a camera that may be off square,
/// where that is much of it, else the cause that is most of it and what would lower it.
fn most_of_it(how: &How, measured: &Measured) -> Option<String> {
    let is_much = |share: &Share| share.u.0 > MUCH * measured.u.0;
    let camera = measured.budget.iter().find(|share| share.cause == ErrorSource::CameraAngle);
    if camera.is_some_and(is_much) {
        let off = how.off_square.unwrap_or(USUAL_OFF_SQUARE);
        return Some(format!(
            "The camera may be off square by up to {off}; click a plane of known size, or film \
             squarely."
        ));
    }
    // Of a camera that moved its own warning tells.
    let told = [ErrorSource::Clicks, ErrorSource::CameraMoved];
    let worst = measured.budget.first().filter(|share| !told.contains(&share.cause));
    worst.filter(|share| is_much(share)).map(|share| {
        let (cause, help) = (share.cause.words(), share.cause.help());
        format!("Most of the uncertainty is {cause}; {help}.")
    })
}

/// From this share of the uncertainty on, a cause is worth a warning: a quarter of its square.
const MUCH: f64 = 0.5;

/// Measures a reading and returns it with its value, uncertainty and the program's version; of
/// three frames about a peak it is put on the one with the largest angle.
pub fn measured(sheaf: &Sheaf, reading: &Reading) -> Result<(Reading, Measured), Refusal> {
    let mut reading = on_its_peak(sheaf, reading);
    let measured = measure(&measure_input(sheaf, &reading)?)?;
    let since = camera_since(sheaf, &reading);
    reading.take(&measured, since);
    Ok((reading, measured))
}

/// Returns what is known of the camera since the plane of a reading was clicked.
pub fn camera_since(sheaf: &Sheaf, reading: &Reading) -> Since {
    let plane = reading.how.plane.as_deref().and_then(|name| sheaf.plane(name));
    plane.map_or(Since::Same, |plane| since(reading, plane))
}

fn on_its_peak(sheaf: &Sheaf, reading: &Reading) -> Reading {
    let frames = placing::frames(reading);
    if !reading.quantity.is_read_at_its_peak() || frames.len() < 2 {
        return reading.clone();
    }
    let alone = |frame: &FrameRef| -> Option<f64> {
        let mut one = placing::settled_on(reading, frame);
        one.points.retain(|point| point.frame.is_none());
        Sight::of(&measure_input(sheaf, &one).ok()?).ok()?.value().map(|value| value.0)
    };
    let largest = frames
        .iter()
        .filter_map(|frame| Some((alone(frame)?, frame)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    largest.map_or_else(|| reading.clone(), |(_, frame)| placing::settled_on(reading, frame))
}

/// Returns what the points of a reading are measured from.
pub(crate) fn measure_input(sheaf: &Sheaf, reading: &Reading) -> Result<MeasureInput, Refusal> {
    let clip = sheaf.clip.as_ref().ok_or(Refusal::NoClip)?;
    let upright = shown(clip);
    let how = &reading.how;
    let plane = match &how.plane {
        None => None,
        Some(name) => Some(
            sheaf
                .planes
                .iter()
                .find(|plane| plane.name == *name)
                .ok_or_else(|| Refusal::NoPlane { name: name.clone() })?,
        ),
    };
    let [width, height] = upright.shown_size().map(f64::from);
    let usual = Facts::default();
    let [line, level] = lines(how, plane, &upright)?;
    Ok(MeasureInput {
        quantity: reading.quantity,
        looks: looks(reading, &upright, clip.time_base)?,
        view: view(reading, line, plane, &upright),
        facts: Facts {
            travel: how.travel,
            rotation: how.rotation.unwrap_or(Rotation::Left),
            about: how.about.unwrap_or(Degrees(360.0)),
            click: how.click.unwrap_or(usual.click),
            // What a person says of her clicks is taken as known; what was learnt is as good as that.
            click_freedom: match (how.click, how.click_freedom) {
                (None, _) => usual.click_freedom,
                (Some(_), None) => f64::INFINITY,
                (Some(_), Some(freedom)) => freedom.max(1.0),
            },
            joint_depth: how.joint_depth.unwrap_or(usual.joint_depth),
            side: how.side.unwrap_or_default(),
            pitch: how.height.map(CameraHeight::pitch),
            speed: how.speed,
            exposure: how.exposure.unwrap_or(0.0),
            heel_height: how.heel_height.unwrap_or(0.0),
            depth: how.depth.map(|nearer| Depth {
                nearer,
                within: how.depth_within.unwrap_or(USUAL_DEPTH_WITHIN),
            }),
            level,
            distance: how.distance,
            camera_moved: match plane.map(|plane| since(reading, plane)) {
                Some(Since::Told(moved)) => moved.pixels.hypot(moved.u),
                _ => 0.0,
            },
            centre: Shown([width / 2.0, height / 2.0]),
        },
    })
}

fn shown(clip: &ClipFacts) -> Upright {
    let orientation = clip.orientation_override.unwrap_or(clip.upright.orientation);
    Upright { orientation, ..clip.upright }
}

/// Returns the line that was clicked, with a level edge beside it where it is an upright.
fn lines(
    how: &How,
    plane: Option<&ReferencePlane>,
    upright: &Upright,
) -> Result<[Option<[Shown; 2]>; 2], Refusal> {
    let shown = |line: Option<[Coded; 2]>| line.map(|line| line.map(|at| upright.to_shown(at)));
    let lies_level = |[a, b]: [Shown; 2]| {
        let [x, y] = b - a;
        x.abs() > y.abs()
    };
    match (shown(how.line), shown(how.level).filter(|_| plane.is_none())) {
        (Some(a), Some(b)) if lies_level(a) == lies_level(b) => Err(Refusal::LinesAlike),
        (Some(a), Some(b)) if lies_level(a) => Ok([Some(b), Some(a)]),
        both => Ok(both.into()),
    }
}

fn view(
    reading: &Reading,
    line: Option<[Shown; 2]>,
    plane: Option<&ReferencePlane>,
    upright: &Upright,
) -> View {
    let line = line.map_or([Vec::new(), Vec::new()], |line| line.map(|at| vec![at]));
    let Some(plane) = plane else {
        let off_square = reading.how.off_square.unwrap_or(USUAL_OFF_SQUARE);
        return View::Picture { line, off_square };
    };
    let fitted = as_shown(plane, upright);
    if placing::stands(plane.lies, reading) {
        View::Standing { floor: fitted, line }
    } else {
        View::Plane(fitted)
    }
}

/// Returns how well the points of a plane fit it, or why it cannot be used.
pub(crate) fn check_plane(sheaf: &Sheaf, plane: &ReferencePlane) -> Result<PlaneFit, Refusal> {
    let clip = sheaf.clip.as_ref().ok_or(Refusal::NoClip)?;
    geometry::check_plane(&as_shown(plane, &shown(clip)))
}

/// A point that was never clicked ties nothing.
fn as_shown(plane: &ReferencePlane, upright: &Upright) -> Plane {
    let clicked = plane.points.iter().filter(|point| !point.coded.is_empty());
    Plane {
        lies: plane.lies,
        size_u: plane.size_u,
        points: clicked
            .map(|point| PlanePoint {
                place: point.place,
                along: point.along,
                placed: point.coded.iter().map(|at| upright.to_shown(*at)).collect(),
            })
            .collect(),
    }
}

/// The reading's own frames first, then the others by time.
fn looks(
    reading: &Reading,
    upright: &Upright,
    base: TimeBase,
) -> Result<Vec<ClickedFrame>, Refusal> {
    let mut frames = match reading.at {
        At::Span(from, to) if reading.quantity == Quantity::Turn => vec![from, to],
        At::Frame(frame) | At::Span(frame, _) => vec![frame],
        At::Place(_) => return Err(Refusal::NoFrame),
    };
    let own = frames.clone();
    let mut others: Vec<FrameRef> = reading.points.iter().filter_map(|p| p.frame).collect();
    others.retain(|frame| own.iter().all(|known| known.order() != frame.order()));
    others.sort_by_key(FrameRef::order);
    others.dedup_by_key(|frame| frame.order());
    frames.extend(others);
    let is_on = |point: &ClickedPoint, frame: &FrameRef| {
        point.frame.unwrap_or(own[0]).order() == frame.order()
    };
    Ok(frames
        .iter()
        .map(|frame| ClickedFrame {
            seconds: base.seconds(frame.ticks),
            instant: [frame.lo, frame.hi].map(|ticks| base.seconds(ticks)),
            spots: spots(reading.points.iter().filter(|point| is_on(point, frame)), upright),
        })
        .collect())
}

fn spots<'a>(points: impl Iterator<Item = &'a ClickedPoint>, upright: &Upright) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Vec::new();
    for point in points {
        let at = upright.to_shown(point.coded);
        match spots.iter_mut().find(|spot| spot.name == point.name) {
            Some(spot) => spot.placed.push(at),
            None => spots.push(Spot { name: point.name.clone(), placed: vec![at] }),
        }
    }
    spots
}
