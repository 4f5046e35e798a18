//! The clip screen: the frame, the ribbon and the clip line, and the paper beside them.

mod angles;
mod beside;
mod commands;
mod complaint;
mod drawn;
mod file;
mod looking;
mod message;
mod pages;
mod routine;
mod session;
mod writing;

use std::{path::Path, time::Instant};

use crate::{
    marks::Routine,
    units::Orientation,
    window::{
        memory::LastRoutine,
        paper::{self, Key},
        placing::{Measuring, PlaneForm, Planing},
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

use drawn::ribbon::Ribbon;
pub(crate) use file::opening::{self, Opening, Wanted};
use file::saving::Disk;
use looking::walk::Walk;
use pages::reference::Page;
use routine::{header::Form, routines::Known};
use writing::offers::WriteLine;

pub(crate) use complaint::{Complaint, Remedy};
use iced::{
    Subscription,
    widget::{operation, scrollable},
};
pub(crate) use message::{Action, Message};
pub(crate) use session::Session;

/// Id of the paper's lane.
const PAPER: &str = "paper";
/// Room that a line needs to count as in sight, in logical pixels.
const MARGIN: f32 = 60.0;

/// Everything that the clip screen knows.
pub(crate) struct Clip {
    stage: Stage,
    /// Tells that a picture or a sheet which was wished for is there.
    arrived: Arrived,
    /// The frame on screen, or wished for.
    frame: u64,
    viewport: Viewport,
    /// Room of the picture in logical pixels.
    room: [f64; 2],
    /// Width of the paper in logical pixels.
    paper_width: f32,
    speed: Speed,
    playback: Option<Playback>,
    /// Pictures that came too late while it played.
    dropped: u64,
    ribbon: Ribbon,
    session: Session,
    /// The routines of the clip, this one among them.
    routines: Vec<Known>,
    /// What was judged last, offered for the first routine.
    last: LastRoutine,
    /// How the picture is turned as long as no routine keeps it.
    turned: Option<Orientation>,
    chosen: Option<Key>,
    /// What of the paper is in sight: how far down it begins, and its height.
    in_sight: [f32; 2],
    write: WriteLine,
    /// The angle whose points are being placed.
    measuring: Option<Measuring>,
    /// A click that meant nothing yet, and when it was: the key that begins measuring may follow.
    early_click: Option<([f64; 2], Instant)>,
    /// The plane whose points are being clicked.
    planing: Option<Planing>,
    /// Whether the angle that a rule asks for is drawn.
    shows_asked: bool,
    dialogue: Dialogue,
    /// The guide through what the rules look at.
    walk: Option<Walk>,
    /// What is put down as soon as the routine's header is there.
    put_later: Option<Entry>,
    /// What is put down as soon as the picture that was asked for is on screen.
    put_when_seen: Option<Entry>,
    complaint: Option<Complaint>,
    disk: Disk,
    /// Whether it was said that the marks could not be saved on leaving.
    told_unsaved: bool,
}

/// What lies over the screen.
#[derive(Debug, Default)]
enum Dialogue {
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
            frame: 0,
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
            measuring: None,
            early_click: None,
            planing: None,
            shows_asked: false,
            dialogue: Dialogue::None,
            walk: None,
            put_later: None,
            put_when_seen: None,
            complaint: None,
            disk: Disk::Ready,
            told_unsaved: false,
        };
        clip.ribbon.look_around(&clip.stage, 0);
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

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action {
        let action = self.answer(message);
        // Undo may lead back to another edition, as another routine does.
        self.say_edition();
        action
    }

    fn answer(&mut self, message: Message) -> Action {
        match message {
            Message::KeyPressed(event) => self.key_pressed(&event),
            Message::Asked(command) => self.command(command),
            Message::Frame(told) => self.told(told),
            Message::Arrived => self.take_arrived(),
            Message::FramePointedAt(frame) => self.point_at(frame),
            Message::FramePicked(frame) => self.go_to(frame),
            Message::PaperMoved(in_sight) => self.paper_moved(in_sight),
            Message::LinePressed(key) => self.choose(key),
            Message::LineDragged(line, onto) => self.drag(line, onto),
            Message::OfferPressed(offer) => self.take_offer(offer),
            Message::Typed(typed) => self.typed(typed),
            Message::Header(message) => self.header(message),
            Message::BookDropped(path) => self.book_dropped(&path),
            Message::BookChanged(book) => self.book_changed(&book),
            Message::ClipChanged(state) => self.clip_changed(state),
            Message::RoutinePressed(place) => self.open_routine(place),
            Message::Planes(message) => self.planes(message),
            Message::SaveDue => self.save(),
            Message::Saved(saved) => self.saved(saved),
            Message::ComplaintClosed => self.close_complaint(),
            Message::Complained(text) => self.complain(&text),
        }
    }

    /// Returns what the screen listens to.
    pub(crate) fn subscription(&self) -> Subscription<Message> {
        Subscription::batch([
            self.arrived.listen().map(|()| Message::Arrived),
            self.when_to_save(),
            self.book_changes(),
            self.clip_changes(),
        ])
    }

    fn paper_moved(&mut self, in_sight: [f32; 2]) -> Action {
        self.in_sight = in_sight;
        Action::None
    }

    /// Moves the paper so that the chosen line is in sight, where it is not.
    fn show_chosen(&self) -> Action {
        let Some(key) = self.chosen else { return Action::None };
        let top = paper::top_of(self.session.paper(), key);
        let [from, height] = self.in_sight;
        if (from..from + height - MARGIN).contains(&top) || matches!(key, Key::Sheet(..)) {
            return Action::None;
        }
        let y = (top - height / 3.0).max(0.0);
        let offset = scrollable::AbsoluteOffset { x: None, y: Some(y) };
        Action::Run(operation::scroll_to(PAPER, offset))
    }
}
