//! Finding out what would go, and letting it go; both read disks.

use std::path::{Path, PathBuf};

use anyhow::Context as _;

use crate::{
    copies,
    library::{
        self, BundleError, Bundled, ClipCopy, Index, NotPermitted, Page, Purpose, WithClips, today,
    },
    marks::{self, StateFolder},
    units::counted,
    window::{
        screens::{
            library::jobs::{Kept, there},
            underway::Underway,
        },
        viewer::stage::beginning_of,
        words::sentence,
    },
};

use super::form::{HandEnd, HandOf, Handed, Stays, WouldGo};

/// Returns what would go.
pub(super) fn would_go(
    kept: &Kept,
    of: &HandOf,
    purpose: Option<Purpose>,
) -> Result<WouldGo, String> {
    let look = || -> anyhow::Result<WouldGo> {
        let marks = marks_of(kept, of)?;
        let (clips, stay) = match purpose {
            Some(purpose) => library::would_go(&marks, purpose),
            None => (0, Vec::new()),
        };
        Ok(WouldGo { marks, clips, stay: stay.iter().map(stays).collect() })
    };
    let found = look().map_err(|error| sentence(&format!("{error:#}")))?;
    if found.marks.is_empty() {
        return Err("There is nothing to hand out: nobody has marked it yet.".to_owned());
    }
    Ok(found)
}

fn marks_of(kept: &Kept, of: &HandOf) -> anyhow::Result<Vec<PathBuf>> {
    match of {
        HandOf::Clip(hit) => Ok(match &hit.clip {
            Some(clip) => marks::beside(clip),
            None => hit.marks.clone().into_iter().collect(),
        }),
        HandOf::Found(words, _) => {
            let index = Index::open(there(kept)?)?;
            let page = Page { from: 0, most: u32::MAX };
            let (hits, _) = library::find(&index, &library::parse(words)?, page, today())?;
            Ok(hits.into_iter().filter_map(|hit| hit.marks).collect())
        }
    }
}

fn stays(refused: &NotPermitted) -> Stays {
    let reasons: Vec<String> = refused.reasons.iter().map(ToString::to_string).collect();
    Stays { clip: refused.clip.clone(), why: reasons.join("; ") }
}

/// What is handed out, and how.
pub(super) struct HandJob {
    pub kept: Kept,
    pub marks: Vec<PathBuf>,
    /// How many clips are to go along.
    pub clips: usize,
    pub purpose: Option<Purpose>,
    pub sound: bool,
    pub out: PathBuf,
    pub to: String,
}

impl HandJob {
    /// Writes the bundle. Slow.
    pub(super) fn run(self, underway: &Underway) -> HandEnd {
        match self.write(underway) {
            Ok(done) => HandEnd::Gone(Box::new(self.in_words(&done))),
            // Whatever it failed by then.
            Err(_) if underway.is_stopped() => HandEnd::Stopped,
            Err(error) => HandEnd::Failed(sentence(&format!("{error:#}"))),
        }
    }

    fn write(&self, underway: &Underway) -> anyhow::Result<Bundled> {
        let home = there(&self.kept)?;
        let state = StateFolder::of_user();
        let at = std::cell::Cell::new(0);
        let copy = |clip: &Path, folder: &Path| {
            at.set(at.get() + 1);
            let place = format!("Clip {} of {}", at.get(), self.clips);
            self.copy(clip, folder, (&place, underway)).map_err(|error| format!("{error:#}"))
        };
        let clips = self.purpose.map(|purpose| WithClips { purpose, copy: &copy });
        let kept = (state.as_ref(), home);
        match library::export(&self.marks, clips.as_ref(), kept, (&self.out, &self.to)) {
            Err(BundleError::Empty) => {
                anyhow::bail!("nothing of it is there any more; look again (F5)")
            }
            done => Ok(done?),
        }
    }

    fn copy(
        &self,
        clip: &Path,
        folder: &Path,
        (place, underway): (&str, &Underway),
    ) -> anyhow::Result<ClipCopy> {
        let stop = &|| underway.is_stopped();
        let footage = beginning_of(clip)?;
        let told = |proving| underway.proving(place, proving);
        let footage =
            footage.proved_telling(stop, &told).context("it cannot be read to its end")?;
        underway.turn_to(&format!("{place}: writing it …"));
        Ok(copies::copy_for_bundle(&footage, folder, self.sound, stop)?)
    }

    fn in_words(&self, done: &Bundled) -> Handed {
        let clips = match done.clips {
            0 => "no pictures".to_owned(),
            clips => counted(clips, "clip"),
        };
        let said = format!(
            "{}, {} and {clips}; written down as handed out to {}.",
            counted(done.marks, "marks file"),
            counted(done.records, "record"),
            self.to
        );
        let stayed = done.stayed.iter().map(stays).collect();
        Handed { path: self.out.clone(), said, stayed }
    }
}
