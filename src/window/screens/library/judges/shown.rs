//! What is shown, and what happens there.

use std::{collections::BTreeMap, path::PathBuf, sync::Arc};

use iced::widget::image::Handle;

use crate::{
    footage::Footage,
    library::{Beside, Draft, Hit, Judges},
    units::{FrameIndex, Ticks},
    window::{keymap::JudgesCommand, screens::underway::Underway},
};

/// Pictures of one judge for one question, at most.
pub(super) const MOST: usize = 2;

/// Judges side by side.
pub(in crate::window::screens::library) struct JudgesShown {
    /// Which of all it is: what ends for another one is not for it.
    pub(super) number: u64,
    pub(super) hit: Box<Hit>,
    pub(super) clip: PathBuf,
    pub(super) judges: Arc<Judges>,
    /// The question at hand, by its place.
    pub(super) row: usize,
    /// The judge at hand, by place.
    pub(super) judge: usize,
    pub(super) frames: Frames,
    /// The reference that is put together, once somebody's answer was taken into it.
    pub(super) draft: Option<Arc<Draft>>,
    /// Why an answer was not.
    pub(super) complaint: Option<String>,
}

/// The frames that answers stand on.
#[derive(Default)]
pub(super) struct Frames {
    /// The clip with its frames proved, once it is.
    pub(super) footage: Option<Footage>,
    /// Small pictures by their instant.
    pub(super) pictures: BTreeMap<Ticks, Handle>,
    /// They are being fetched.
    pub(super) underway: Option<Underway>,
    /// Why they are not to be had.
    pub(super) trouble: Option<String>,
}

/// Pictures that were fetched, with the clip to fetch more.
#[derive(Clone, Debug)]
pub(crate) struct Fetched {
    pub(super) footage: Footage,
    pub(super) pictures: Vec<(Ticks, Handle)>,
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum JudgesMessage {
    Read(Box<Hit>, Result<Arc<Judges>, String>),
    Asked(JudgesCommand),
    RowPressed(usize),
    /// All agree on what the judge in this place marked.
    AgreedOn(usize),
    /// It is the reference, though nobody else agreed.
    Alone(usize),
    /// The answer of the judge in this place goes into the reference.
    Take(usize),
    Drafted(u64, Result<Arc<Draft>, String>),
    /// What a judge marked is wanted, at an instant.
    Open(usize, Option<Ticks>),
    Fetched(u64, Result<Option<Fetched>, String>),
}

impl JudgesShown {
    pub(super) fn new(number: u64, (hit, clip): (Box<Hit>, PathBuf), judges: Arc<Judges>) -> Self {
        // What there is to talk about, best where there is something to see.
        let sees = |row: &Beside| row.evidence.iter().any(|on| !on.frames.is_empty());
        let place = |is: &dyn Fn(&Beside) -> bool| judges.rows.iter().position(is);
        let row = place(&|row| row.differs() && sees(row));
        let row = row.or_else(|| place(&sees)).unwrap_or(0);
        let (frames, draft, complaint) = Default::default();
        Self { number, hit, clip, judges, row, judge: 0, frames, draft, complaint }
    }

    pub(super) fn question(&self) -> Option<&Beside> {
        self.judges.rows.get(self.row)
    }

    /// Returns the instants of the question at hand that a judge's answer stands on, with the frames'
    /// numbers.
    pub(super) fn instants(&self, judge: usize) -> Vec<(Ticks, FrameIndex)> {
        let on = self.question().and_then(|row| row.evidence.get(judge));
        let frames = on.map(|on| on.frames.as_slice()).unwrap_or_default();
        let mut found: Vec<_> = frames.iter().map(|at| (at.ticks, at.frame)).collect();
        found.sort_unstable();
        found.dedup();
        found.truncate(MOST);
        found
    }

    /// Returns how many columns there are: one for each judge, and one for the reference.
    pub(super) fn columns(&self) -> usize {
        self.judges.codes.len() + usize::from(self.draft.is_some())
    }

    /// Returns the reference that is put together, or begun with the marks of the judge who is not the
    /// one whose answer is taken.
    pub(super) fn draft_for(&self, taken: usize) -> Option<Arc<Draft>> {
        let begun = || self.judges.draft(usize::from(taken == 0)).map(Arc::new);
        self.draft.clone().or_else(begun)
    }

    /// Returns the instants whose pictures are not there yet.
    pub(super) fn missing(&self) -> Vec<Ticks> {
        let all = (0..self.judges.codes.len()).flat_map(|judge| self.instants(judge));
        let mut missing: Vec<Ticks> = all.map(|(ticks, _)| ticks).collect();
        missing.retain(|ticks| !self.frames.pictures.contains_key(ticks));
        missing.sort_unstable();
        missing.dedup();
        missing
    }
}

impl Drop for JudgesShown {
    fn drop(&mut self) {
        // Nobody would look at them.
        if let Some(underway) = &self.frames.underway {
            underway.stop();
        }
    }
}
