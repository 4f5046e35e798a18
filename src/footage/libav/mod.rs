//! The only place that talks to FFmpeg's C interface.
//!
//! Every `unsafe` block of the crate's video half is in this folder; what leaves it is safe.
//! Enumerations of C structures are read as plain integers, because a newer FFmpeg may know
//! values that these bindings do not.

mod codec;
mod frame;
mod input;
mod parser;

use std::sync::Once;

use ffmpeg_next::ffi;

pub(super) use codec::{Codec, Output, Threads};
pub use frame::{Component, PlaneView};
pub(super) use frame::{Description, Frame};
pub(super) use input::{Aim, Input, Limits, Packet, VideoStream};
pub(super) use parser::{Parser, Structure};

/// FFmpeg's own error, as its readable message.
pub type Error = ffmpeg_next::Error;

/// What FFmpeg returns for a container that is not on the list of allowed ones.
pub(super) const NOT_ON_LIST: i32 = ffi::EINVAL;

/// What FFmpeg returns for a bound that was reached, as well as for lack of memory.
pub(super) const OUT_OF_BOUNDS: i32 = ffi::ENOMEM;

/// Keeps FFmpeg from writing to the terminal; what matters comes back as errors.
pub(super) fn silence() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        // Fills in the texts of FFmpeg's error numbers; without it messages are empty.
        let _ = ffmpeg_next::init();
        // SAFETY: sets one global integer that FFmpeg reads atomically enough for a log level.
        unsafe { ffi::av_log_set_level(ffi::AV_LOG_QUIET) };
    });
}

/// Returns the presence of a value that FFmpeg writes as its "no time stamp".
fn known(time: i64) -> Option<i64> {
    (time != ffi::AV_NOPTS_VALUE).then_some(time)
}

/// Turns a C return code into a result.
fn check(code: i32) -> Result<i32, Error> {
    if code < 0 { Err(Error::from(code)) } else { Ok(code) }
}
