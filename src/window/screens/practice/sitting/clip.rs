//! The clip of a look: opening it, playing its span once, and its stills.

use std::{
    path::Path,
    sync::Arc,
    thread,
    time::{Duration, Instant},
};

use iced::Task;

use crate::{
    library,
    practice::{
        set::{Look, Set},
        sitting::{Event, Stage},
    },
    window::viewer::{
        arrived::Arrived,
        frame::Told,
        playback::Playback,
        stage::{self, Playing},
        viewport::Viewport,
    },
};

use super::{Message, Sitter};

/// How long the first picture of a span may take.
const PATIENCE: Duration = Duration::from_secs(30);

/// The clip of a look.
pub(crate) enum Shown {
    /// It is being opened.
    Getting,
    /// It is open.
    There(Arc<stage::Stage>),
    /// It cannot be shown, and why.
    Not(String),
}

/// The span of a look within its clip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Span {
    /// Beginning and end in seconds of the clip; the end is not beyond the clip's.
    pub seconds: [f64; 2],
    /// Number of its first frame.
    pub first: u64,
    /// How many pictures it has.
    pub frames: u64,
}

impl Span {
    /// Returns the span of a look; nothing where the clip ends before it.
    fn of(look: &Look, stage: &stage::Stage) -> Option<Self> {
        let [from, to] = [look.from_ms, look.to_ms].map(|ms| ms as f64 / 1000.0);
        let to = to.min(stage.seconds_of(stage.last_frame() + 1));
        if from >= to {
            return None;
        }
        let [first, last] = [from, to].map(|seconds| stage.frame_at(seconds));
        // The picture that comes up at the very end is not part of it.
        let includes_last = u64::from(stage.seconds_of(last) < to);
        Some(Self { seconds: [from, to], first, frames: last - first + includes_last })
    }
}

/// Opens the clip of a look and waits for its first picture, so that the look begins at once.
fn open(
    set_file: &Path,
    set: &Set,
    look: &Look,
    arrived: Arrived,
) -> Result<Arc<stage::Stage>, String> {
    let path = library::clip_of_look(set_file, set, look).map_err(|why| why.to_string())?;
    let stage = stage::Stage::open_whole(&path, move || arrived.signal());
    let stage = stage.map_err(|error| error.to_string())?;
    let Some(span) = Span::of(look, &stage) else {
        return Err(format!("The clip {} ends before this look begins", path.display()));
    };
    stage.want(span.first);
    let end = Instant::now() + PATIENCE;
    while stage.latest().is_none_or(|picture| picture.frame as u64 != span.first) {
        if let Some(why) = stage.trouble(span.first) {
            return Err(why);
        }
        if Instant::now() > end {
            return Err(format!("The clip {} could not be decoded in time", path.display()));
        }
        thread::sleep(Duration::from_millis(2));
    }
    Ok(Arc::new(stage))
}

impl Sitter {
    /// Opens the clip of the look beside the window's thread.
    pub(crate) fn get_clip(&mut self) -> Task<Message> {
        self.shown = Shown::Getting;
        let Some(look) = self.sat.look().cloned() else { return Task::none() };
        let (set_file, set, arrived) =
            (self.set_file.clone(), self.set.clone(), self.arrived.clone());
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
        opened: Result<Arc<stage::Stage>, String>,
    ) -> Task<Message> {
        if self.sat.look().is_some_and(|now| now.id == look) {
            self.shown = match opened {
                Ok(stage) => Shown::There(stage),
                Err(why) => Shown::Not(why),
            };
            self.want_still();
        }
        Task::none()
    }

    /// Returns the span that the look plays.
    pub(crate) fn span(&self) -> Option<Span> {
        match (&self.shown, self.sat.look()) {
            (Shown::There(stage), Some(look)) => Span::of(look, stage),
            _ => None,
        }
    }

    /// Begins to play; the only time.
    pub(crate) fn begin_to_play(&mut self) {
        let (Some(span), Shown::There(stage)) = (self.span(), &self.shown) else { return };
        stage.set_playing(Playing::Yes);
        self.playback = Some(Playback::begin_once(Instant::now(), span.seconds));
    }

    /// Takes what the picture tells: the end of the look, or the mouse on a still.
    pub(crate) fn told(&mut self, told: Told) -> Task<Message> {
        match told {
            Told::PlayedOut { drawn } if self.playback.is_some() => self.look_ended(drawn),
            Told::Viewport(viewport) if self.playback.is_none() => {
                self.viewport = viewport;
                Task::none()
            }
            _ => Task::none(),
        }
    }

    fn look_ended(&mut self, drawn: u64) -> Task<Message> {
        self.playback = None;
        if let Shown::There(stage) = &self.shown {
            stage.set_playing(Playing::No);
        }
        let frames = self.span().map_or(0, |span| span.frames);
        let dropped = u32::try_from(frames.saturating_sub(drawn)).unwrap_or(u32::MAX);
        self.take(Event::LookEnded { dropped, now_ms: self.now_ms() })
    }

    /// Returns the frame of the still, once stills may be shown and where one is named.
    pub(crate) fn still_frame(&self) -> Option<u64> {
        let may = matches!(
            self.sat.stage(),
            Stage::Still(_) | Stage::Keeping(_) | Stage::Line(_) | Stage::Reference(_)
        );
        let ms = self.sat.question().filter(|_| may)?.still_ms?;
        match &self.shown {
            Shown::There(stage) => Some(stage.frame_at(ms as f64 / 1000.0)),
            _ => None,
        }
    }

    pub(crate) fn want_still(&mut self) {
        if let (Some(frame), Shown::There(stage)) = (self.still_frame(), &self.shown) {
            self.viewport = Viewport::FIT;
            stage.want(frame);
        }
    }

    /// Returns the clip when the picture of the still is there; before that another picture would
    /// be seen.
    pub(crate) fn still(&self) -> Option<&stage::Stage> {
        let frame = self.still_frame()?;
        match &self.shown {
            Shown::There(stage) => {
                let is_there = stage.latest().is_some_and(|picture| picture.frame as u64 == frame);
                is_there.then_some(stage.as_ref())
            }
            _ => None,
        }
    }

    /// Returns why there is no still.
    pub(crate) fn trouble(&self) -> Option<String> {
        match &self.shown {
            Shown::Not(why) => Some(why.clone()),
            Shown::There(stage) => stage.trouble(self.still_frame()?),
            Shown::Getting => None,
        }
    }
}
