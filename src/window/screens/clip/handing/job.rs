//! Making it: this reads and writes disks, so none of it is for the window's thread.

use std::{ops::ControlFlow, path::PathBuf};

use crate::{
    handout::{self, HandoutError, Pass, Progress, Replay, Speed, StillFormat, Stop, Subject},
    library::{FileKind, Home, LeaveError, Leaving, Pictures, Purpose},
    units::counted,
    window::{
        screens::{
            clip::errand::{End, Made, job},
            underway::Underway,
        },
        words::sentence,
    },
};

use super::form::{HandLook, HandWhat};

/// What is to be made.
pub(super) struct HandJob {
    pub subject: Subject,
    pub what: HandWhat,
    pub look: HandLook,
    /// The frame that was on screen.
    pub here: usize,
    /// First and last frame.
    pub frames: [usize; 2],
    pub caption: String,
    pub purpose: Purpose,
    pub athlete: String,
    pub routine: String,
    pub out: PathBuf,
}

impl HandJob {
    /// Makes it. Slow.
    pub(super) fn run(mut self, underway: &Underway) -> End {
        if let Some(why) = self.wrong_ending() {
            return End::Failed(why);
        }
        // Nobody should wait for an answer that is known.
        let clip = self.subject.footage.path().to_owned();
        if let Err(error) = self.pictures(&clip).permit() {
            return error.into();
        }
        match job::proved(&self.subject.footage, underway) {
            Ok(footage) => self.subject.footage = footage,
            Err(end) => return end,
        }
        let pictures = self.pictures(&clip);
        let leaving = Leaving::new(&self.out, FileKind::Picture).showing(pictures);
        let made = match self.what {
            HandWhat::Still => self.still(leaving),
            HandWhat::Replay => self.replay(leaving, underway),
        };
        match made {
            Ok(()) => End::Made(Box::new(Made {
                said: self.in_words(),
                is_clip: self.what == HandWhat::Replay,
                path: self.out,
            })),
            Err(LeaveError::Making(error)) if is_stop(&*error) => End::Stopped,
            Err(error) => error.into(),
        }
    }

    fn wrong_ending(&self) -> Option<String> {
        let endings = match self.what {
            HandWhat::Still if StillFormat::of(&self.out).is_some() => return None,
            HandWhat::Still => {
                "A still is a PNG or a JPEG: give it a name that ends in .png or .jpg"
            }
            HandWhat::Replay => {
                let is_mp4 = self.out.extension().is_some_and(|it| it.eq_ignore_ascii_case("mp4"));
                if is_mp4 {
                    return None;
                }
                "A replay is an MP4: give it a name that ends in .mp4"
            }
        };
        let name = self.out.file_name().unwrap_or_default().to_string_lossy();
        Some(format!("{endings}, not \"{name}\"."))
    }

    fn pictures<'a>(&'a self, clip: &'a std::path::Path) -> Pictures<'a> {
        let (athlete, routine) = (&*self.athlete, &*self.routine);
        Pictures { clip, purpose: self.purpose, athlete, routine }
    }

    fn still(&self, leaving: Leaving<'_>) -> Result<(), LeaveError> {
        let format = StillFormat::of(&self.out).unwrap_or_default();
        let still = handout::still(&self.subject, self.here, self.look.ground(), format);
        let still = still.map_err(|error| LeaveError::Making(error.into()))?;
        leaving.write(&still, Home::of_user().as_ref())
    }

    fn replay(&self, leaving: Leaving<'_>, underway: &Underway) -> Result<(), LeaveError> {
        let stop =
            Stop { frame: self.here, milliseconds: Stop::USUAL, caption: self.caption.clone() };
        let [real, slow] = Speed::USUAL;
        let at = |speed, stops| Pass { speed, stops };
        let wish = Replay {
            subject: self.subject.clone(),
            frames: self.frames,
            passes: vec![at(real, Vec::new()), at(slow, vec![stop])],
            second: None,
            ground: self.look.ground(),
        };
        let mut told = |Progress { done, of }| {
            underway.tell(|| format!("Making the replay, {} % …", 100 * done / of.max(1)));
            if underway.is_stopped() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        leaving
            .anew()
            .make(Home::of_user().as_ref(), |place| Ok(handout::replay(place, &wish, &mut told)?))
    }

    fn in_words(&self) -> Vec<String> {
        let [from, to] = self.frames;
        let what = match self.what {
            HandWhat::Still => format!("Frame {}", self.here),
            HandWhat::Replay => format!(
                "Frames {from} to {to} at real speed, then at a quarter of it, stopping on frame {}",
                self.here
            ),
        };
        let look = match self.look {
            HandLook::Drawn => "with what was measured",
            HandLook::Picture => "without a drawing",
            HandLook::Lines => "as lines, without the picture",
        };
        let table = self.subject.footage.table();
        let is_damaged =
            |k: &usize| table.entry(*k).is_some_and(|entry| entry.soundness.says().is_some());
        let damaged = (from..=to).filter(is_damaged).count();
        let damaged = (damaged > 0 && self.look != HandLook::Lines)
            .then(|| sentence(&format!("{} damaged, or may be", counted(damaged, "frame"))));
        [Some(format!("{what}; {look}.")), damaged].into_iter().flatten().collect()
    }
}

fn is_stop(error: &(dyn std::error::Error + Send + Sync + 'static)) -> bool {
    error.downcast_ref().is_some_and(HandoutError::is_stop)
}
