//! An angle whose points are being placed.

use crate::{
    geometry::{Limit, Measured, Refusal, Verdict},
    marks::{
        Quantity, Reading, Sheaf,
        placing::{self, Aids, Ask},
    },
    units::{FrameRef, Magnitude, Upright},
};

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
    /// What its points give; nothing while points are missing.
    pub live: Option<Result<Measured, Refusal>>,
    /// The point that keys move, by its place among the reading's points.
    pub chosen: Option<usize>,
    /// The point that the pointer holds, and where, in upright pixels.
    pub held: Option<(usize, [f64; 2])>,
    /// What the loupe looks at, in upright pixels.
    pub look: Option<[f64; 2]>,
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
        let mut measuring = Self {
            start: reading.clone(),
            reading,
            aids: Aids::default(),
            rules,
            of,
            live: None,
            chosen: None,
            held: None,
            look: None,
        };
        measuring.follow(sheaf);
        measuring
    }

    /// Brings everything in step with the marks.
    pub(crate) fn follow(&mut self, sheaf: &Sheaf) {
        self.reading = sheaf.unfinished(self.reading.id).unwrap_or(&self.start).clone();
        let plane = self.reading.how.plane.as_deref().and_then(|name| sheaf.plane(name));
        self.aids.lies = plane.map(|plane| plane.lies);
        self.chosen = self.chosen.filter(|chosen| *chosen < self.reading.points.len());
        let measured = crate::marks::measured(sheaf, &self.reading).map(|(_, measured)| measured);
        self.aids.needs_distance = matches!(measured, Err(Refusal::NoDistance));
        self.live = match measured {
            _ if self.reading.points.is_empty() => None,
            Err(refusal) if refusal.is_unfinished() => None,
            measured => Some(measured),
        };
    }

    /// Returns what is asked for with `frame` on screen.
    pub(crate) fn ask(&self, frame: &FrameRef) -> Ask {
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

    /// Returns the points that can be seen on a frame, with their places among the reading's
    /// points, in upright pixels. While points are placed again the earlier ones are hidden, so
    /// that they lead nobody.
    pub(crate) fn in_sight(&self, frame: &FrameRef, upright: &Upright) -> Vec<(usize, [f64; 2])> {
        let on_frame = placing::on_frame(&self.reading, frame);
        let is_hidden = |place: &usize| {
            let name = &self.reading.points[*place].name;
            let same = |other: &&usize| self.reading.points[**other].name == *name;
            let earlier = on_frame.iter().filter(same).take_while(|other| *other != place).count();
            earlier < self.aids.again && matches!(self.ask(frame), Ask::Point(_))
        };
        let held = |place: usize| self.held.filter(|held| held.0 == place).map(|held| held.1);
        let shown = |place: usize| {
            let at = upright.to_shown(self.reading.points[place].coded);
            (place, held(place).unwrap_or(at))
        };
        on_frame.iter().filter(|place| !is_hidden(place)).map(|place| shown(*place)).collect()
    }

    /// Returns the point that keys move: the one chosen, else the one placed last on the frame.
    pub(crate) fn moves(&self, frame: &FrameRef) -> Option<usize> {
        let on_frame = placing::on_frame(&self.reading, frame);
        self.chosen.filter(|chosen| on_frame.contains(chosen)).or_else(|| on_frame.last().copied())
    }
}

/// Returns when the angle is read, where no rule says it.
pub(crate) const fn moment(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::BodyLine | Quantity::Split | Quantity::Kick => "at its peak",
        Quantity::Repulsion => "on the last frame on which a hand touches",
        Quantity::OffVertical
        | Quantity::Trunk
        | Quantity::Bend
        | Quantity::Length
        | Quantity::Offset => "on this frame",
        Quantity::Twist => "when both hands, or both feet, are down",
        Quantity::KneeDistance => "where they are furthest apart, seen from in front or behind",
        Quantity::Turn => "from the heel lift to the first heel drop",
    }
}
