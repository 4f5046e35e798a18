//! The clip of a look: the span it plays, and how it is opened.

use std::{
    path::Path,
    sync::{
        Arc, Weak,
        atomic::{AtomicU64, Ordering},
    },
    thread,
    time::{Duration, Instant},
};

use crate::{
    footage::Proving,
    library,
    practice::set::{Look, Set},
    units::FrameIndex,
    window::viewer::{arrived::Arrived, stage::Stage, viewing::Viewer},
};

/// The clip of a look.
pub(crate) enum Shown {
    /// It is being opened.
    Getting(Arc<Proved>),
    /// It is open.
    There(Box<Viewer>),
    /// It cannot be shown, and why.
    Not(String),
}

/// How much of a clip is proved, in hundredths. Who opens the clip stops when nobody has this any
/// more.
#[derive(Default)]
pub(crate) struct Proved(AtomicU64);

impl Shown {
    /// Returns that a clip is being opened.
    pub(super) fn getting() -> Self {
        Self::Getting(Arc::default())
    }
}

impl Proved {
    /// Returns how far it is in words.
    pub(super) fn words(&self) -> String {
        match self.0.load(Ordering::Relaxed) {
            0 => "Getting ready …".to_owned(),
            percent => format!("Getting ready … {percent} %"),
        }
    }

    /// Takes in how far it is; returns whether that reads otherwise than before.
    fn tell(&self, Proving { done, of }: Proving) -> bool {
        let percent = 100 * done.min(of) / of.max(1);
        self.0.swap(percent, Ordering::Relaxed) != percent
    }
}

/// The span of a look within its clip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Span {
    /// Beginning and end in seconds of the clip; the end is not beyond the clip's.
    pub seconds: [f64; 2],
    /// Number of its first frame.
    pub first: FrameIndex,
    /// How many pictures it has.
    pub frames: u64,
}

impl Span {
    /// Returns the span of a look; nothing where the clip ends before it.
    pub(super) fn of(look: &Look, stage: &Stage) -> Option<Self> {
        let [from, to] = [look.from_ms, look.to_ms].map(|ms| ms as f64 / 1000.0);
        let to = to.min(stage.seconds_of(stage.last_frame().stepped(1)));
        if from >= to {
            return None;
        }
        let [first, last] = [from, to].map(|seconds| stage.frame_at(seconds));
        // The picture that comes up at the very end is not part of it.
        let includes_last = u64::from(stage.seconds_of(last) < to);
        Some(Self { seconds: [from, to], first, frames: last.since(first) + includes_last })
    }
}

/// Opens the clip of a look and waits for its first picture, so that the look begins at once.
pub(super) fn open(
    set_file: &Path,
    set: &Set,
    look: &Look,
    (arrived, proved): (Arrived, Weak<Proved>),
) -> Result<Arc<Stage>, String> {
    let path = library::clip_of_look(set_file, set, look).map_err(|why| why.to_string())?;
    let left = || proved.strong_count() == 0;
    let signal = arrived.clone();
    let told = |proving| {
        if proved.upgrade().is_some_and(|proved| proved.tell(proving)) {
            signal.signal();
        }
    };
    let stage = Stage::open_whole(&path, (&left, &told), move || arrived.signal());
    let Some(stage) = stage.map_err(|error| error.to_string())? else {
        return Err("Nobody waits for this clip any more".to_owned());
    };
    let Some(span) = Span::of(look, &stage) else {
        return Err(format!("The clip {} ends before this look begins", path.display()));
    };
    stage.want(span.first);
    let end = Instant::now() + PATIENCE;
    while stage.frame_shown() != Some(span.first) {
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

/// How long the first picture of a span may take.
const PATIENCE: Duration = Duration::from_secs(30);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_far_the_proof_is_stands_in_words_and_is_told_once() {
        let proved = Proved::default();
        assert_eq!(proved.words(), "Getting ready …");
        assert!(proved.tell(Proving { done: 52, of: 130 }));
        assert_eq!(proved.words(), "Getting ready … 40 %");
        assert!(!proved.tell(Proving { done: 53, of: 130 }));
        assert!(proved.tell(Proving { done: 131, of: 130 }));
        assert_eq!(proved.words(), "Getting ready … 100 %");
    }
}
