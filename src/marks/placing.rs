//! What is clicked next for a reading, and what a click makes of it; pure, whoever asks.

use super::model::{At, ClickedPoint, Quantity, Reading};
use crate::{
    geometry::{
        Lies, ReadAt,
        input::{Rotation, Travel},
    },
    units::{Coded, Degrees, FrameRef},
};

/// What is asked for next.
#[derive(Clone, Debug, PartialEq)]
pub enum PointAsked {
    /// A point of the body, to be clicked on the frame on screen.
    Point(String),
    /// One of the two points of a line, the first or the second.
    Line(usize),
    /// Another frame: its number, or the first on which a heel is down.
    GoTo(Option<FrameRef>),
    /// The direction of travel in the picture.
    Travel,
    /// Which way the turn goes.
    Rotation,
    /// About how far the turn goes.
    About,
    /// How much nearer to the camera than the plane a length lies.
    Depth,
    /// How far the camera stands from the plane.
    Distance,
    /// Nothing: it can be kept, and every click is a point placed again only when that is wished.
    Nothing,
}

/// What is settled while points are being placed and need not outlast it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Aids {
    /// How often each point is to be placed beyond the first time.
    pub again: usize,
    /// Points that cannot be seen: frame and name.
    pub skipped: Vec<(FrameRef, String)>,
    /// Points for which a bent leg's knee stands in.
    pub bent: Vec<String>,
    /// Whether a plumb or level line is wished for.
    pub wants_line: bool,
    /// The first point of a line whose second is still missing.
    pub line: Option<Coded>,
    /// Which way the reading's plane lies, where it has one.
    pub lies: Option<Lies>,
    /// Whether the plane does not tell how far the camera stands.
    pub needs_distance: bool,
    /// What is being changed step by step, though it has a value.
    pub dial: Option<Dial>,
}

/// What is said in metres, step by step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dial {
    /// How much nearer to the camera than the plane.
    Depth,
    /// How far the camera stands from the plane.
    Distance,
}

/// Returns what is asked for next with `frame` on screen.
pub fn ask(reading: &Reading, aids: &Aids, frame: &FrameRef) -> PointAsked {
    if let Some(ask) = turn_frame(reading, aids, frame) {
        return ask;
    }
    if let Some(name) = missing(reading, aids, frame) {
        return PointAsked::Point(name);
    }
    if reading.quantity == Quantity::Turn
        && let Some(ask) = drop_missing(reading, aids)
    {
        return ask;
    }
    let stands = aids.lies.is_some_and(|lies| stands(lies, reading));
    if wants_line(reading, aids, stands) {
        return PointAsked::Line(usize::from(aids.line.is_some()));
    }
    if let Some(ask) = depth(reading, aids, stands) {
        return ask;
    }
    let is_turn = reading.quantity == Quantity::Turn;
    if reading.quantity.needs_travel() && reading.how.travel.is_none() {
        PointAsked::Travel
    } else if is_turn && reading.how.rotation.is_none() {
        PointAsked::Rotation
    } else if is_turn && reading.how.about.is_none() {
        PointAsked::About
    } else {
        PointAsked::Nothing
    }
}

/// Whether a line is asked for: one of travel, one that levels the picture, or without a plane a second
/// one beside it.
fn wants_line(reading: &Reading, aids: &Aids, stands: bool) -> bool {
    if reading.how.line.is_none() {
        return aids.wants_line || stands;
    }
    aids.wants_line && aids.lies.is_none() && reading.how.level.is_none()
}

/// Returns whether a reading is measured in a plane that stands on a line of its own flat one;
/// what may lie either way does where such a line was clicked.
pub(super) fn stands(lies: Lies, reading: &Reading) -> bool {
    let needed = reading.quantity.lies();
    let is_wished = needed.is_none() && reading.how.line.is_some();
    lies == Lies::Flat && (needed == Some(Lies::Upright) || is_wished)
}

/// What is asked of a length's depth; nothing on a flat plane, in which it lies.
fn depth(reading: &Reading, aids: &Aids, stands: bool) -> Option<PointAsked> {
    if !reading.quantity.needs_depth() || !(stands || aids.lies == Some(Lies::Upright)) {
        return None;
    }
    let how = &reading.how;
    match aids.dial {
        Some(Dial::Depth) => Some(PointAsked::Depth),
        Some(Dial::Distance) => Some(PointAsked::Distance),
        None if how.depth.is_none() => Some(PointAsked::Depth),
        None => (aids.needs_distance && how.distance.is_none()).then_some(PointAsked::Distance),
    }
}

/// Returns whether the moment lies between the reading's frame and the next one, on which the same
/// points are still to be clicked.
pub fn wants_next(reading: &Reading) -> bool {
    let Some(first) = first_frame(reading) else { return false };
    let is_next = |frame: &FrameRef| frame.ticks >= first.hi;
    reading.quantity.read_at() == ReadAt::HandRelease
        && first.hi > first.ticks
        && !frames(reading).iter().any(is_next)
}

/// Returns the reading after a click at `coded` on `frame` for what is asked; unchanged where a
/// click answers nothing.
pub fn click(reading: &Reading, aids: &mut Aids, frame: &FrameRef, coded: Coded) -> Reading {
    let mut after = reading.clone();
    match ask(reading, aids, frame) {
        PointAsked::Point(name) => {
            begin_on(&mut after, frame);
            let own = first_frame(&after).is_some_and(|first| first.order() == frame.order());
            let frame = (!own).then_some(*frame);
            after.points.push(ClickedPoint { name, coded, frame });
        }
        PointAsked::Line(_) => match aids.line.take() {
            Some(first) => {
                let how = &mut after.how;
                let line = if how.line.is_none() { &mut how.line } else { &mut how.level };
                *line = Some([first, coded]);
                aids.wants_line = false;
            }
            None => aids.line = Some(coded),
        },
        _ => {}
    }
    after
}

/// Returns the reading without what was placed last; nothing where nothing was.
pub fn take_back(reading: &Reading, aids: &mut Aids) -> Option<Reading> {
    if aids.line.take().is_some() {
        return Some(reading.clone());
    }
    let mut after = reading.clone();
    after.points.pop()?;
    Some(after)
}

/// Returns the reading with one of its points elsewhere.
pub fn moved(reading: &Reading, point: usize, coded: Coded) -> Reading {
    let mut after = reading.clone();
    if let Some(point) = after.points.get_mut(point) {
        point.coded = coded;
    }
    after
}

/// Returns what is dialled with its value in metres: as said, or as it usually is.
pub(crate) fn dialled(reading: &Reading, dial: Dial) -> f64 {
    match dial {
        Dial::Depth => reading.how.depth.unwrap_or(0.0),
        Dial::Distance => reading.how.distance.unwrap_or(USUAL_DISTANCE),
    }
}

/// Returns the reading with what is dialled so many steps up.
pub fn turned(reading: &Reading, dial: Dial, steps: f64) -> Reading {
    let mut after = reading.clone();
    let value = dialled(reading, dial);
    // To the centimetre, so that a hundred steps add up.
    let to = |step: f64| ((value + steps * step) * 100.0).round() / 100.0;
    match dial {
        Dial::Depth => after.how.depth = Some(to(DEPTH_STEP).clamp(-MOST_METRES, MOST_METRES)),
        Dial::Distance => after.how.distance = Some(to(DISTANCE_STEP).clamp(1.0, MOST_METRES)),
    }
    after
}

/// Steps in which a depth and a distance are said, and where a distance begins, in metres.
const DEPTH_STEP: f64 = 0.1;
const DISTANCE_STEP: f64 = 0.5;
const USUAL_DISTANCE: f64 = 8.0;
/// No gym is longer.
const MOST_METRES: f64 = 60.0;

/// Returns the reading with a direction said: of travel, or of the turn, whichever is asked.
pub fn directed(reading: &Reading, ask: &PointAsked, right: Travel) -> Reading {
    let mut after = reading.clone();
    match ask {
        PointAsked::Travel => after.how.travel = Some(right),
        PointAsked::Rotation => {
            let rotation = if right == Travel::Right { Rotation::Right } else { Rotation::Left };
            after.how.rotation = Some(rotation);
        }
        _ => {}
    }
    after
}

/// Returns the reading of a turn that goes about so many half turns.
pub fn about(reading: &Reading, half_turns: u8) -> Reading {
    let mut after = reading.clone();
    after.how.about = Some(Degrees(180.0 * f64::from(half_turns)));
    after
}

/// Returns the reading with `frame` as the one it belongs to.
pub fn settled_on(reading: &Reading, frame: &FrameRef) -> Reading {
    let mut after = reading.clone();
    let at = match reading.at {
        At::Span(_, to) => At::Span(*frame, to),
        _ => At::Frame(*frame),
    };
    for (point, old) in after.points.iter_mut().zip(&reading.points) {
        let on = frame_of(reading, old);
        point.frame = on.filter(|on| on.order() != frame.order());
    }
    after.at = at;
    after
}

/// Returns the frames that carry points, the reading's own first.
pub fn frames(reading: &Reading) -> Vec<FrameRef> {
    let mut frames: Vec<FrameRef> = first_frame(reading).into_iter().collect();
    for frame in reading.points.iter().filter_map(|point| point.frame) {
        if frames.iter().all(|known| known.order() != frame.order()) {
            frames.push(frame);
        }
    }
    frames
}

/// Returns the frame that a point was clicked on.
pub fn frame_of(reading: &Reading, point: &ClickedPoint) -> Option<FrameRef> {
    point.frame.or_else(|| first_frame(reading))
}

/// Returns the places, among the reading's points, of those on `frame`.
pub fn on_frame(reading: &Reading, frame: &FrameRef) -> Vec<usize> {
    let on = |point: &ClickedPoint| {
        frame_of(reading, point).is_some_and(|on| on.order() == frame.order())
    };
    (0..reading.points.len()).filter(|place| on(&reading.points[*place])).collect()
}

/// Returns how often the point that is asked for next was placed on the frame.
pub(crate) fn times_placed(reading: &Reading, frame: &FrameRef, name: &str) -> usize {
    let places = on_frame(reading, frame);
    places.iter().filter(|place| reading.points[**place].name == name).count()
}

/// Returns the names of the points asked for on every frame, bent legs' knees in their places.
pub fn names(reading: &Reading, aids: &Aids) -> Vec<String> {
    let placed = |name: &str| reading.points.iter().any(|point| point.name == name);
    let name = |name: &&str| {
        let knee = name.replace("ankle", "knee");
        let bends = knee != **name && (aids.bent.contains(&(*name).to_string()) || placed(&knee));
        if bends { knee } else { (*name).to_owned() }
    };
    reading.quantity.points().iter().map(name).collect()
}

fn first_frame(reading: &Reading) -> Option<FrameRef> {
    reading.at.frame().copied()
}

/// The first of the points that was placed too few times on the frame.
fn missing(reading: &Reading, aids: &Aids, frame: &FrameRef) -> Option<String> {
    let is_skipped = |name: &String| {
        aids.skipped.iter().any(|(on, skipped)| on.order() == frame.order() && skipped == name)
    };
    let names = names(reading, aids);
    let wanted = names.iter().filter(|name| !is_skipped(name));
    let count = |name: &&String| times_placed(reading, frame, name);
    // In rounds, so that no point is placed twice in a row.
    let fewest = wanted.clone().min_by_key(count)?;
    (count(&fewest) <= aids.again).then(|| fewest.clone())
}

/// What a turn asks of the frame on screen before any point.
fn turn_frame(reading: &Reading, aids: &Aids, frame: &FrameRef) -> Option<PointAsked> {
    let At::Span(lift, drop) = reading.at else { return None };
    let is_on = |other: &FrameRef| other.order() == frame.order();
    let open = lift.order() == drop.order();
    if reading.points.is_empty() {
        return (!open && !is_on(&lift)).then_some(PointAsked::GoTo(Some(lift)));
    }
    if is_on(&lift) || is_on(&drop) {
        return None;
    }
    if missing(reading, aids, &lift).is_some() {
        return Some(PointAsked::GoTo(Some(lift)));
    }
    if frame.order() < lift.order() {
        return Some(PointAsked::GoTo((!open).then_some(drop)));
    }
    (!open && missing(reading, aids, &drop).is_some()).then_some(PointAsked::GoTo(Some(drop)))
}

/// Asks for the frame of the drop as long as it has too few points; known by number or not yet.
fn drop_missing(reading: &Reading, aids: &Aids) -> Option<PointAsked> {
    let At::Span(lift, drop) = reading.at else { return None };
    if lift.order() == drop.order() {
        return Some(PointAsked::GoTo(None));
    }
    missing(reading, aids, &drop).is_some().then_some(PointAsked::GoTo(Some(drop)))
}

/// The first click says which frame it is about; the first one after the lift, which the drop is.
fn begin_on(reading: &mut Reading, frame: &FrameRef) {
    match reading.at {
        At::Span(lift, drop) if lift.order() == drop.order() => {
            let is_lift = reading.points.is_empty() || frame.order() == lift.order();
            reading.at = At::Span(if is_lift { *frame } else { lift }, *frame);
        }
        At::Frame(_) if reading.points.is_empty() => {
            let is_release = reading.quantity.read_at() == ReadAt::HandRelease;
            reading.at = At::Frame(if is_release { frame.or_after() } else { *frame });
        }
        _ => {}
    }
}
