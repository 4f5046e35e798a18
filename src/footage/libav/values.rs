//! FFmpeg's plain numbers as what they mean.

use std::mem;

use ffmpeg_next::ffi::{self, AVPixelFormat};

/// Returns the presence of a value that FFmpeg writes as its "no time stamp".
pub(super) fn known(time: i64) -> Option<i64> {
    (time != ffi::AV_NOPTS_VALUE).then_some(time)
}

/// Returns a frame's time stamp, which is its packet's ordinal.
pub(super) fn stamp_of(pts: i64) -> Option<u32> {
    known(pts).and_then(|pts| u32::try_from(pts).ok())
}

/// Reads the nine native integers of a display matrix.
pub(super) fn matrix_of(bytes: &[u8]) -> Option<[i32; 9]> {
    let mut matrix = [0; 9];
    for (number, bytes) in matrix.iter_mut().zip(bytes.get(..36)?.chunks_exact(4)) {
        *number = i32::from_ne_bytes(bytes.try_into().ok()?);
    }
    Some(matrix)
}

/// Returns the pixel format of a number, or nothing for one that these bindings do not know.
pub(super) fn pixel_format(number: i32) -> Option<AVPixelFormat> {
    // SAFETY: FFmpeg never sets a format above its own last one; the numbers from 0 to that
    // last one are all members of the enumeration generated from the same headers.
    (0..AVPixelFormat::AV_PIX_FMT_NB as i32)
        .contains(&number)
        .then(|| unsafe { mem::transmute::<i32, AVPixelFormat>(number) })
}

/// Returns the bytes of a row of a plane; nothing where there is no such plane.
pub(super) fn row_bytes(format: i32, width: u32, plane: usize) -> Option<usize> {
    let (format, width) = (pixel_format(format)?, i32::try_from(width).ok()?);
    // SAFETY: takes numbers only.
    let row = unsafe { ffi::av_image_get_linesize(format, width, plane as i32) };
    usize::try_from(row).ok().filter(|&row| row > 0)
}

/// Returns FFmpeg's description of a pixel format, or nothing for one that it does not know.
pub(super) fn description(number: i32) -> Option<&'static ffi::AVPixFmtDescriptor> {
    // SAFETY: FFmpeg returns null or a static description.
    unsafe { ffi::av_pix_fmt_desc_get(pixel_format(number)?).as_ref() }
}
