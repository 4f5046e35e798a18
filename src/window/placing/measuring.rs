//! An angle whose points are being placed.

use super::subject::{Change, Sight, Subject};
use crate::{
    geometry::{
        Lies, Limit, Measured, Refusal, Verdict,
        input::{BodySide, CameraHeight, Travel},
    },
    marks::{
        self, CameraSince, How, Quantity, Reading, ReferencePlane, Sheaf, Since, USUAL_OFF_SQUARE,
        placing::{self, Aids, Dial, PointAsked},
    },
    units::{Coded, Degrees, FrameIndex, FrameRef, Magnitude, Shown},
};

/// How far off square a camera may be said to stand, in degrees.
const OFF_SQUARE: [f64; 6] = [0.0, 10.0, 20.0, 30.0, 40.0, 50.0];

/// How far off the plane joints may be said to lie, in metres, and which of them were clicked.
const JOINTS: [(Option<f64>, BodySide); 5] = [
    (None, BodySide::Middle),
    (Some(0.1), BodySide::Middle),
    (Some(0.15), BodySide::Middle),
    (None, BodySide::Near),
    (Some(0.0), BodySide::Middle),
];

/// An angle whose points are being placed.
pub(crate) struct Measuring {
    /// The reading as it is so far.
    pub reading: Reading,
    /// The reading as it was before anything was placed.
    start: Reading,
    /// What helps placing.
    pub aids: Aids,
    /// What the rules ask of it.
    pub rules: Vec<Rule>,
    /// Name of the element it belongs to.
    pub of: String,
    /// What is known of the camera since its plane was clicked.
    pub since: Since,
    /// What the pictures told of that while points were placed.
    camera: Option<CameraSince>,
    /// What its points give; nothing while points are missing.
    pub live: Option<Result<Measured, Refusal>>,
}

/// Pictures that are held against each other to tell whether the camera stood still.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ToCompare {
    /// A plane with the frame that it was clicked on.
    pub plane: ReferencePlane,
    /// The frames against which that one is held.
    pub frames: Vec<FrameRef>,
}

/// A rule that waits for the angle.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Rule {
    /// Its name.
    pub label: String,
    /// On which picture it asks, in the book's words.
    pub moment: String,
    /// What it asks for.
    pub limit: Limit,
    /// The same in words: `at least 90°`.
    pub asks: String,
}

impl Measuring {
    /// Begins with a reading, or goes on with it.
    pub(crate) fn begin(reading: Reading, of: String, rules: Vec<Rule>, sheaf: &Sheaf) -> Self {
        let start = reading.clone();
        let (aids, since) = (Aids::default(), Since::Same);
        let mut measuring =
            Self { reading, start, aids, rules, of, since, camera: None, live: None };
        measuring.follow(sheaf);
        measuring
    }

    /// Returns what is to be held against each other; nothing where that is done.
    pub(crate) fn to_compare(&self, sheaf: &Sheaf) -> Option<ToCompare> {
        let plane = sheaf.plane(self.reading.how.plane.as_deref()?)?;
        let frames = marks::to_compare(&self.reading, plane);
        (self.since == Since::NotCompared).then(|| ToCompare { plane: plane.clone(), frames })
    }

    /// Takes in what the pictures tell of the camera since the plane was clicked. It is no step of
    /// its own: it goes into the marks with what is placed next, or kept.
    pub(crate) fn compared(&mut self, camera: CameraSince, sheaf: &Sheaf) {
        self.camera = Some(camera);
        self.follow(sheaf);
    }

    /// Returns what is asked for with `frame` on screen.
    pub(crate) fn ask(&self, frame: &FrameRef) -> PointAsked {
        placing::ask(&self.reading, &self.aids, frame)
    }

    /// Returns what the angle decides for the first rule that asks for it.
    pub(crate) fn verdict(&self) -> Option<Verdict> {
        let Some(Ok(measured)) = &self.live else { return None };
        self.rules.first().map(|rule| measured.decide(rule.limit))
    }

    /// Returns the angle that a rule asks for.
    pub(crate) fn asked(&self) -> Option<Magnitude> {
        self.rules.first().map(|rule| rule.limit.edge)
    }

    /// Takes a bent leg's knee in place of its ankle.
    pub(crate) fn bend(&mut self, frame: &FrameRef) {
        if let PointAsked::Point(name) = self.ask(frame) {
            self.aids.bent.push(name);
        }
    }

    /// Asks for a plumb or level line, or for that of travel. Without a plane, where one is there, it asks
    /// for the other one beside it, and where both are or that is asked for, for one anew.
    pub(crate) fn ask_for_line(&mut self) -> Option<Change> {
        let how = &self.reading.how;
        let goes_on = how.line.is_some() && how.level.is_none() && !self.aids.wants_line;
        let mut after = self.reading.clone();
        if !goes_on || self.aids.lies.is_some() {
            (after.how.line, after.how.level) = (None, None);
        }
        (self.aids.wants_line, self.aids.line) = (true, None);
        self.changed(after)
    }

    /// Ties what is measured to the world by a plane, or by none.
    pub(crate) fn tie_to(&self, plane: Option<String>) -> Change {
        let mut after = self.reading.clone();
        after.how.plane = plane;
        // A line that levelled the picture is no line of travel, and the other way round.
        (after.how.line, after.how.level) = (None, None);
        Change::Unfinished(after)
    }

    /// Goes to the next plane of the marks, and behind the last one to none; nothing where there
    /// is no plane.
    pub(crate) fn next_plane(&self, sheaf: &Sheaf) -> Option<Change> {
        let names: Vec<&String> = sheaf.planes.iter().map(|plane| &plane.name).collect();
        if names.is_empty() {
            return None;
        }
        let now = self.reading.how.plane.as_ref();
        let place = now.and_then(|now| names.iter().position(|name| *name == now));
        let next = place.map_or(Some(0), |place| Some(place + 1)).and_then(|next| names.get(next));
        Some(self.tie_to(next.map(|name| (*name).clone())))
    }

    /// Without a plane it is about the camera's angle, with one about the depth of a length.
    pub(crate) fn next_off_square(&mut self) -> Option<Change> {
        if self.reading.quantity.needs_depth() {
            self.aids.dial = match self.aids.dial {
                None => Some(Dial::Depth),
                Some(Dial::Depth) => Some(Dial::Distance),
                Some(Dial::Distance) => None,
            };
            return None;
        }
        let now = self.reading.how.off_square.unwrap_or(USUAL_OFF_SQUARE);
        let next = OFF_SQUARE.into_iter().find(|off| *off > now.0).unwrap_or(OFF_SQUARE[0]);
        let mut after = self.reading.clone();
        after.how.off_square = Some(Degrees(next));
        Some(Change::Unfinished(after))
    }

    /// Without a plane it is about the camera's height, with one about the depth of the joints.
    pub(crate) fn next_beside(&self) -> Option<Change> {
        if self.reading.quantity.lies() != Some(Lies::Upright) {
            return None;
        }
        let mut after = self.reading.clone();
        let how = &mut after.how;
        if how.plane.is_none() {
            how.height = match how.height {
                None => Some(CameraHeight::Floor),
                Some(CameraHeight::Floor) => Some(CameraHeight::Table),
                Some(CameraHeight::Table) => Some(CameraHeight::Stands),
                Some(CameraHeight::Stands) => None,
            };
        } else {
            let now = (how.joint_depth, how.side.unwrap_or_default());
            let place = JOINTS.iter().position(|said| *said == now).map_or(0, |place| place + 1);
            let (depth, side) = JOINTS[place % JOINTS.len()];
            (how.joint_depth, how.side) = (depth, (side == BodySide::Near).then_some(side));
        }
        Some(Change::Unfinished(after))
    }

    /// Takes clicks as they usually are, where they were taken as learnt.
    pub(crate) fn as_usual(&self) -> Option<Change> {
        let mut after = self.reading.clone();
        after.how.click_freedom.take()?;
        after.how.click = None;
        after.how.click_of_several = false;
        self.changed(after)
    }

    /// Says about how far a turn goes.
    pub(crate) fn half_turns(&self, n: u8) -> Option<Change> {
        let is_turn = self.reading.quantity == Quantity::Turn;
        is_turn.then(|| Change::Unfinished(placing::about(&self.reading, n)))
    }

    fn changed(&self, after: Reading) -> Option<Change> {
        (after != self.reading).then_some(Change::Unfinished(after))
    }
}

impl Subject for Measuring {
    fn follow(&mut self, sheaf: &Sheaf) {
        self.reading = sheaf.unfinished(self.reading.id).unwrap_or(&self.start).clone();
        let plane = self.reading.how.plane.as_deref().and_then(|name| sheaf.plane(name));
        self.aids.lies = plane.map(|plane| plane.lies);
        if let (Some(camera), Some(plane)) = (&self.camera, plane) {
            let how = How { camera: Some(camera.clone()), ..self.reading.how.clone() };
            let told = Reading { how, ..self.reading.clone() };
            if marks::since(&told, plane) != Since::NotCompared {
                self.reading = told;
            }
        }
        self.since = marks::camera_since(sheaf, &self.reading);
        let measured = marks::measured(sheaf, &self.reading).map(|(_, measured)| measured);
        self.aids.needs_distance = matches!(measured, Err(Refusal::NoDistance));
        self.live = match measured {
            _ if self.reading.points.is_empty() => None,
            Err(refusal) if refusal.is_unfinished() => None,
            measured => Some(measured),
        };
    }

    fn is_in(&self, sheaf: &Sheaf) -> bool {
        sheaf.unfinished(self.reading.id).is_some()
    }

    fn count(&self) -> usize {
        self.reading.points.len()
    }

    /// While points are placed again the earlier ones are hidden, so that they lead nobody.
    fn points(&self, sight: &Sight) -> Vec<(usize, Shown)> {
        let on_frame = placing::on_frame(&self.reading, &sight.frame);
        let asks_again = matches!(self.ask(&sight.frame), PointAsked::Point(_));
        let is_hidden = |place: &usize| {
            let name = &self.reading.points[*place].name;
            let same = |other: &&usize| self.reading.points[**other].name == *name;
            let earlier = on_frame.iter().filter(same).take_while(|other| *other != place).count();
            earlier < self.aids.again && asks_again
        };
        let shown =
            |place: usize| (place, sight.upright.to_shown(self.reading.points[place].coded));
        on_frame.iter().filter(|place| !is_hidden(place)).map(|place| shown(*place)).collect()
    }

    /// The one chosen, else the one placed last on the frame.
    fn moves(&self, chosen: Option<usize>, sight: &Sight) -> Option<usize> {
        let on_frame = placing::on_frame(&self.reading, &sight.frame);
        chosen.filter(|chosen| on_frame.contains(chosen)).or_else(|| on_frame.last().copied())
    }

    fn place(&mut self, coded: Coded, sight: &Sight, chosen: &mut Option<usize>) -> Option<Change> {
        *chosen = None;
        let after = placing::click(&self.reading, &mut self.aids, &sight.frame, coded);
        self.changed(after)
    }

    fn moved(&self, point: usize, coded: Coded) -> Option<Change> {
        Some(Change::Unfinished(placing::moved(&self.reading, point, coded)))
    }

    fn turned(&mut self, tenths: [i16; 2], sight: &Sight) -> Option<Change> {
        let ask = self.ask(&sight.frame);
        if matches!(ask, PointAsked::Travel | PointAsked::Rotation) && tenths[0] != 0 {
            let right = if tenths[0] > 0 { Travel::Right } else { Travel::Left };
            return Some(Change::Unfinished(placing::directed(&self.reading, &ask, right)));
        }
        let dial = dial_of(&ask).filter(|_| tenths != [0, 0])?;
        // Up and to the right are more.
        let more = if tenths[0] > 0 || tenths[1] < 0 { 1.0 } else { -1.0 };
        self.aids.dial = Some(dial);
        Some(Change::Unfinished(placing::turned(&self.reading, dial, more)))
    }

    fn take_back(&mut self) -> Option<Change> {
        placing::take_back(&self.reading, &mut self.aids).map(Change::Unfinished)
    }

    fn skip(&mut self, sight: &Sight) {
        match self.ask(&sight.frame) {
            PointAsked::Point(name) => self.aids.skipped.push((sight.frame, name)),
            PointAsked::Line(_) => (self.aids.wants_line, self.aids.line) = (false, None),
            _ => {}
        }
    }

    fn again(&mut self, sight: &Sight) {
        if !matches!(self.ask(&sight.frame), PointAsked::Point(_)) {
            self.aids.again += 1;
        }
    }

    fn settle(&mut self, sight: &Sight) -> Option<Change> {
        let dial = dial_of(&self.ask(&sight.frame))?;
        self.aids.dial = None;
        Some(Change::Unfinished(placing::turned(&self.reading, dial, 0.0)))
    }

    fn finish(&self, sheaf: &Sheaf) -> Result<Change, String> {
        let measured = marks::measured(sheaf, &self.reading);
        let kept = measured.map(|(reading, _)| Change::Reading(reading));
        kept.map_err(|refusal| format!("It cannot be kept yet: {refusal}."))
    }

    fn goal(&self, sight: &Sight) -> Option<FrameIndex> {
        match self.ask(&sight.frame) {
            PointAsked::GoTo(frame) => frame.map(|frame| frame.index),
            _ => None,
        }
    }
}

const fn dial_of(ask: &PointAsked) -> Option<Dial> {
    match ask {
        PointAsked::Depth => Some(Dial::Depth),
        PointAsked::Distance => Some(Dial::Distance),
        _ => None,
    }
}
