//! What can be asked of the generator.

use std::path::PathBuf;

use clap::ValueEnum;
use serde::{Deserialize, Serialize};

use crate::camera::Camera;
use crate::draw::Strip;

/// What clip to make. The same options give the same truth file and the same decoded pictures.
#[derive(Clone, Debug, PartialEq)]
pub struct Options {
    /// Name of a motion, see [`crate::motions::ALL`].
    pub motion: String,
    /// The clip to write; the ending decides the container: mp4, mov or mkv.
    pub out: PathBuf,
    /// Width and height of the upright picture, even numbers of pixels.
    pub size: (u32, u32),
    /// Frames per second, numerator and denominator.
    pub rate: (u32, u32),
    /// Whether time stamps are a whole number of frames apart.
    pub timing: Timing,
    /// How the pictures are coded.
    pub codec: Codec,
    /// Largest distance between key pictures in frames.
    pub gop: u32,
    /// Most B pictures in a row.
    pub b_frames: u32,
    /// Whether groups of pictures may refer to the one before.
    pub groups: Groups,
    /// Degrees clockwise by which a player has to turn the coded picture: 0, 90, 180 or 270.
    pub rotate: u16,
    /// The first frame's time stamp in ticks of the clip's time base.
    pub start_at: i64,
    /// The camera; none for the motion's own.
    pub camera: Option<Camera>,
    /// How the frame number is drawn into the coded picture.
    pub strip: Strip,
    /// Constant rate factor of the encoder, lower is finer.
    pub crf: u32,
    /// Numbers that some motions take.
    pub params: Params,
}

/// Numbers that some motions take; none for the motion's own.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Params {
    /// Peak angle of a split, kick or cast in degrees.
    pub peak: Option<f64>,
    /// Size of a turn in degrees.
    pub turn: Option<f64>,
}

/// Whether time stamps are even.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Timing {
    /// Every frame lasts as long as the next.
    Even,
    /// Frames last from half to twice the nominal time, as from a telephone in poor light.
    Uneven,
}

/// How the pictures are coded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ValueEnum)]
#[serde(rename_all = "lowercase")]
pub enum Codec {
    /// H.264.
    H264,
    /// H.265.
    Hevc,
}

/// Whether groups of pictures stand alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Groups {
    /// Each can be decoded without the one before.
    Closed,
    /// The first B pictures of a group refer to the group before.
    Open,
}

impl Options {
    /// Returns the usual clip of a motion: 1280 by 720 at 30 frames per second, H.264.
    pub fn new(motion: impl Into<String>, out: impl Into<PathBuf>) -> Self {
        Self {
            motion: motion.into(),
            out: out.into(),
            size: (1280, 720),
            rate: (30, 1),
            timing: Timing::Even,
            codec: Codec::H264,
            gop: 60,
            b_frames: 2,
            groups: Groups::Closed,
            rotate: 0,
            start_at: 0,
            camera: None,
            strip: Strip::default(),
            crf: 20,
            params: Params::default(),
        }
    }

    /// Returns width and height of the coded picture.
    pub fn coded_size(&self) -> (u32, u32) {
        let (w, h) = self.size;
        if self.rotate % 180 == 90 { (h, w) } else { (w, h) }
    }
}
