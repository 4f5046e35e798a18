//! The marks of one routine as values: what is written to the marks file and what the evaluator
//! reads.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::Value;

pub use super::{
    plane::{How, PlacedPoint, ReferencePlane},
    result::{JudgeScore, RealResult},
};
pub use crate::geometry::Quantity;
use crate::units::{
    Coded, FrameIndex, FrameRef, Magnitude, Orientation, Points, Ticks, TimeBase, Upright,
};

/// Names one mark, reading or call within its routine; never used twice, not even after undo.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Id(pub u64);

/// Keys that this version does not know, kept so that a file from elsewhere loses nothing.
pub type Unknown = BTreeMap<String, Value>;

/// Everything that one judge wrote down of one routine.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Sheaf {
    /// The clip, or none when the routine is planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clip: Option<ClipFacts>,
    /// What is judged, and under which book.
    pub routine: Routine,
    /// Planes that tie the picture to the world, by name; good for every routine that the same
    /// camera filmed without being moved.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub planes: Vec<ReferencePlane>,
    /// What was seen.
    #[serde(default)]
    pub marks: Vec<Mark>,
    /// What was measured or stated.
    #[serde(default)]
    pub readings: Vec<Reading>,
    /// What a person decided.
    #[serde(default)]
    pub calls: Vec<Call>,
    /// Readings whose points are still being placed; they decide nothing yet. One with the id of a
    /// reading will take its place.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub unfinished: Vec<Reading>,
    /// Keys of later versions.
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// What is kept of the clip, so that marks mean the same frames without it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClipFacts {
    /// File name when last seen, without folder.
    pub name: String,
    /// Quick id: size in bytes and a hash of the beginning and the end.
    pub quick_id: String,
    /// BLAKE3 hash of all bytes, in hex; absent until it was computed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub content_hash: Option<String>,
    /// Length of one tick.
    pub time_base: TimeBase,
    /// Coded size, pixel shape and orientation, in whose coded pixels clicks are kept.
    pub upright: Upright,
    /// How a person turned the picture when its tag is wrong; moves no click.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub orientation_override: Option<Orientation>,
    /// Whether the container had no times and they were counted out.
    #[serde(default)]
    pub assumed_times: bool,
    /// Keys of later versions.
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// Whose exercise it is, on which event, and under which rules.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Routine {
    /// Name within the clip, part of the marks file's name.
    #[serde(default)]
    pub id: String,
    /// First and last frame of the routine in its clip.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub span: Option<[FrameRef; 2]>,
    /// Event id of the book: `vault`, `bars`, `beam` or `floor` as a rule.
    #[serde(default)]
    pub event: String,
    /// Division id of the book.
    #[serde(default)]
    pub division: String,
    /// Code of the athlete, never a name.
    #[serde(default)]
    pub athlete: String,
    /// Code of the judge.
    #[serde(default)]
    pub judge: String,
    /// Date of the performance, `2026-11-24`.
    #[serde(default)]
    pub date: String,
    /// Id of the rule book.
    #[serde(default)]
    pub book: String,
    /// Edition of the rule book.
    #[serde(default)]
    pub edition: String,
    /// BLAKE3 hash of the rule book's text when this was last scored.
    #[serde(default)]
    pub book_hash: String,
    /// Facts of the attempt that a rule may ask for: mat, board, which attempt.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub facts: BTreeMap<String, String>,
    /// What it was given at the meet, where somebody typed that in.
    #[serde(default, skip_serializing_if = "RealResult::is_empty")]
    pub result: RealResult,
    /// Keys of later versions.
    #[serde(flatten)]
    pub unknown: Unknown,
}

/// Where in a routine something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum At {
    /// On one frame.
    Frame(FrameRef),
    /// From one frame to another.
    Span(FrameRef, FrameRef),
    /// In a planned routine: its place in the order, counted from 0.
    Place(u32),
}

impl At {
    /// Returns the frame at which it begins; a planned place has none.
    pub fn frame(&self) -> Option<&FrameRef> {
        match self {
            Self::Frame(frame) | Self::Span(frame, _) => Some(frame),
            Self::Place(_) => None,
        }
    }

    /// Returns the frames named, one or two, none for a planned place.
    pub fn frames(&self) -> Vec<FrameRef> {
        match self {
            Self::Frame(frame) => vec![*frame],
            Self::Span(from, to) => vec![*from, *to],
            Self::Place(_) => Vec::new(),
        }
    }

    /// Returns what places in one routine are ordered by: time, then index; planned places by
    /// their number.
    pub fn order(&self) -> (Ticks, FrameIndex) {
        match self {
            Self::Frame(frame) | Self::Span(frame, _) => (frame.ticks, frame.index),
            Self::Place(place) => (Ticks(i64::from(*place)), FrameIndex::FIRST),
        }
    }
}

/// One thing seen, pinned to its frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// Its name within the routine.
    pub id: Id,
    /// Where it was seen.
    pub at: At,
    /// What it is.
    #[serde(flatten)]
    pub what: What,
    /// Whether it was seen at all.
    #[serde(default)]
    pub seen: Seen,
    /// The element it belongs to, where time alone does not tell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<Id>,
    /// A remark in the judge's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// Whether something was seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// It was.
    #[default]
    Yes,
    /// It was looked for and did not happen.
    No,
    /// The picture leaves it open.
    CantTell,
    /// The moment is hidden or outside the picture.
    NotVisible,
}

/// What a mark stands for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum What {
    /// An element of the rule book.
    Element {
        /// Element id of the book.
        element: String,
    },
    /// A swing that is no element.
    Swing,
    /// The first frame on which a hand touches.
    HandContact {
        /// Turn about the long axis since take-off, in degrees; 0 when straight on.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        turn: Option<u16>,
    },
    /// The last frame on which a hand touches.
    HandRelease,
    /// The heel of the turning foot leaves the floor.
    HeelLift,
    /// A heel comes down.
    HeelDrop,
    /// A body part touches what it should not.
    Contact(Contact),
    /// How it ended on the mat.
    Landing {
        /// What the athlete landed on with.
        on: LandingOn,
        /// Which way she faces.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        facing: Option<Facing>,
        /// Turn about the long axis since the hands left, in degrees.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        turn: Option<u16>,
    },
    /// A fall.
    Fall,
    /// Somebody helped.
    Spot,
    /// The movement stopped.
    Stop,
    /// A fault by the book.
    Fault {
        /// Fault id of the book.
        fault: String,
        /// Amount chosen, where the book leaves a choice.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        amount: Option<Points>,
    },
    /// A remark that counts for nothing.
    Note,
}

/// A body part against mat, table, beam or bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Contact {
    /// Which part touched.
    pub part: BodyPart,
    /// In which phase.
    pub phase: Phase,
    /// Brushed past, or bore weight.
    pub manner: Manner,
}

/// A part of the body that can touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(missing_docs, reason = "the names are the parts themselves")]
pub enum BodyPart {
    Head,
    Back,
    Seat,
    Hips,
    Knees,
    Feet,
    Hand,
    Body,
}

/// A phase of a vault or another element with flight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// From the board to the hands.
    FirstFlight,
    /// While the hands bear weight.
    Support,
    /// From the hands to the landing.
    SecondFlight,
    /// On landing and after.
    Landing,
}

impl Phase {
    /// Returns when it is, in words that follow an amount: ` in the first flight`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FirstFlight => " in the first flight",
            Self::Support => " while the hands support",
            Self::SecondFlight => " in the second flight",
            Self::Landing => " on landing",
        }
    }
}

/// How a body part touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Manner {
    /// Touched in passing.
    Brush,
    /// Bore weight.
    Support,
    /// The picture leaves it open.
    CantTell,
}

/// What a landing is made on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LandingOn {
    /// Feet on the mat behind.
    Feet,
    /// Sitting, lying or kneeling on the stack or table, resting in support.
    Apparatus,
    /// Another body part on the mat.
    Body,
}

/// Which way the athlete faces on landing, seen from the apparatus.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Facing {
    /// Away from it, in the direction of the run.
    Away,
    /// Towards it.
    Towards,
    /// Sideways.
    Side,
}

/// A quantity read off frames: points clicked, or a value stated without points.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Its name within the routine.
    pub id: Id,
    /// The mark it was read for, an element as a rule.
    pub of: Id,
    /// What was measured.
    pub quantity: Quantity,
    /// The value in the quantity's unit.
    pub value: Magnitude,
    /// Its standard uncertainty in the same unit; zero when the value is stated as exact.
    #[serde(default = "exactly")]
    pub u: Magnitude,
    /// The frame it was read on.
    pub at: At,
    /// The points clicked; empty when the value was stated. The same name twice on one frame is
    /// the point placed again.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<ClickedPoint>,
    /// How points become a value.
    #[serde(default, skip_serializing_if = "How::is_default")]
    pub how: How,
}

fn exactly() -> Magnitude {
    Magnitude(0.0)
}

/// A point clicked on a frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClickedPoint {
    /// What it is: shoulder, hip, knee, toe.
    pub name: String,
    /// Where.
    pub coded: Coded,
    /// The frame it was clicked on, where that is not the reading's first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame: Option<FrameRef>,
}

/// What a person decided where a rule asks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Call {
    /// Its name within the routine.
    pub id: Id,
    /// The mark it was decided for.
    pub of: Id,
    /// Id of the angle rule, requirement or gate that asks.
    pub asks: String,
    /// The decision.
    pub answer: CallAnswer,
    /// The frame on which it was decided.
    pub at: At,
}

/// A decision of a person.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CallAnswer {
    /// What the rule asks for is there.
    Met,
    /// It is not.
    NotMet,
    /// The picture leaves it open.
    CantTell,
}

/// A mark, a reading or a call, where all three are handled alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(clippy::large_enum_variant, reason = "one at a time passes by, and edits box it")]
pub enum Item {
    /// A mark.
    Mark(Mark),
    /// A reading.
    Reading(Reading),
    /// A call.
    Call(Call),
}

impl Item {
    /// Returns the item's id.
    pub fn id(&self) -> Id {
        match self {
            Self::Mark(mark) => mark.id,
            Self::Reading(reading) => reading.id,
            Self::Call(call) => call.id,
        }
    }

    /// Returns where it is.
    pub fn at(&self) -> &At {
        match self {
            Self::Mark(mark) => &mark.at,
            Self::Reading(reading) => &reading.at,
            Self::Call(call) => &call.at,
        }
    }

    /// Returns the mark it belongs to.
    pub fn of(&self) -> Option<Id> {
        match self {
            Self::Mark(mark) => mark.of,
            Self::Reading(reading) => Some(reading.of),
            Self::Call(call) => Some(call.of),
        }
    }
}

impl Sheaf {
    /// Returns the quick id of the clip and the athlete's code; each empty where there is none.
    pub(crate) fn whose(&self) -> (String, String) {
        let clip = self.clip.as_ref().map(|clip| clip.quick_id.clone());
        (clip.unwrap_or_default(), self.routine.athlete.clone())
    }

    /// Returns the mark of that id.
    pub fn mark(&self, id: Id) -> Option<&Mark> {
        self.marks.iter().find(|mark| mark.id == id)
    }

    /// Returns the marks in the order in which they happened: by time, then by id.
    pub fn in_order(&self) -> Vec<&Mark> {
        let mut marks: Vec<&Mark> = self.marks.iter().collect();
        marks.sort_by_key(|mark| (mark.at.order(), mark.id));
        marks
    }

    /// Returns an item of any sort by its id.
    pub fn item(&self, id: Id) -> Option<Item> {
        let mark = self.marks.iter().find(|mark| mark.id == id).cloned().map(Item::Mark);
        let reading = || self.readings.iter().find(|r| r.id == id).cloned().map(Item::Reading);
        let call = || self.calls.iter().find(|c| c.id == id).cloned().map(Item::Call);
        mark.or_else(reading).or_else(call)
    }

    /// Returns the reading of that id whose points are still being placed.
    pub fn unfinished(&self, id: Id) -> Option<&Reading> {
        self.unfinished.iter().find(|reading| reading.id == id)
    }

    /// Returns the plane of that name.
    pub fn plane(&self, name: &str) -> Option<&ReferencePlane> {
        self.planes.iter().find(|plane| plane.name == name)
    }

    /// Returns the ids of everything that hangs under the mark `id` and goes when it goes.
    pub(crate) fn hanging_under(&self, id: Id) -> Vec<Id> {
        let marks = self.marks.iter().filter(|mark| mark.of == Some(id)).map(|mark| mark.id);
        let readings = self.readings.iter().filter(|r| r.of == id).map(|r| r.id);
        let calls = self.calls.iter().filter(|c| c.of == id).map(|c| c.id);
        marks.chain(readings).chain(calls).collect()
    }

    /// Returns the highest id in use.
    pub fn highest_id(&self) -> Id {
        self.ids().max().unwrap_or_default()
    }

    /// Returns every id in use.
    pub fn ids(&self) -> impl Iterator<Item = Id> {
        let marks = self.marks.iter().map(|mark| mark.id);
        let readings = self.readings.iter().map(|reading| reading.id);
        let calls = self.calls.iter().map(|call| call.id);
        let unfinished = self.unfinished.iter().map(|reading| reading.id);
        marks.chain(readings).chain(calls).chain(unfinished)
    }
}
