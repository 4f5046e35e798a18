//! What a measurement is made from: points in shown pixels, and how the picture is tied to the
//! world.

use serde::{Deserialize, Serialize};

use super::{
    Along, Lies, Quantity,
    error::placing::{USUAL_CLICK, USUAL_FREEDOM},
};
use crate::units::{Degrees, Magnitude, OnPlane, Shown};

/// Everything that one measurement needs.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureInput {
    /// What is measured.
    pub quantity: Quantity,
    /// The frames clicked on: first the one the value belongs to, for a turn the heel lift, then
    /// the heel drop, then later frames.
    pub looks: Vec<ClickedFrame>,
    /// How the picture is tied to the world.
    pub view: View,
    /// What a person knows besides.
    pub facts: Facts,
}

/// One frame with the points clicked on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ClickedFrame {
    /// When the frame is shown, in seconds.
    pub seconds: f64,
    /// The earliest and the latest instant at which its event can have happened, in seconds.
    pub instant: [f64; 2],
    /// The points.
    pub spots: Vec<Spot>,
}

/// A point clicked once or several times.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spot {
    /// What it is, one of [`Quantity::points`] or their stand-ins.
    pub name: String,
    /// Where it was placed, each time.
    pub placed: Vec<Shown>,
}

/// How the picture is tied to the world.
#[derive(Clone, Debug, PartialEq)]
pub enum View {
    /// By nothing: the angle is the one in the picture.
    Picture {
        /// Two points of an upright, or of a mat edge along the movement; empty when the picture
        /// is taken to be level.
        line: [Vec<Shown>; 2],
        /// The camera is off square by up to about this much, about the vertical.
        off_square: Degrees,
    },
    /// By a plane in which the movement goes on, or on which a foot turns.
    Plane(Plane),
    /// By a vertical plane that stands on a line of the floor.
    Standing {
        /// The floor.
        floor: Plane,
        /// Two points of the line.
        line: [Vec<Shown>; 2],
    },
}

/// A plane of known size.
#[derive(Clone, Debug, PartialEq)]
pub struct Plane {
    /// Which way it lies.
    pub lies: Lies,
    /// Points of known place.
    pub points: Vec<PlanePoint>,
    /// Standard uncertainty of its sizes, as a share of them.
    pub size_u: f64,
}

/// A point of a plane.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanePoint {
    /// Its place on the plane.
    pub place: OnPlane,
    /// The line through `place` on which it lies anywhere, where that is all that is known.
    pub along: Option<Along>,
    /// Where it was clicked, each time.
    pub placed: Vec<Shown>,
}

/// What a person knows besides the points.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// The direction of travel in the picture.
    pub travel: Option<Travel>,
    /// Which way a turn goes.
    pub rotation: Rotation,
    /// About how far it goes, which tells the whole turns: to the nearest half turn.
    pub about: Degrees,
    /// Standard deviation of a click across and down, in shown pixels.
    pub click: f64,
    /// Degrees of freedom behind it: infinite where it is known, few where it is a guess.
    pub click_freedom: f64,
    /// Standard deviation with which a joint lies out of the plane of movement, in metres.
    pub joint_depth: f64,
    /// Which of the joints at one height of the body were clicked.
    pub side: BodySide,
    /// Without a plane: how far down the camera looks on the athlete, from and to; nothing where
    /// nobody says.
    pub pitch: Option<[Degrees; 2]>,
    /// Change at the moment, in the quantity's unit per second, when it is known.
    pub speed: Option<Magnitude>,
    /// Exposure of a frame in seconds; zero when no blur is seen.
    pub exposure: f64,
    /// How high the heel may have been on the frames clicked, in metres.
    pub heel_height: f64,
    /// Where a length lies; on a flat plane it lies in it unless this says otherwise.
    pub depth: Option<Depth>,
    /// Without a plane, beside an upright: two points of an edge that is level along the movement.
    pub level: Option<[Shown; 2]>,
    /// How far the camera stands from the plane, in metres, where a person says so.
    pub distance: Option<f64>,
    /// By how many pixels the plane has moved in the picture since it was clicked.
    pub camera_moved: f64,
    /// Middle of the shown picture.
    pub centre: Shown,
}

impl Default for Facts {
    fn default() -> Self {
        Self {
            travel: None,
            rotation: Rotation::Left,
            about: Degrees(360.0),
            click: USUAL_CLICK,
            click_freedom: USUAL_FREEDOM,
            joint_depth: USUAL_JOINT_DEPTH,
            side: BodySide::Middle,
            pitch: None,
            speed: None,
            exposure: 0.0,
            heel_height: 0.0,
            depth: None,
            level: None,
            distance: None,
            camera_moved: 0.0,
            centre: Shown([960.0, 540.0]),
        }
    }
}

/// Standard deviation with which a joint lies out of the plane of movement where nobody says, in
/// metres: about half the width of a pelvis.
pub(crate) const USUAL_JOINT_DEPTH: f64 = 0.05;

/// Standard uncertainty of the sizes of a plane where nobody says, as a share of them: a norm holds
/// to a hundredth, and a mat gives, a tape sags and an edge is round.
pub const USUAL_SIZE_U: f64 = 0.02;

/// From how high a camera looks at an athlete, in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CameraHeight {
    /// Near the floor, so that it looks up.
    Floor,
    /// As high as the athlete's middle, give or take what a table is high.
    Table,
    /// Up in the stands.
    Stands,
}

impl CameraHeight {
    /// Returns how far down it looks on the athlete, from and to; common practice, no source.
    pub const fn pitch(self) -> [Degrees; 2] {
        match self {
            Self::Floor => [Degrees(-20.0), Degrees(5.0)],
            Self::Table => [Degrees(-7.0), Degrees(7.0)],
            Self::Stands => [Degrees(8.0), Degrees(30.0)],
        }
    }

    /// Returns it in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Floor => "camera near the floor",
            Self::Table => "camera as high as the athlete",
            Self::Stands => "camera in the stands",
        }
    }
}

/// Where across the body its points are clicked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BodySide {
    /// In the middle of the body, or nobody says.
    #[default]
    Middle,
    /// On the side that the camera sees: nearer to it than the middle, the shoulder more than the
    /// hip.
    Near,
}

impl BodySide {
    /// Returns it in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Middle => "middle of the body",
            Self::Near => "near side of the body",
        }
    }

    /// Returns how much nearer to the camera than the middle of the body a point is, in metres.
    /// Half the widths of a slight grown woman; common practice, no source.
    pub(super) fn nearer(self, point: &str) -> f64 {
        match (self, point) {
            (Self::Near, "shoulder" | "hand") => 0.17,
            (Self::Near, "hip" | "knee" | "ankle" | "heel" | "toe") => 0.09,
            // Left and right are clicked both, or lie both ends on one side.
            _ => 0.0,
        }
    }
}

/// In which parallel plane something lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depth {
    /// Metres nearer to the camera than the plane clicked; negative beyond it.
    pub nearer: f64,
    /// It may be off by up to this either way, in metres.
    pub within: f64,
}

/// A direction in the shown picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Travel {
    /// To the right.
    Right,
    /// To the left.
    Left,
}

/// A sense of turning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rotation {
    /// To the athlete's left: against the clock seen from above.
    Left,
    /// To the athlete's right.
    Right,
}
