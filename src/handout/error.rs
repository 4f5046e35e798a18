//! Why nothing was made.

use std::path::PathBuf;

use image::ImageError;

use crate::footage::{DecodeError, FilmError, JpegError};

/// Why a still, moments or a replay were not made. Nothing of them is left.
#[derive(Debug, thiserror::Error)]
pub enum HandoutError {
    /// It was stopped.
    #[error("stopped; nothing was kept")]
    Stopped,
    /// A frame could not be had.
    #[error(transparent)]
    Decode(#[from] DecodeError),
    /// The film could not be written.
    #[error(transparent)]
    Film(#[from] FilmError),
    /// The picture could not be written as JPEG.
    #[error(transparent)]
    Jpeg(#[from] JpegError),
    /// The picture could not be written as PNG.
    #[error("no PNG can be made of it ({0})")]
    Png(#[from] ImageError),
    /// Frames in the wrong order.
    #[error("frames {} to {}: give the earlier one first", .0[0], .0[1])]
    Backwards([usize; 2]),
    /// A stop that the replay never comes to.
    #[error("frame {stop}, on which it is to stop, is not one of the frames {} to {}", .frames[0], .frames[1])]
    StopOutside {
        /// Where it is to stop.
        stop: usize,
        /// First and last frame of the replay.
        frames: [usize; 2],
    },
    /// Not as many moments as fit on a picture.
    #[error("{given} moments; give {} to {}", super::FEWEST, super::MOST)]
    Moments {
        /// How many were given.
        given: usize,
    },
    /// No joints are marked, of which lines could be drawn.
    #[error(
        "{}: no points are placed on {what}, so that there are no lines to draw; place points there \
         first, or hand over the picture", .path.display()
    )]
    NoLines {
        /// The clip.
        path: PathBuf,
        /// On what.
        what: String,
    },
    /// It would take too long to be of use.
    #[error(
        "the replay would be {seconds} s long, more than {most} s; give fewer frames or a faster speed"
    )]
    TooLong {
        /// How long it would be.
        seconds: u64,
        /// How long it may be.
        most: u64,
    },
    /// It has no pass.
    #[error("a replay needs at least one pass, with a speed above 0")]
    NoPass,
    /// The picture is too large to be painted, or there is no memory for it.
    #[error("a picture of {} x {} pixels is too large to be painted", .0[0], .0[1])]
    TooLarge([u32; 2]),
    /// A part of the program failed.
    #[error("the replay could not be made: a part of the program failed; please report it")]
    Failed,
}

impl HandoutError {
    /// Returns whether somebody stopped it, so that there is nothing to tell.
    pub fn is_stop(&self) -> bool {
        matches!(self, Self::Stopped)
    }
}
