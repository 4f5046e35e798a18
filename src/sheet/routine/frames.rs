//! From places in marks to the frames that a line leads to.

use crate::{
    marks::{At, Mark, Sheaf},
    sheet::model::FrameAt,
    units::{FrameRef, Ticks, TimeBase},
};

/// Turns places into frames of the sheet.
pub(crate) struct Frames {
    base: Option<TimeBase>,
    span: Vec<FrameAt>,
}

impl Frames {
    /// Prepares for the routine; its marks in order.
    pub(crate) fn new(sheaf: &Sheaf, marks: &[&Mark]) -> Self {
        let known: Vec<FrameRef> = marks.iter().flat_map(|mark| mark.at.frames()).collect();
        let mut frames =
            Self { base: sheaf.clip.as_ref().map(|clip| clip.time_base), span: Vec::new() };
        frames.span = if let Some(ends) = sheaf.routine.span {
            ends.iter().map(|end| frames.of(end)).collect()
        } else {
            let first = known.iter().min_by_key(|frame| frame.order());
            let last = known.iter().max_by_key(|frame| frame.order());
            first.into_iter().chain(last).map(|frame| frames.of(frame)).collect()
        };
        frames
    }

    /// Returns the frames of a place; a planned place has none.
    pub(crate) fn at(&self, at: &At) -> Vec<FrameAt> {
        at.frames().iter().map(|frame| self.of(frame)).collect()
    }

    /// Returns first and last frame of the routine, for lines about something absent.
    pub(crate) fn span(&self) -> Vec<FrameAt> {
        self.span.clone()
    }

    fn of(&self, frame: &FrameRef) -> FrameAt {
        FrameAt { frame: frame.index, ticks: frame.ticks, time_s: self.seconds(frame.ticks) }
    }

    fn seconds(&self, ticks: Ticks) -> f64 {
        self.base.map_or(0.0, |base| base.seconds(ticks))
    }
}
