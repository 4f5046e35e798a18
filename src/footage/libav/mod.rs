//! The only place that talks to FFmpeg's C interface.
//!
//! Every `unsafe` block of the crate's video half is in this folder; what leaves it is safe.
//! Enumerations of C structures are read as plain integers, because a newer FFmpeg may know
//! values that these bindings do not.

mod codec;
mod frame;
mod input;
mod muxer;
mod parser;
mod pool;

use std::sync::Once;

use ffmpeg_next::ffi;

pub(super) use codec::{Codec, Output, Parameters, Threads, Unneeded};
pub(crate) use frame::{Component, PlaneView};
pub(super) use frame::{Description, Frame};
pub(super) use input::{Aim, Input, Limits, Look, Packet, VideoStream};
pub(super) use muxer::Muxer;
pub(super) use parser::{Parser, Structure};
pub(super) use pool::{Pool, SLAB};

/// FFmpeg's own error, as its readable message.
pub(super) type Error = ffmpeg_next::Error;

/// What FFmpeg returns for a container that is not on the list of allowed ones.
pub(super) const NOT_ON_LIST: i32 = ffi::EINVAL;

/// What FFmpeg returns for a bound that was reached, as well as for lack of memory.
const OUT_OF_BOUNDS: i32 = ffi::ENOMEM;

/// Returns whether FFmpeg says that it was asked for more than it may have.
pub(super) fn is_out_of_bounds(error: Error) -> bool {
    matches!(error, Error::Other { errno } if errno == OUT_OF_BOUNDS)
}

/// Most bytes that FFmpeg may ask for at once: a plane of the largest picture in 16 bits and four
/// components. A file's own claims are what it would ask for otherwise.
const LARGEST_PIECE: usize = 1 << 29;

/// Keeps FFmpeg from writing to the terminal, because what matters comes back as errors, and from
/// asking for as much memory as a file claims to need.
pub(super) fn set_up() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        // Fills in the texts of FFmpeg's error numbers; without it messages are empty.
        let _ = ffmpeg_next::init();
        // SAFETY: each sets one global integer that FFmpeg reads atomically enough.
        unsafe {
            ffi::av_log_set_level(ffi::AV_LOG_QUIET);
            ffi::av_max_alloc(LARGEST_PIECE);
        }
    });
}

/// Returns FFmpeg's words for an error in parentheses, after a space; nothing where it has none.
pub(super) fn in_parentheses(error: Error) -> String {
    let text = error.to_string();
    if text.trim().is_empty() { String::new() } else { format!(" ({text})") }
}

/// Returns the presence of a value that FFmpeg writes as its "no time stamp".
fn known(time: i64) -> Option<i64> {
    (time != ffi::AV_NOPTS_VALUE).then_some(time)
}

/// Turns a C return code into a result.
fn check(code: i32) -> Result<i32, Error> {
    if code < 0 { Err(Error::from(code)) } else { Ok(code) }
}
