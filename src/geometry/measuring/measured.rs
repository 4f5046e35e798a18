use serde::Serialize;

use crate::{
    geometry::{Limit, Verdict, decide_between},
    units::Magnitude,
};

/// A value with how sure it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Measured {
    /// The value.
    pub value: Magnitude,
    /// Its standard uncertainty.
    pub u: Magnitude,
    /// The interval that holds the truth with 95 % probability.
    pub interval: [Magnitude; 2],
    /// How the interval was found.
    pub method: Method,
    /// What the uncertainty is made of, largest first.
    pub budget: Vec<Share>,
    /// What a reader should know besides, in sentences.
    pub notes: Vec<String>,
    /// How far the points of the plane miss their places, in pixels, where more than four tell.
    pub residual: Option<f64>,
}

impl Measured {
    /// Returns what the value says of a limit, so that it is open exactly when the limit's edge
    /// lies inside the interval.
    pub fn decide(&self, limit: Limit) -> Verdict {
        decide_between(self.value, self.interval, limit)
    }
}

/// How an interval was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Method {
    /// From the standard uncertainty by first order.
    FirstOrder,
    /// By drawing, because first order is off by more than 2 % or a bounded cause weighs in.
    MonteCarlo,
}

/// One cause's part of an uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Share {
    /// The cause.
    pub cause: ErrorSource,
    /// Its standard uncertainty.
    pub u: Magnitude,
}

/// What makes a value unsure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ErrorSource {
    /// Where the points of the body were clicked.
    Clicks,
    /// Where the points of the plane, or of the floor, were clicked.
    PlanePoints,
    /// The camera has moved since the points of the plane were clicked.
    CameraMoved,
    /// How large the plane is.
    PlaneSize,
    /// Joints lie before or behind the plane of movement.
    Joints,
    /// Where the plumb or level line, or the line of travel, was clicked.
    Line,
    /// The picture may not be level.
    Roll,
    /// The camera may be off square.
    CameraAngle,
    /// The camera may look down, or up.
    CameraHeight,
    /// The moment lies between frames.
    Instant,
    /// The limb is smeared over the exposure.
    Blur,
    /// Rows of the picture are read one after another.
    Shutter,
    /// The heel may have been off the floor.
    HeelHeight,
    /// It may lie nearer or further than said.
    Depth,
    /// How far the camera stands was stated.
    Distance,
}

impl ErrorSource {
    /// Returns it in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Clicks => "clicks on the body",
            Self::PlanePoints => "points of the plane",
            Self::CameraMoved => "camera moved since the plane was clicked",
            Self::PlaneSize => "size of the plane",
            Self::Joints => "joints off the plane of movement",
            Self::Line => "line clicked",
            Self::Roll => "picture not levelled",
            Self::CameraAngle => "camera off square",
            Self::CameraHeight => "camera above or below",
            Self::Instant => "moment between frames",
            Self::Blur => "blur",
            Self::Shutter => "rolling shutter",
            Self::HeelHeight => "heel off the floor",
            Self::Depth => "depth said",
            Self::Distance => "distance said",
        }
    }

    /// Returns what would make it smaller.
    pub const fn help(self) -> &'static str {
        match self {
            Self::Clicks => "place the points again, or film from nearer",
            Self::PlanePoints => "click the points of the plane again, or more of them",
            Self::CameraMoved => "click the plane on this frame",
            Self::PlaneSize => "measure the plane with a tape",
            Self::Joints => "film more squarely",
            Self::Line => "click a longer line, or click it again",
            Self::Roll => "click an upright or a mat edge along the movement",
            Self::CameraAngle => "click a plane of known size, or film more squarely",
            Self::CameraHeight => "click a plane of known size, or say how high the camera stands",
            Self::Instant => "click the frame after as well, or film with more frames per second",
            Self::Blur => "film with a shorter exposure",
            Self::Shutter => "film with a camera that reads the picture out faster",
            Self::HeelHeight => "click frames on which heel and toe are both down",
            Self::Depth => "click a plane in which it lies",
            Self::Distance => "measure how far the camera stands, or film from further away",
        }
    }
}
