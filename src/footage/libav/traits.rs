use ffmpeg_next::ffi;
use serde::{Deserialize, Serialize};

use super::{
    limits::LARGEST_PIECE,
    values::{description, row_bytes},
};

/// Bytes of a palette: 256 colours of four.
const PALETTE: usize = 1024;
/// Most pixels each way of what is worth reckoning with.
const MOST: u32 = 1 << 16;

/// What a decoder tells of a picture beside its samples.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Traits {
    /// FFmpeg's number of the pixel format.
    pub format: i32,
    pub width: u32,
    pub height: u32,
    pub ordinal: Option<u32>,
    pub damaged: bool,
    pub interlaced: bool,
    pub top_first: bool,
    pub pixel_shape: (i32, i32),
    pub colour: [i32; 5],
    pub matrix: Option<[i32; 9]>,
}

impl Traits {
    /// Returns the bytes of a row and the number of rows of a plane; nothing where there is none.
    pub(super) fn plane(&self, index: usize) -> Option<[usize; 2]> {
        let description = description(self.format)?;
        if self.width.max(self.height) > MOST {
            return None;
        }
        let no_rows = description.flags & ffi::AV_PIX_FMT_FLAG_HWACCEL as u64 != 0
            || self.has_palette() && index > 0;
        let shift = if matches!(index, 1 | 2) { description.log2_chroma_h } else { 0 };
        let height = (self.height as usize).div_ceil(1 << shift);
        let row = row_bytes(self.format, self.width, index)?;
        (!no_rows && height > 0).then_some([row, height])
    }

    pub(crate) fn pixels(&self) -> u64 {
        u64::from(self.width) * u64::from(self.height)
    }

    /// Returns how many bytes all samples take, packed; nothing for what no decoder makes.
    pub(crate) fn packed_bytes(&self) -> Option<usize> {
        let planes = (0..4).map_while(|index| self.plane(index));
        let samples: usize = planes.map(|[row, rows]| row * rows).sum();
        let bytes = samples + if self.has_palette() { PALETTE } else { 0 };
        (samples > 0 && bytes <= LARGEST_PIECE).then_some(bytes)
    }

    pub(super) fn has_palette(&self) -> bool {
        let flag = ffi::AV_PIX_FMT_FLAG_PAL as u64;
        description(self.format).is_some_and(|description| description.flags & flag != 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(format: ffi::AVPixelFormat, width: u32, height: u32) -> Traits {
        Traits {
            format: format as i32,
            width,
            height,
            ordinal: None,
            damaged: false,
            interlaced: false,
            top_first: false,
            pixel_shape: (1, 1),
            colour: [2; 5],
            matrix: None,
        }
    }

    #[test]
    fn a_picture_takes_as_many_bytes_as_its_planes() {
        use ffi::AVPixelFormat::{AV_PIX_FMT_PAL8, AV_PIX_FMT_YUV420P, AV_PIX_FMT_YUV420P10LE};
        // Halved chroma is rounded up: 5 x 3 and twice 3 x 2.
        assert_eq!(of(AV_PIX_FMT_YUV420P, 5, 3).packed_bytes(), Some(15 + 2 * 6));
        assert_eq!(of(AV_PIX_FMT_YUV420P10LE, 5, 3).packed_bytes(), Some(2 * 27));
        assert_eq!(of(AV_PIX_FMT_PAL8, 5, 3).packed_bytes(), Some(15 + 1024));
    }

    #[test]
    fn no_memory_is_asked_for_what_no_decoder_makes() {
        use ffi::AVPixelFormat::AV_PIX_FMT_YUV420P;
        for (width, height) in [(0, 3), (5, 0), (u32::MAX, 1), (1, u32::MAX), (60_000, 60_000)] {
            assert_eq!(of(AV_PIX_FMT_YUV420P, width, height).packed_bytes(), None);
        }
        for format in [-1, i32::MAX] {
            let odd = Traits { format, ..of(AV_PIX_FMT_YUV420P, 5, 3) };
            assert_eq!(odd.packed_bytes(), None);
        }
    }
}
