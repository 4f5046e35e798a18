use std::{io::Cursor, path::PathBuf};

use image::{DynamicImage, ImageError, ImageFormat};

use crate::{
    footage::{DecodeError, Decoder, Footage, Picture},
    units::Orientation,
};

/// Why a still could not be had.
#[derive(Debug, thiserror::Error)]
pub enum StillError {
    /// The frame could not be had.
    #[error(transparent)]
    Decode(#[from] DecodeError),
    /// No PNG could be made of it.
    #[error("{path}: no picture can be made of frame {frame} ({cause})")]
    Picture {
        /// The clip.
        path: PathBuf,
        /// The frame.
        frame: usize,
        /// What is wrong.
        cause: ImageError,
    },
}

/// Returns frame `k` as a PNG: upright, square pixels, right colours, full resolution; turned
/// otherwise than its file says where `turn` is given.
pub fn still(
    footage: &Footage,
    k: usize,
    turn: Option<Orientation>,
) -> Result<Vec<u8>, StillError> {
    // A picture that leaves is one that was proved.
    let footage = &footage
        .proved(&|| false)
        .ok_or_else(|| DecodeError::Damaged { path: footage.path().to_owned(), frame: k })?;
    let picture = Decoder::new(footage, 1).picture(k)?;
    png(&picture, turn).map_err(|cause| {
        let path = footage.path().to_owned();
        StillError::Picture { path, frame: k, cause }
    })
}

/// Returns a picture as a PNG, turned as asked.
pub fn png(picture: &Picture, turn: Option<Orientation>) -> Result<Vec<u8>, ImageError> {
    let mut bytes = Cursor::new(Vec::new());
    let image = DynamicImage::from(picture.to_rgba_turned(turn)).into_rgb8();
    image.write_to(&mut bytes, ImageFormat::Png)?;
    Ok(bytes.into_inner())
}
