//! The screen itself: what it knows.

use std::{path::Path, time::Instant};

use super::{
    complaint::Complaint,
    drawn::ribbon::Ribbon,
    file::disk::Disk,
    jobs::Jobs,
    looking::walk::Walk,
    message::{Action, Message},
    pages::reference::Page,
    routine::{header::Form, known::Known},
    session::Session,
    writing::offers::WriteLine,
};
use crate::{
    marks::Routine,
    units::{FrameIndex, Orientation, Shown},
    window::{
        memory::LastRoutine,
        paper::Key,
        placing::{Placing, PlaneForm},
        theme::part,
        viewer::{
            arrived::Arrived,
            playback::{Playback, Speed},
            stage::Stage,
            viewport::Viewport,
        },
        write::Entry,
    },
};

/// Everything that the clip screen knows.
pub(crate) struct Clip {
    pub(super) stage: Stage,
    /// Tells that a picture or a sheet which was wished for is there.
    pub(super) arrived: Arrived,
    /// The frame on screen, or wished for.
    pub(super) frame: FrameIndex,
    pub(super) viewport: Viewport,
    /// Room of the picture in logical pixels.
    pub(super) room: [f64; 2],
    /// Width of the paper in logical pixels.
    pub(super) paper_width: f32,
    pub(super) speed: Speed,
    pub(super) playback: Option<Playback>,
    /// Pictures that came too late while it played.
    pub(super) dropped: u64,
    pub(super) ribbon: Ribbon,
    pub(super) session: Session,
    /// The routines of the clip, this one among them.
    pub(super) routines: Vec<Known>,
    /// What was judged last, offered for the first routine.
    pub(super) last: LastRoutine,
    /// How the picture is turned as long as no routine keeps it.
    pub(super) turned: Option<Orientation>,
    pub(super) chosen: Option<Key>,
    /// What of the paper is in sight: how far down it begins, and its height.
    pub(super) in_sight: [f32; 2],
    pub(super) write: WriteLine,
    /// Points that are being placed, of an angle or of a plane.
    pub(super) placing: Option<Placing>,
    /// A click that meant nothing yet, and when it was: the key that begins measuring may follow.
    pub(super) early_click: Option<(Shown, Instant)>,
    /// Whether the angle that a rule asks for is drawn.
    pub(super) shows_asked: bool,
    pub(super) dialogue: Dialogue,
    /// The guide through what the rules look at.
    pub(super) walk: Option<Walk>,
    /// What is put down as soon as the routine's header is there.
    pub(super) put_later: Option<Entry>,
    /// What is put down as soon as the picture that was asked for is on screen.
    pub(super) put_when_seen: Option<Entry>,
    pub(super) complaint: Option<Complaint>,
    pub(super) disk: Disk,
    pub(super) jobs: Jobs<Self, Message, Action>,
    /// Whether it was said that the marks could not be saved on leaving.
    pub(super) told_unsaved: bool,
}

/// What lies over the screen.
#[derive(Debug, Default)]
pub(crate) enum Dialogue {
    /// Nothing.
    #[default]
    None,
    /// The sheet of keys.
    Help,
    /// The routine's header.
    Header(Box<Form>),
    /// The routines of the clip, one of them picked.
    Routines(usize),
    /// A page of the rule book.
    Page(Box<Page>),
    /// The form of a plane.
    Planes(Box<PlaneForm>),
}

impl Clip {
    /// Returns the screen of an open clip with the marks that lie beside it.
    pub(crate) fn new(stage: Stage, arrived: Arrived, session: Session) -> Self {
        let mut clip = Self {
            ribbon: Ribbon::default(),
            stage,
            arrived,
            frame: FrameIndex::FIRST,
            viewport: Viewport::FIT,
            room: [1.0, 1.0],
            paper_width: part::PAPER,
            speed: Speed::REAL,
            playback: None,
            dropped: 0,
            session,
            routines: Vec::new(),
            last: LastRoutine::default(),
            turned: None,
            chosen: None,
            in_sight: [0.0, 400.0],
            write: WriteLine::default(),
            placing: None,
            early_click: None,
            shows_asked: false,
            dialogue: Dialogue::None,
            walk: None,
            put_later: None,
            put_when_seen: None,
            complaint: None,
            disk: Disk::default(),
            jobs: Jobs::default(),
            told_unsaved: false,
        };
        clip.ribbon.look_around(&clip.stage, FrameIndex::FIRST);
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

    /// Returns where the clip lies.
    pub(crate) fn path(&self) -> &Path {
        self.stage.path()
    }

    /// Returns what is judged, where that is known.
    pub(crate) fn routine(&self) -> Option<&Routine> {
        self.session.sheaf().map(|sheaf| &sheaf.routine)
    }

    /// Returns whether the picture that was asked for is on screen.
    #[cfg(feature = "harness")]
    pub(crate) fn is_picture_shown(&self) -> bool {
        self.is_seen()
    }

    /// Returns whether everything that was asked for is on screen.
    #[cfg(feature = "harness")]
    pub(crate) fn is_settled(&self) -> bool {
        self.is_seen() && self.ribbon.is_full(&self.stage) && !self.session.is_scoring()
    }

    /// Returns the window's title: clip and score, so that a glance at the taskbar tells.
    pub(crate) fn title(&self) -> String {
        let name = self.stage.path().file_name().unwrap_or_default().to_string_lossy();
        match self.session.score_in_words() {
            Some(score) => format!("{name} · {score} · Stillcall"),
            None => format!("{name} · Stillcall"),
        }
    }
}
