//! A picture as JPEG.

use image::RgbaImage;

use crate::footage::libav::{self, in_parentheses};

/// FFmpeg cannot write a JPEG.
#[derive(Debug, thiserror::Error)]
#[error("FFmpeg could not write a JPEG{}; write a PNG instead", in_parentheses(*.0))]
pub struct JpegError(libav::Error);

/// Returns a picture as JPEG, fine enough for thin lines; nothing in it tells of place, day or device.
pub fn jpeg(image: &RgbaImage) -> Result<Vec<u8>, JpegError> {
    let pixels = (image.width() * image.height()) as usize;
    let mut planes = [0, 1, 2].map(|_| Vec::with_capacity(pixels));
    for pixel in image.pixels() {
        let [r, g, b] = [0, 1, 2].map(|part| f32::from(pixel.0[part]));
        // JFIF 1.02: BT.601 in full range.
        let y = 0.299 * r + 0.587 * g + 0.114 * b;
        let parts = [y, (b - y) / 1.772 + 128.0, (r - y) / 1.402 + 128.0];
        for (plane, part) in planes.iter_mut().zip(parts) {
            plane.push(part.round().clamp(0.0, 255.0) as u8);
        }
    }
    let planes = [&*planes[0], &planes[1], &planes[2]];
    libav::jpeg([image.width(), image.height()], planes).map_err(JpegError)
}
