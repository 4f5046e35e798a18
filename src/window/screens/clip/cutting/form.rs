//! What is asked, and how far it is.

use std::path::PathBuf;

use crate::{
    library::Purpose,
    units::FrameIndex,
    window::{
        screens::{
            record::{RecordForm, RecordMessage},
            underway::Underway,
        },
        typing::{Line, Typed},
    },
};

use super::job::{CutEnd, CutMade};

/// The form.
#[derive(Debug)]
pub(crate) struct CutForm {
    /// Which of all forms it is: what ends for another one is not for it.
    pub(super) number: u64,
    /// First and last frame, as they are written.
    pub(super) lines: [Line; 2],
    pub(super) current: CutEdge,
    /// The frame on screen.
    pub(super) here: FrameIndex,
    /// Routines of the clip with their spans.
    pub(super) routines: Vec<(String, [FrameIndex; 2])>,
    pub(super) sound: bool,
    pub(super) purpose: Purpose,
    pub(super) stage: CutStage,
    /// What is noted of the clip, while it is looked at.
    pub(super) record: Option<RecordForm>,
}

/// An end of the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CutEdge {
    First,
    Last,
}

/// How far it is.
#[derive(Debug)]
pub(super) enum CutStage {
    /// It is being filled in; something may be wrong with what is written.
    Asked(Option<String>),
    /// It is being cut.
    Cut(Underway),
    /// What is noted of the clip does not allow it, for these reasons.
    Refused(Vec<String>),
    /// It is there.
    Made(Box<CutMade>),
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum CutMessage {
    /// A field was pressed.
    Pointed(CutEdge, Typed),
    /// The frame on screen is one end.
    Here(CutEdge),
    /// The span of the routine in this place is meant.
    Routine(usize),
    Sound,
    Purpose(Purpose),
    /// All is filled in; where it goes is asked next.
    Ask,
    /// It goes there, or nowhere.
    Chosen(u64, Option<PathBuf>),
    Over(u64, CutEnd),
    /// What is noted of the clip is wanted.
    ShowRecord,
    Record(RecordMessage),
    /// The new clip is wanted.
    Open,
    Leave,
}

impl CutForm {
    pub(super) const fn line_mut(&mut self, edge: CutEdge) -> &mut Line {
        &mut self.lines[edge as usize]
    }

    pub(super) fn write(&mut self, edge: CutEdge, frame: FrameIndex) {
        *self.line_mut(edge) = Line::new(frame.to_string());
        self.complain(None);
    }

    /// Says what is wrong with what is written; what is under way goes on.
    pub(super) fn complain(&mut self, why: Option<String>) {
        if !matches!(self.stage, CutStage::Cut(_) | CutStage::Made(_)) {
            self.stage = CutStage::Asked(why);
        }
    }

    /// Returns the frames that are written, or what is wrong with them.
    pub(super) fn frames(&self, last: FrameIndex) -> Result<[FrameIndex; 2], String> {
        let of = |line: &Line, what: &str| {
            let written = line.text().trim();
            let frame: Result<u64, _> = written.parse();
            frame.map(FrameIndex).map_err(|_| {
                format!("{what}: write the number of a frame, 0 to {last}, not \"{written}\".")
            })
        };
        let frames = [of(&self.lines[0], "First frame")?, of(&self.lines[1], "Last frame")?];
        let [from, to] = frames;
        if to > last {
            return Err(format!("The clip's last frame is {last}."));
        }
        if from > to {
            return Err("The first frame comes before the last.".to_owned());
        }
        Ok(frames)
    }
}

impl Drop for CutForm {
    fn drop(&mut self) {
        // Nobody would be told what came of it.
        if let CutStage::Cut(underway) = &self.stage {
            underway.stop();
        }
    }
}
