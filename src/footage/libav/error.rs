use ffmpeg_next::ffi;

/// FFmpeg's own error, as its readable message.
pub(crate) type Error = ffmpeg_next::Error;

/// What FFmpeg returns for a container that is not on the list of allowed ones.
pub(crate) const NOT_ON_LIST: i32 = ffi::EINVAL;

/// What stands for the end of a process that decoded: no number of any system's.
pub(crate) const LOST: Error = Error::Other { errno: i32::MAX };

/// What FFmpeg returns for a bound that was reached, as well as for lack of memory.
const OUT_OF_BOUNDS: i32 = ffi::ENOMEM;

/// Returns whether FFmpeg says that it was asked for more than it may have.
pub(crate) fn is_out_of_bounds(error: Error) -> bool {
    matches!(error, Error::Other { errno } if errno == OUT_OF_BOUNDS)
}

/// Returns FFmpeg's words for an error in parentheses, after a space; nothing where it has none.
pub(crate) fn in_parentheses(error: Error) -> String {
    let text = error.to_string();
    if text.trim().is_empty() { String::new() } else { format!(" ({text})") }
}

/// Turns a C return code into a result.
pub(super) fn check(code: i32) -> Result<i32, Error> {
    if code < 0 { Err(Error::from(code)) } else { Ok(code) }
}
