//! The clip of a look: opening it, playing its span once, and its stills.

use std::{sync::Arc, time::Instant};

use iced::Task;

use crate::{
    practice::sitting::{SittingEvent, SittingStage},
    units::FrameIndex,
    window::viewer::{
        frame::Told, playback::Playback, stage::Stage, viewing::Viewer, viewport::Viewport,
    },
};

use super::{
    message::Message,
    shown::{Shown, Span, open},
    sitter::Sitter,
};

impl Sitter {
    /// Opens the clip of the look beside the window's thread.
    pub(crate) fn get_clip(&mut self) -> Task<Message> {
        let proved = Arc::default();
        let arrived = (self.arrived.clone(), Arc::downgrade(&proved));
        self.shown = Shown::Getting(proved);
        let Some(look) = self.sat.look().cloned() else { return Task::none() };
        let (set_file, set) = (self.set_file.clone(), self.set.clone());
        let id = look.id.clone();
        let opening = tokio::task::spawn_blocking(move || open(&set_file, &set, &look, arrived));
        Task::perform(opening, move |opened| {
            let opened = opened.unwrap_or_else(|error| Err(error.to_string()));
            Message::ClipOpened(id.clone(), opened)
        })
    }

    pub(crate) fn clip_opened(
        &mut self,
        look: &str,
        opened: Result<Arc<Stage>, String>,
    ) -> Task<Message> {
        if self.sat.look().is_some_and(|now| now.id == look) {
            self.shown = match opened {
                Ok(stage) => Shown::There(Box::new(Viewer::new(stage))),
                Err(why) => Shown::Not(why),
            };
            self.want_still();
        }
        Task::none()
    }

    /// Returns the span that the look plays.
    pub(crate) fn span(&self) -> Option<Span> {
        match (&self.shown, self.sat.look()) {
            (Shown::There(viewer), Some(look)) => Span::of(look, viewer.stage()),
            _ => None,
        }
    }

    /// Begins to play; the only time.
    pub(crate) fn begin_to_play(&mut self) {
        let (Some(span), Shown::There(viewer)) = (self.span(), &mut self.shown) else { return };
        viewer.begin(Playback::begin_once(Instant::now(), span.seconds));
    }

    /// Takes what the picture tells: the end of the look, or the mouse on a still.
    pub(crate) fn told(&mut self, told: Told) -> Task<Message> {
        let Shown::There(viewer) = &mut self.shown else { return Task::none() };
        match told {
            Told::PlayedOut { drawn, .. } if viewer.plays() => {
                viewer.stop();
                return self.look_ended(drawn);
            }
            // While the look plays it is seen as a whole.
            Told::Viewport(_) if viewer.plays() => {}
            told => viewer.told(told),
        }
        Task::none()
    }

    fn look_ended(&mut self, drawn: u64) -> Task<Message> {
        let frames = self.span().map_or(0, |span| span.frames);
        let dropped = u32::try_from(frames.saturating_sub(drawn)).unwrap_or(u32::MAX);
        self.take(SittingEvent::LookEnded { dropped, now_ms: self.now_ms() })
    }

    /// Returns the frame of the still, once stills may be shown and where one is named.
    pub(crate) fn still_frame(&self) -> Option<FrameIndex> {
        let may = matches!(
            self.sat.stage(),
            SittingStage::Still(_)
                | SittingStage::Keeping(_)
                | SittingStage::Line(_)
                | SittingStage::Reference(_)
        );
        let ms = self.sat.question().filter(|_| may)?.still_ms?;
        match &self.shown {
            Shown::There(viewer) => Some(viewer.stage().frame_at(ms as f64 / 1000.0)),
            _ => None,
        }
    }

    pub(crate) fn want_still(&mut self) {
        if let (Some(frame), Shown::There(viewer)) = (self.still_frame(), &mut self.shown) {
            viewer.set_viewport(Viewport::FIT);
            viewer.go_to(frame);
        }
    }

    /// Returns the clip when the picture of the still is there; before that another picture would
    /// be seen.
    pub(crate) fn still(&self) -> Option<&Viewer> {
        let frame = self.still_frame()?;
        match &self.shown {
            Shown::There(viewer) => {
                let is_there = viewer.stage().frame_shown() == Some(frame);
                is_there.then_some(&**viewer)
            }
            _ => None,
        }
    }

    /// Returns why there is no still.
    pub(crate) fn trouble(&self) -> Option<String> {
        match &self.shown {
            Shown::Not(why) => Some(why.clone()),
            Shown::There(viewer) => viewer.stage().trouble(self.still_frame()?),
            Shown::Getting(_) => None,
        }
    }
}
