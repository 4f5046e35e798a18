use std::{cmp::Reverse, sync::Arc};

use crate::{
    footage::{
        libav::{self, Input, VideoStream},
        limits::LIMITS,
    },
    units::{Container, Zeros},
};

use super::source::Source;

/// Whether streams are looked into while opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Look {
    /// Their first packets are read and decoded, until all is known that the file does not say.
    Closely,
    /// Only what the file itself says is read.
    Briefly,
}

/// Zeros at the end of a file that are kept in any case: no coded picture has so many in a row, and
/// FFmpeg looks further for the next one before it calls a stream broken.
const FEW_ZEROS: u64 = 1 << 15;
/// Fewer than these are not worth a word.
const MANY_ZEROS: u64 = 1 << 20;

pub(crate) fn open_input(source: &Arc<Source>, look: Look) -> Result<Input, libav::Error> {
    // The name only helps to tell containers apart; the file is already open.
    let extension = source.path().extension().unwrap_or_default().to_string_lossy();
    let reader = source.reader();
    let (leash, end) = (reader.leash(LIMITS.probe), reader.end());
    let mut opened = Input::open(reader, &format!("clip.{extension}"), LIMITS)?;
    if let Some(container) = Container::of(&opened.format(), source.path()) {
        end.set(source.length() - zeros_left_out(source, container));
    }
    if look == Look::Closely {
        opened.look_closely(LIMITS)?;
    }
    // A packet that was being read when the leash ended was cut there. Where the file itself says a
    // size, nothing had to be read for one.
    let has_size = || choose(opened.videos()).is_some_and(|video| video.width > 0);
    if leash.let_go() && look == Look::Closely && has_size() {
        return open_input(source, Look::Briefly);
    }
    Ok(opened)
}

/// Returns how many zeros at the end of a file are never read, because no picture can be in them.
pub(crate) fn zeros_left_out(source: &Source, container: &Container) -> u64 {
    let kept = match container.zeros {
        Zeros::Nothing => FEW_ZEROS,
        // One that is too large is still told as such.
        Zeros::OnePicture => LIMITS.packet as u64 + MANY_ZEROS,
        Zeros::Kept => return 0,
    };
    let more = source.zeros_at_end().saturating_sub(kept);
    if more < MANY_ZEROS { 0 } else { more }
}

/// Returns the stream that the file marks as the default, else the largest.
pub(crate) fn choose(videos: Vec<VideoStream>) -> Option<VideoStream> {
    let rank = |video: &VideoStream| {
        let pixels = i64::from(video.width) * i64::from(video.height);
        (video.chosen_by_file, pixels, Reverse(video.index))
    };
    videos.into_iter().max_by_key(rank)
}
