//! What is written beside a clip: everything that is known to be true of it.
//!
//! `<clip>.truth.json` holds one [`Truth`]. Lengths are metres (x to the right, y away from the
//! camera, z up from the floor), angles degrees, picture points pixels of the upright picture with
//! the first pixel's centre at 0.5, time stamps ticks of `time_base` seconds as they stand in the
//! clip.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::camera::Camera;
use crate::draw::Strip;
use crate::measure::Angles;
use crate::options::Codec;

/// The version of the truth file's format.
pub const VERSION: u32 = 1;

/// Everything known about a clip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Truth {
    /// Always `clip-truth`.
    pub format: String,
    /// [`VERSION`].
    pub version: u32,
    /// The clip as a file.
    pub clip: ClipFacts,
    /// The camera that saw it.
    pub camera: Camera,
    /// The athlete's standing height in metres.
    pub athlete_height: f64,
    /// The apparatus: name, lowest and highest corner of what surrounds it.
    pub apparatus: Vec<Apparatus>,
    /// One entry per frame, in presentation order.
    pub frames: Vec<FrameTruth>,
    /// What happens, in order of time.
    pub events: Vec<Event>,
}

/// The clip as a file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClipFacts {
    /// File name without folders.
    pub file: String,
    /// Name of the motion.
    pub motion: String,
    /// Width of the upright picture in pixels.
    pub width: u32,
    /// Height of the upright picture in pixels.
    pub height: u32,
    /// Width of the coded picture in pixels.
    pub coded_width: u32,
    /// Height of the coded picture in pixels.
    pub coded_height: u32,
    /// Degrees clockwise by which a player turns the coded picture to show it upright.
    pub rotate: u16,
    /// Frames per second, numerator and denominator.
    pub rate: [u32; 2],
    /// Whether the time stamps are uneven.
    pub uneven: bool,
    /// Numerator and denominator of a tick in seconds.
    pub time_base: [u32; 2],
    /// How many frames there are.
    pub frame_count: usize,
    /// How the pictures are coded.
    pub codec: Codec,
    /// Largest distance between key pictures in frames.
    pub gop: u32,
    /// Most B pictures in a row.
    pub b_frames: u32,
    /// Whether groups of pictures may refer to the one before.
    pub open_gop: bool,
    /// How the frame number is drawn into the coded picture.
    pub strip: Strip,
}

/// One thing that stands in the hall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Apparatus {
    /// Its name, as in [`Event::on`].
    pub name: String,
    /// Lowest corner.
    pub lo: [f64; 3],
    /// Highest corner.
    pub hi: [f64; 3],
}

/// One frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrameTruth {
    /// Number, counted from 0; also what the strip shows.
    pub frame: u64,
    /// Time stamp in the clip.
    pub ticks: i64,
    /// The same in seconds.
    pub time_s: f64,
    /// Joints by name: hips, waist, neck, head, and for left_ and right_ shoulder, elbow, wrist,
    /// hand, fingertips, hip, knee, ankle, heel, ball, toe.
    pub joints: BTreeMap<String, Joint>,
    /// Middle of the body's mass.
    pub centre_of_mass: [f64; 3],
    /// True angles.
    pub angles: Angles,
}

/// Where a joint is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Joint {
    /// In space.
    pub m: [f64; 3],
    /// In the upright picture, which it may lie outside of; null behind the camera.
    pub px: Option<[f64; 2]>,
}

/// Something that happens at an instant.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Event {
    /// What happens.
    pub kind: EventKind,
    /// The first frame that shows it: for a contact the first frame of touch, for a release the
    /// first frame clear, for a peak the frame nearest to it.
    pub frame: u64,
    /// The last frame that shows the state before; for a peak the same as `frame`.
    pub frame_before: u64,
    /// The instant itself in seconds on the clip's clock.
    pub time_s: f64,
    /// The part of the body, for example `left_hand`; empty for the whole body.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub part: String,
    /// What it touches or leaves; empty where nothing is touched.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub on: String,
    /// The angle at a peak in degrees.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub degrees: Option<f64>,
}

/// Kinds of event.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EventKind {
    /// A hand touches apparatus.
    HandContact,
    /// A hand leaves apparatus.
    HandRelease,
    /// Any other part but a foot touches apparatus.
    Contact,
    /// Any other part but a foot leaves apparatus.
    ContactEnd,
    /// The heel of a standing foot leaves the surface.
    HeelLift,
    /// The heel of a standing foot comes down.
    HeelDrop,
    /// The last foot leaves the surface for a flight.
    TakeOff,
    /// The first foot touches after a flight.
    Landing,
    /// A part other than hands and feet touches mat or floor.
    Fall,
    /// The widest split of a flight.
    WidestSplit,
    /// The highest point of a leg lifted while the other stands.
    HighestKick,
    /// In free support on a bar, the highest point of the lowest of the body lines.
    CastPeak,
    /// The far end of a hanging swing; degrees from straight down, forward positive.
    SwingPeak,
}
