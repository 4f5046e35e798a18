//! From places in marks to the frames that a line leads to.

use super::model::FrameAt;
use crate::{
    marks::{At, Mark, Sheaf},
    units::{FrameRef, Ticks, TimeBase},
};

/// Turns places into frames of the sheet.
pub struct Frames {
    base: Option<TimeBase>,
    span: Vec<FrameAt>,
}

impl Frames {
    /// Prepares for the routine; its marks in order.
    pub fn new(sheaf: &Sheaf, marks: &[&Mark]) -> Self {
        let known: Vec<FrameRef> = marks.iter().flat_map(|mark| mark.at.frames()).collect();
        let mut frames =
            Self { base: sheaf.clip.as_ref().map(|clip| clip.time_base), span: Vec::new() };
        frames.span = match sheaf.routine.span {
            Some(ends) => ends.iter().map(|end| frames.at_ticks(*end, &known)).collect(),
            None => {
                let ends = known.iter().min_by_key(|f| f.order()).into_iter();
                let ends = ends.chain(known.iter().max_by_key(|frame| frame.order()));
                ends.map(|frame| frames.of(frame)).collect()
            }
        };
        frames
    }

    /// Returns the frames of a place; a planned place has none.
    pub fn at(&self, at: &At) -> Vec<FrameAt> {
        at.frames().iter().map(|frame| self.of(frame)).collect()
    }

    /// Returns first and last frame of the routine, for lines about something absent.
    pub fn span(&self) -> Vec<FrameAt> {
        self.span.clone()
    }

    fn of(&self, frame: &FrameRef) -> FrameAt {
        FrameAt { frame: frame.index, ticks: frame.ticks, time_s: self.seconds(frame.ticks) }
    }

    /// Returns an end of the span; its number is that of the nearest frame known, because the
    /// marks alone do not say how many frames lie between.
    fn at_ticks(&self, ticks: Ticks, known: &[FrameRef]) -> FrameAt {
        let nearest = known.iter().min_by_key(|frame| frame.ticks.0.abs_diff(ticks.0));
        let frame = nearest.filter(|_| ticks > Ticks(0)).map_or(0, |frame| frame.index);
        FrameAt { frame, ticks, time_s: self.seconds(ticks) }
    }

    fn seconds(&self, ticks: Ticks) -> f64 {
        self.base.map_or(0.0, |base| base.seconds(ticks))
    }
}
