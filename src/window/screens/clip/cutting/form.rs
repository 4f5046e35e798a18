//! What is asked.

use crate::{
    units::FrameIndex,
    window::{
        screens::clip::errand::{Errand, Words, span},
        typing::{Line, Typed},
    },
};

/// The form.
#[derive(Debug)]
pub(crate) struct CutForm {
    pub(in crate::window::screens::clip) errand: Errand,
    /// First and last frame, as they are written.
    pub(super) lines: [Line; 2],
    pub(super) current: CutEdge,
    /// The frame on screen.
    pub(super) here: FrameIndex,
    /// Routines of the clip with their spans.
    pub(super) routines: Vec<(String, [FrameIndex; 2])>,
    pub(super) sound: bool,
}

/// An end of the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CutEdge {
    First,
    Last,
}

/// What happened to its fields.
#[derive(Clone, Debug)]
pub(crate) enum CutMessage {
    /// A field was pressed.
    Pointed(CutEdge, Typed),
    /// The frame on screen is one end.
    Here(CutEdge),
    /// The span of the routine in this place is meant.
    Routine(usize),
    Sound,
}

pub(super) const WORDS: Words = Words {
    title: "Cut a part out",
    about: "It becomes a clip of its own with the same pictures, the marks that stand within it \
            and what is noted of the clip. The clip itself stays as it is.",
    go: "Cut it out: where to … (Enter)",
    consent: "If it goes outside the club's folders it needs consent for what it is for:",
    refused: [
        "It may not leave the club's folders.",
        "Note what was agreed to, or let it stay in a folder of the club.",
    ],
    again: "Another place (Enter)",
};

impl CutForm {
    pub(super) const fn line_mut(&mut self, edge: CutEdge) -> &mut Line {
        &mut self.lines[edge as usize]
    }

    pub(super) fn write(&mut self, edge: CutEdge, frame: FrameIndex) {
        *self.line_mut(edge) = Line::new(frame.to_string());
        self.errand.complain(None);
    }

    /// Returns the frames that are written, or what is wrong with them.
    pub(super) fn frames(&self, last: FrameIndex) -> Result<[FrameIndex; 2], String> {
        let [from, to] = &self.lines;
        span::frames([from, to], last)
    }
}
