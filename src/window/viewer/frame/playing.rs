//! Playing: the picture that is due, and how far it is.

use std::time::{Duration, Instant};

use iced::{advanced::Shell, window::RedrawRequest};

use crate::{
    units::FrameIndex,
    window::viewer::playback::{Clock, Playback},
};

use super::{state::State, told::Told, view::FrameView};

/// How often a playing clip tells how far it is.
const TELL_EVERY: Duration = Duration::from_millis(100);
/// How soon the widget looks again while a due picture is still being decoded.
const LOOK_AGAIN: Duration = Duration::from_millis(4);

impl<M> FrameView<'_, M> {
    /// Asks for the picture that is due and comes back when the next one is.
    pub(crate) fn play(
        &self,
        playback: Playback,
        wall: Instant,
        state: &mut State,
        shell: &mut Shell<'_, M>,
    ) {
        let now = self.time(playback, wall, state);
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
            let before = drawn.map_or_else(|| self.begins(playback), |drawn| drawn.last);
            let told = Told::PlayedOut {
                drawn: drawn.map_or(0, |it| it.count),
                dropped: drawn.map_or(0, |it| it.dropped) + due.since(before.stepped(1)),
            };
            shell.publish((self.tell)(told));
            return;
        }
        self.stage.want(due);
        let waited = state.told_at.is_none_or(|told| wall.duration_since(told) >= TELL_EVERY);
        if waited && state.told != Some(due) {
            state.told_at = Some(wall);
            state.told = Some(due);
            let drawn = state.drawn.get().filter(|drawn| drawn.of == playback);
            let dropped = drawn.map_or(0, |drawn| drawn.dropped);
            shell.publish((self.tell)(Told::PlayedTo { frame: due, dropped }));
        }
        let shown = self.stage.frame_shown();
        let next = playback.due(self.stage.seconds_of(due.stepped(1)), now);
        let wait = next.saturating_duration_since(now);
        let wait = if shown == Some(due) { wait } else { wait.min(LOOK_AGAIN) };
        shell.request_redraw_at(RedrawRequest::At(wall + wait));
    }

    /// Returns the frame with which it began.
    pub(super) fn begins(&self, playback: Playback) -> FrameIndex {
        self.stage.frame_at(playback.began())
    }

    /// Returns the time of what plays.
    fn time(&self, playback: Playback, wall: Instant, state: &mut State) -> Instant {
        let clock = state.clock.filter(|clock| clock.of() == playback);
        let clock = clock.unwrap_or_else(|| Clock::begin(playback));
        let due = self.stage.frame_at(playback.seconds_at(clock.at()));
        let next = playback.due(self.stage.seconds_of(due.stepped(1)), clock.at());
        let drawn = state.drawn.get().filter(|drawn| drawn.of == playback);
        // A picture that cannot be decoded is not waited for.
        let is_drawn =
            drawn.is_some_and(|drawn| drawn.last == due) || self.stage.trouble(due).is_some();
        let clock = clock.go_on(wall, is_drawn, next);
        state.clock = Some(clock);
        clock.at()
    }
}
