use serde::{Deserialize, Serialize};

use crate::{
    geometry::{
        Along, Lies,
        input::{BodySide, CameraHeight, Rotation, Travel, USUAL_SIZE_U},
    },
    units::{Coded, Degrees, FrameRef, Magnitude, OnPlane},
};

/// A real plane tied to the picture by points of known size.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReferencePlane {
    /// What a reading calls it by: mat, beam side.
    pub name: String,
    /// Which way it lies.
    pub lies: Lies,
    /// Four or more points of it.
    pub points: Vec<PlacedPoint>,
    /// Standard uncertainty of its sizes as a share of them; 0.01 is a centimetre in a metre.
    #[serde(default = "usual_size_u")]
    pub size_u: f64,
    /// The frame that its points were clicked on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame: Option<FrameRef>,
}

const fn usual_size_u() -> f64 {
    USUAL_SIZE_U
}

/// A point of known place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PlacedPoint {
    /// What it is, so that one can go on clicking later.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Its place on the plane in metres: x along the movement, y up, or away on a flat plane.
    pub place: OnPlane,
    /// The line through `place` on which it lies anywhere, where that is all that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub along: Option<Along>,
    /// Where it was clicked, each time.
    pub coded: Vec<Coded>,
}

/// Whether the camera stood still between the frame of a plane and those of a reading.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CameraSince {
    /// The frame that the plane was clicked on.
    pub plane: FrameRef,
    /// The frames that were held against it.
    pub frames: Vec<FrameRef>,
    /// By how much the plane's points have moved at most; nothing where the pictures do not tell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moved: Option<Moved>,
}

/// By how much something moved in the picture.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Moved {
    /// In shown pixels.
    pub pixels: f64,
    /// Standard uncertainty of that.
    pub u: f64,
}

impl Moved {
    /// Returns whether it is too little to tell from none: less than the usual click knows of a pixel.
    pub fn is_still(self) -> bool {
        self.pixels < STILL + 2.0 * self.u
    }
}

/// A picture that moved by less than this, in pixels, moved nothing that matters: it widens clicks of
/// 2.5 px by a twelfth.
const STILL: f64 = 1.0;

/// How the points of a reading become its value, and by which program they last did.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct How {
    /// Name of the reference plane; without one the angle is the picture's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plane: Option<String>,
    /// Two points: with a flat plane the line of travel on it, without a plane
    /// an upright or a mat edge along the movement.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line: Option<[Coded; 2]>,
    /// Without a plane: two points of an edge that is level along the movement, where `line` is an upright.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub level: Option<[Coded; 2]>,
    /// Without a plane: the camera is off square by up to about this much.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub off_square: Option<Degrees>,
    /// Without a plane: from how high the camera looks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<CameraHeight>,
    /// Standard deviation with which joints lie out of the plane of movement, in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub joint_depth: Option<f64>,
    /// Which of the joints at one height of the body were clicked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub side: Option<BodySide>,
    /// What the pictures tell of the camera since the plane was clicked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub camera: Option<CameraSince>,
    /// Direction of travel in the picture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub travel: Option<Travel>,
    /// Which way a turn goes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rotation: Option<Rotation>,
    /// About how far a turn goes, which tells its whole turns.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub about: Option<Degrees>,
    /// Standard deviation of a click in shown pixels.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub click: Option<f64>,
    /// Degrees of freedom behind it, where it was learnt from points placed again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub click_freedom: Option<f64>,
    /// Whether it is how far apart several people place the same points.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub click_of_several: bool,
    /// Change at the moment, in the quantity's unit per second.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed: Option<Magnitude>,
    /// Exposure in seconds, where blur is seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exposure: Option<f64>,
    /// How high the heel may have been, in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heel_height: Option<f64>,
    /// How much nearer to the camera than the plane a length lies, in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth: Option<f64>,
    /// That depth may be off by up to this either way, in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth_within: Option<f64>,
    /// How far the camera stands from the plane, in metres.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub distance: Option<f64>,
    /// The 95 % interval of the value; absent when it lies evenly about it by its uncertainty.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub interval: Option<[Magnitude; 2]>,
    /// What a reader of the sheet should know of this reading, in sentences.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub warnings: Vec<String>,
    /// Version of the program that worked out the stored value.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub program: Option<String>,
}

impl How {
    /// Returns whether nothing was said.
    pub fn is_default(&self) -> bool {
        *self == Self::default()
    }
}
