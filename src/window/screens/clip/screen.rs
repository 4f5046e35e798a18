//! The screen itself: what it knows.

use std::path::Path;

use super::{
    complaint::Complaint,
    drawn::ribbon::Ribbon,
    file::disk::Disk,
    jobs::Jobs,
    looking::walk::Walk,
    message::{Action, Message},
    mode::{Dialogue, Mode},
    routine::known::Known,
    session::Session,
    writing::put_down::PutDown,
};
use crate::{
    marks::{Clicking, Routine},
    units::{FrameIndex, Orientation},
    window::{
        memory::{LastRoutine, Uses},
        paper::Key,
        placing::ToCompare,
        theme::part,
        viewer::{
            arrived::Arrived, stage::Stage, turning::Turning, unproved::Unproved, viewing::Viewer,
        },
        write::Entry,
    },
};

/// Everything that the clip screen knows.
pub(crate) struct Clip {
    pub(super) viewer: Viewer,
    /// Tells that a picture or a sheet which was wished for is there.
    pub(super) arrived: Arrived,
    /// Width of the paper in logical pixels.
    pub(super) paper_width: f32,
    pub(super) ribbon: Ribbon,
    pub(super) session: Session,
    /// The routines of the clip, this one among them.
    pub(super) routines: Vec<Known>,
    /// What was judged last, offered for the first routine.
    pub(super) last: LastRoutine,
    /// How well people click, as far as that is known.
    pub(super) clicking: Clicking,
    /// The pictures that are held against each other to tell whether the camera stood still.
    pub(super) comparing: Option<ToCompare>,
    /// How the picture is turned as long as no routine keeps it.
    pub(super) turned: Option<Orientation>,
    pub(super) chosen: Option<Key>,
    /// What of the paper is in sight: how far down it begins, and its height.
    pub(super) in_sight: [f32; 2],
    pub(super) mode: Mode,
    /// What lies over the screen; what it is at goes on under it.
    pub(super) dialogue: Dialogue,
    /// Whether the angle that a rule asks for is drawn.
    pub(super) shows_asked: bool,
    /// The guide through what the rules look at, which stands beside whatever is done.
    pub(super) walk: Option<Walk>,
    /// What is put down as soon as the picture that was asked for is on screen.
    pub(super) put_when_seen: Option<Entry>,
    /// What was put down last.
    pub(super) put: Option<PutDown>,
    /// The search for where the movement turns.
    pub(super) turning: Option<Turning>,
    /// How often each element was written.
    pub(super) uses: Uses,
    /// Where leaving the clip leads, as its button says.
    pub(super) back_to: &'static str,
    /// What was written about before its frame was proved.
    pub(super) unproved: Unproved,
    pub(super) complaint: Option<Complaint>,
    pub(super) disk: Disk,
    pub(super) jobs: Jobs<Self, Message, Action>,
    /// Whether it was said that the marks could not be saved on leaving.
    pub(super) told_unsaved: bool,
}

impl Clip {
    /// Returns the screen of an open clip with the marks that lie beside it.
    pub(crate) fn new(stage: Stage, arrived: Arrived, session: Session) -> Self {
        let mut clip = Self {
            ribbon: Ribbon::default(),
            viewer: Viewer::new(stage),
            arrived,
            paper_width: part::PAPER,
            session,
            routines: Vec::new(),
            last: LastRoutine::default(),
            clicking: Clicking::default(),
            comparing: None,
            turned: None,
            chosen: None,
            in_sight: [0.0, 400.0],
            mode: Mode::default(),
            dialogue: Dialogue::None,
            shows_asked: false,
            walk: None,
            put_when_seen: None,
            put: None,
            turning: None,
            uses: Uses::default(),
            back_to: "‹ Start",
            unproved: Unproved::default(),
            complaint: None,
            disk: Disk::default(),
            jobs: Jobs::default(),
            told_unsaved: false,
        };
        clip.ribbon.look_around(clip.viewer.stage(), FrameIndex::FIRST);
        clip.work_out_anew();
        clip
    }

    /// Returns the screen with something to complain about, where something is given.
    #[must_use]
    pub(crate) fn complaining(mut self, complaint: Option<Complaint>) -> Self {
        self.complaint = complaint.or(self.complaint);
        self
    }

    /// Returns the screen with the settings of the last routine, to offer them again.
    #[must_use]
    pub(crate) fn with_last(mut self, last: LastRoutine) -> Self {
        self.last = last;
        self
    }

    /// Returns the screen with what is known of how well people click.
    #[must_use]
    pub(crate) fn with_clicks(mut self, clicking: Clicking) -> Self {
        self.clicking = clicking;
        self
    }

    /// Returns the screen with how often each element was written, and where leaving it leads.
    #[must_use]
    pub(crate) fn with_uses(mut self, uses: Uses, back_to: &'static str) -> Self {
        (self.uses, self.back_to) = (uses, back_to);
        self
    }

    /// Returns how often each element was written.
    pub(crate) const fn uses(&self) -> &Uses {
        &self.uses
    }

    /// Returns where the clip lies.
    pub(crate) fn path(&self) -> &Path {
        self.viewer.stage().path()
    }

    /// Returns what is judged, where that is known.
    pub(crate) fn routine(&self) -> Option<&Routine> {
        self.session.sheaf().map(|sheaf| &sheaf.routine)
    }

    /// Returns whether the picture that was asked for is on screen.
    #[cfg(feature = "harness")]
    pub(crate) fn is_picture_shown(&self) -> bool {
        self.viewer.is_seen()
    }

    /// Returns whether everything that was asked for is on screen.
    #[cfg(feature = "harness")]
    pub(crate) fn is_settled(&self) -> bool {
        self.viewer.is_seen()
            && self.ribbon.is_full(self.viewer.stage())
            && !self.session.is_scoring()
            && self.is_compared()
            && self.turning.is_none()
    }

    /// Returns the window's title: clip and score, so that a glance at the taskbar tells.
    pub(crate) fn title(&self) -> String {
        let name = self.viewer.stage().path().file_name().unwrap_or_default().to_string_lossy();
        match self.session.score_in_words() {
            Some(score) => format!("{name} · {score} · Stillcall"),
            None => format!("{name} · Stillcall"),
        }
    }
}
