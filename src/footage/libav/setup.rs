use std::sync::Once;

use ffmpeg_next::ffi;

use super::{complaints, limits::LARGEST_PIECE};

/// Keeps FFmpeg from writing to the terminal, because what matters comes back as errors or is heard by
/// [`complaints`], and from asking for as much memory as a file claims to need.
pub(super) fn set_up() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        // Fills in the texts of FFmpeg's error numbers; without it messages are empty.
        let _ = ffmpeg_next::init();
        // SAFETY: each sets one global value that FFmpeg reads atomically enough; what is told of
        // messages keeps to FFmpeg's rules for it, and may be called from any thread.
        unsafe {
            ffi::av_log_set_level(ffi::AV_LOG_QUIET);
            ffi::av_log_set_callback(Some(complaints::hear::<_>));
            ffi::av_max_alloc(LARGEST_PIECE);
        }
    });
}

/// Returns the version of FFmpeg's decoders as one number.
pub(crate) fn version() -> u32 {
    // SAFETY: takes nothing and returns a constant.
    unsafe { ffi::avcodec_version() }
}
