use std::{ffi::CStr, ptr, slice};

use ffmpeg_next::{
    Rational,
    ffi::{self, AVMediaType, AVPacketSideDataType},
};
use serde::{Deserialize, Serialize};

use super::values::matrix_of;

/// What the container says about a video stream.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct VideoStream {
    pub index: usize,
    pub width: i32,
    pub height: i32,
    pub codec: String,
    pub time_base: (i32, i32),
    /// Bits of a time stamp in the container; as many ones, and it begins again at zero.
    pub stamp_bits: i32,
    /// Average frames a second as the container states them.
    pub rate: (i32, i32),
    pub chosen_by_file: bool,
    pub cover: bool,
    /// Pixel shape by container, else by codec; zero where neither says one.
    pub pixel_shape: (i32, i32),
    /// The nine numbers of the display matrix, 16.16 and 2.30 fixed point.
    pub matrix: Option<[i32; 9]>,
}

impl VideoStream {
    /// Returns the ticks after which the container's clock begins again at zero, where it does.
    pub(crate) fn turn(&self) -> Option<i64> {
        (1..=62).contains(&self.stamp_bits).then(|| 1 << self.stamp_bits)
    }
}

/// Returns what the container says about a stream, where it is video.
pub(super) fn video_stream(stream: &ffmpeg_next::Stream<'_>) -> Option<VideoStream> {
    let pair = |r: Rational| (r.numerator(), r.denominator());
    // SAFETY: stream and parameters are alive while `stream` is borrowed; only plain integers
    // are read, enumerations of known fixed meaning compared by value; FFmpeg's names are
    // static C strings.
    unsafe {
        let raw = stream.as_ptr();
        let parameters = (*raw).codecpar;
        if (*parameters).codec_type != AVMediaType::AVMEDIA_TYPE_VIDEO {
            return None;
        }
        let shape =
            ffi::av_guess_sample_aspect_ratio(ptr::null_mut(), raw.cast_mut(), ptr::null_mut());
        Some(VideoStream {
            index: stream.index(),
            width: (*parameters).width,
            height: (*parameters).height,
            codec: CStr::from_ptr(ffi::avcodec_get_name((*parameters).codec_id))
                .to_string_lossy()
                .into_owned(),
            time_base: pair(stream.time_base()),
            stamp_bits: (*raw).pts_wrap_bits,
            rate: pair(stream.avg_frame_rate()),
            chosen_by_file: (*raw).disposition & ffi::AV_DISPOSITION_DEFAULT != 0,
            cover: (*raw).disposition & ffi::AV_DISPOSITION_ATTACHED_PIC != 0,
            pixel_shape: (shape.num, shape.den),
            matrix: stream_matrix(raw),
        })
    }
}

/// Reads a stream's display matrix.
///
/// # Safety
/// `stream` must point to a stream of an open context.
unsafe fn stream_matrix(stream: *const ffi::AVStream) -> Option<[i32; 9]> {
    let mut size = 0_usize;
    let kind = AVPacketSideDataType::AV_PKT_DATA_DISPLAYMATRIX;
    // SAFETY: the stream is alive by this function's own condition.
    let data = unsafe { ffi::av_stream_get_side_data(stream, kind, &raw mut size) };
    if data.is_null() {
        return None;
    }
    // SAFETY: FFmpeg gives `size` readable bytes at `data`, alive as long as the stream.
    matrix_of(unsafe { slice::from_raw_parts(data, size) })
}
