//! One frame with all that stands on it.

use std::{io::Cursor, path::Path};

use image::{DynamicImage, ImageFormat, RgbaImage};

use super::{
    error::HandoutError,
    subject::{Ground, Subject, image_of},
};
use crate::footage::{self, Decoder};

/// As what a picture is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum StillFormat {
    /// PNG: every pixel as it is.
    #[default]
    Png,
    /// JPEG: smaller, hardly to be told from it.
    Jpeg,
}

impl StillFormat {
    /// Returns the format that a file's name asks for; nothing for another one.
    pub fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_str()?.to_ascii_lowercase();
        match &*ending {
            "png" => Some(Self::Png),
            "jpg" | "jpeg" => Some(Self::Jpeg),
            _ => None,
        }
    }
}

/// Returns frame `k` at full size with what stands on it, as a file: points, lines, arc, value with its
/// uncertainty, and what a rule asks where the drawings have it.
pub fn still(
    subject: &Subject,
    k: usize,
    ground: Ground,
    format: StillFormat,
) -> Result<Vec<u8>, HandoutError> {
    subject.check([k])?;
    let subject = subject.proved(&|| false)?;
    if ground == Ground::Lines && subject.drawings.on(k).is_empty() {
        let path = subject.footage.path().to_owned();
        return Err(HandoutError::NoLines { path, what: format!("frame {k}") });
    }
    let image = subject.image(&mut Decoder::new(&subject.footage, 1), k, ground)?;
    written(image_of(subject.painted(image, k, ground)?)?, format)
}

/// Returns a picture as a file.
pub(super) fn written(image: RgbaImage, format: StillFormat) -> Result<Vec<u8>, HandoutError> {
    match format {
        StillFormat::Jpeg => Ok(footage::jpeg(&image)?),
        StillFormat::Png => {
            let mut bytes = Cursor::new(Vec::new());
            DynamicImage::from(image).into_rgb8().write_to(&mut bytes, ImageFormat::Png)?;
            Ok(bytes.into_inner())
        }
    }
}
