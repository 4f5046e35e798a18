use std::sync::Arc;

use crate::footage::{
    libav::{self, Input, Look, VideoStream},
    limits::LIMITS,
};

use super::source::Source;

pub(crate) fn open_input(source: &Arc<Source>, look: Look) -> Result<Input, libav::Error> {
    // The name only helps to tell containers apart; the file is already open.
    let extension = source.path().extension().unwrap_or_default().to_string_lossy();
    let reader = source.reader();
    let leash = reader.leash(LIMITS.probe);
    let opened = Input::open(reader, &format!("clip.{extension}"), (look, LIMITS))?;
    // A packet that was being read when the leash ended was cut there. Where the file itself says a
    // size, nothing had to be read for one.
    let has_size = || choose(opened.videos()).is_some_and(|video| video.width > 0);
    if leash.let_go() && look == Look::Closely && has_size() {
        return open_input(source, Look::Briefly);
    }
    Ok(opened)
}

/// Returns the stream that the file marks as the default, else the largest.
pub(crate) fn choose(videos: Vec<VideoStream>) -> Option<VideoStream> {
    let rank = |video: &VideoStream| {
        let pixels = i64::from(video.width) * i64::from(video.height);
        (video.chosen_by_file, pixels, std::cmp::Reverse(video.index))
    };
    videos.into_iter().max_by_key(rank)
}
