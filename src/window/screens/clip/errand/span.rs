//! First and last frame, as they are written.

use crate::{units::FrameIndex, window::typing::Line};

/// Returns the frames that are written, or what is wrong with them.
pub(in crate::window::screens::clip) fn frames(
    [from, to]: [&Line; 2],
    last: FrameIndex,
) -> Result<[FrameIndex; 2], String> {
    let of = |line: &Line, what: &str| {
        let written = line.text().trim();
        let frame: Result<u64, _> = written.parse();
        frame.map(FrameIndex).map_err(|_| {
            format!("{what}: write the number of a frame, 0 to {last}, not \"{written}\".")
        })
    };
    let [from, to] = [of(from, "First frame")?, of(to, "Last frame")?];
    if to > last {
        return Err(format!("The clip's last frame is {last}."));
    }
    if from > to {
        return Err("The first frame comes before the last.".to_owned());
    }
    Ok([from, to])
}
