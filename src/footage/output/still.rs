use std::io::Cursor;

use image::{DynamicImage, ImageError, ImageFormat};

use crate::{footage::Picture, units::Orientation};

/// Returns a picture as a PNG, turned as asked.
pub fn png(picture: &Picture, turn: Option<Orientation>) -> Result<Vec<u8>, ImageError> {
    let mut bytes = Cursor::new(Vec::new());
    let image = DynamicImage::from(picture.to_rgba_turned(turn)).into_rgb8();
    image.write_to(&mut bytes, ImageFormat::Png)?;
    Ok(bytes.into_inner())
}
