//! Playing: the picture that is due, and how far it is.

use std::time::{Duration, Instant};

use iced::{advanced::Shell, window::RedrawRequest};

use super::widget::{FrameView, State, Told};
use crate::window::playback::Playback;

/// How often a playing clip tells how far it is.
const TELL_EVERY: Duration = Duration::from_millis(100);
/// How soon the widget looks again while a due picture is still being decoded.
const LOOK_AGAIN: Duration = Duration::from_millis(4);

impl<M> FrameView<'_, M> {
    /// Asks for the picture that is due at `now` and comes back when the next one is.
    pub(super) fn play(
        &self,
        playback: Playback,
        now: Instant,
        state: &mut State,
        shell: &mut Shell<'_, M>,
    ) {
        let seconds = playback.seconds_at(now);
        let due = self.stage.frame_at(seconds);
        let last = self.stage.last_frame();
        let is_last = || due == last && seconds >= self.stage.seconds_of(last);
        let is_over = playback.is_over(now).unwrap_or_else(|| is_last() && !playback.is_loop());
        if is_over {
            if playback.is_over(now).is_none() {
                self.stage.want(due);
            }
            let drawn = state.drawn.take().filter(|drawn| drawn.of == playback);
            shell.publish((self.tell)(Told::PlayedOut { drawn: drawn.map_or(0, |it| it.count) }));
            return;
        }
        self.stage.want(due);
        let waited = state.told_at.is_none_or(|told| now.duration_since(told) >= TELL_EVERY);
        if waited && state.told != Some(due) {
            state.told_at = Some(now);
            state.told = Some(due);
            shell.publish((self.tell)(Told::PlayedTo(due)));
        }
        let shown = self.stage.latest().map(|picture| picture.frame as u64);
        let next = playback.due(self.stage.seconds_of(due + 1), now);
        let again = if shown == Some(due) { next } else { next.min(now + LOOK_AGAIN) };
        shell.request_redraw_at(RedrawRequest::At(again));
    }
}

/// Pictures drawn while something plays.
#[derive(Clone, Copy, Debug)]
pub struct Counted {
    of: Playback,
    last: usize,
    count: u64,
}

impl State {
    /// Counts a picture that is drawn, unless it is the one that was drawn before.
    pub(super) fn count(&self, of: Playback, frame: usize) {
        let before = self.drawn.get().filter(|drawn| drawn.of == of);
        let count = match before {
            Some(before) if before.last == frame => before.count,
            before => before.map_or(0, |before| before.count) + 1,
        };
        self.drawn.set(Some(Counted { of, last: frame, count }));
    }
}
