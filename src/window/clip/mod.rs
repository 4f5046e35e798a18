//! The clip screen: the frame, the ribbon and the clip line, and the paper beside them.

mod beside;
mod book;
mod changed;
mod clip_line;
mod complaint;
mod controls;
mod copy;
mod editing;
mod going;
mod hanging;
mod header;
mod help;
mod measuring;
mod offers;
mod picture;
mod planes;
mod reference;
mod remeasuring;
mod rewriting;
mod ribbon;
mod routines;
mod saving;
mod session;
mod view;
mod walk;

use std::{
    path::{Path, PathBuf},
    sync::Arc,
    time::Instant,
};

use super::{
    arrived::Arrived,
    frame::{Told, Viewport},
    keymap::{self, Command},
    memory::LastRoutine,
    opening::Wanted,
    paper::{self, Key},
    playback::{Playback, Speed},
    points::{Measuring, PlaneForm, PlaneMessage, Planing, plane_message_for},
    stage::Stage,
    theme::part,
    typing::Typed,
    write::Entry,
};
use crate::{
    footage::SourceState,
    marks::{DeskError, Routine, Saved},
    rulebook::Book,
    units::Orientation,
};
pub use complaint::{Complaint, Remedy};
use header::Form;
use iced::{
    Subscription, Task, keyboard,
    widget::{operation, scrollable},
};
use offers::{WriteKey, WriteLine};
use reference::Page;
use ribbon::Ribbon;
use routines::Known;
use saving::Disk;
pub use session::Session;
use walk::Walk;

/// Id of the paper's lane.
const PAPER: &str = "paper";
/// Room that a line needs to count as in sight, in logical pixels.
const MARGIN: f32 = 60.0;

/// Everything that the clip screen knows.
pub struct Clip {
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

/// What happened on the clip screen.
#[derive(Clone, Debug)]
pub enum Message {
    /// A key was pressed that no field took.
    KeyPressed(keyboard::Event),
    /// A button or a place stands for a command.
    Asked(Command),
    /// The picture widget tells something.
    Frame(Told),
    /// A picture or a sheet that was wished for has arrived.
    Arrived,
    /// A frame is pointed at on the clip line, with the hand still moving as a rule.
    FramePointedAt(u64),
    /// A frame was picked by its small picture.
    FramePicked(u64),
    /// The paper was moved: how far down it begins now, and how high it is.
    PaperMoved([f32; 2]),
    /// A line of the paper was pressed.
    LinePressed(Key),
    /// A line of the paper was dragged onto another one.
    LineDragged(Key, Key),
    /// An offer of the write line was pressed.
    OfferPressed(usize),
    /// Something was done to the text of the write line, or an input method gave something.
    Typed(Typed),
    /// The header's form was used.
    Header(header::Message),
    /// A rule book of one's own was dropped on the window.
    BookDropped(PathBuf),
    /// The rule book's file was written anew: the book, or what is wrong with it.
    BookChanged(Arc<Result<Book, String>>),
    /// Something became of the clip's file.
    ClipChanged(SourceState),
    /// A routine of the clip was pressed.
    RoutinePressed(usize),
    /// The form of a plane was used.
    Planes(PlaneMessage),
    /// It is time to write what was changed.
    SaveDue,
    /// A save was carried out, or failed.
    Saved(Result<Saved, Arc<DeskError>>),
    /// The complaint was read.
    ComplaintClosed,
    /// The program has something to complain about.
    Complained(String),
}

/// What the clip screen asks of the program.
pub enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To open another clip, which a person chooses.
    OpenOther,
    /// To show a second clip beside this one.
    LayBeside,
    /// To open this.
    Open(Wanted),
    /// A command that every screen has.
    Own(Command),
}

impl Clip {
    /// Returns the screen of an open clip with the marks that lie beside it.
    pub fn new(stage: Stage, arrived: Arrived, session: Session) -> Self {
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
    pub fn complaining(mut self, complaint: Option<Complaint>) -> Self {
        self.complaint = complaint.or(self.complaint);
        self
    }

    /// Returns the screen with the settings of the last routine, to offer them again.
    #[must_use]
    pub fn with_last(mut self, last: LastRoutine) -> Self {
        self.last = last;
        self
    }

    /// Returns where the clip lies.
    pub fn path(&self) -> &Path {
        self.stage.path()
    }

    /// Returns what is judged, where that is known.
    pub fn routine(&self) -> Option<&Routine> {
        self.session.sheaf().map(|sheaf| &sheaf.routine)
    }

    /// Returns whether the picture that was asked for is on screen.
    #[cfg(feature = "harness")]
    pub fn is_picture_shown(&self) -> bool {
        self.is_seen()
    }

    /// Returns whether everything that was asked for is on screen.
    #[cfg(feature = "harness")]
    pub fn is_settled(&self) -> bool {
        self.is_seen() && self.ribbon.is_full(&self.stage) && !self.session.is_scoring()
    }

    /// Returns the window's title: clip and score, so that a glance at the taskbar tells.
    pub fn title(&self) -> String {
        let name = self.stage.path().file_name().unwrap_or_default().to_string_lossy();
        match self.session.score_in_words() {
            Some(score) => format!("{name} · {score} · Stillcall"),
            None => format!("{name} · Stillcall"),
        }
    }

    /// Does what a message asks for.
    pub fn update(&mut self, message: Message) -> Action {
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

    fn key_pressed(&mut self, event: &keyboard::Event) -> Action {
        match self.dialogue {
            Dialogue::Header(_) => {
                let message = header::message_for(event);
                return message.map_or(Action::None, |message| self.header(message));
            }
            Dialogue::Routines(picked) => return self.key_in_routines(event, picked),
            Dialogue::Help | Dialogue::Page(_) => return self.key_over_page(event),
            Dialogue::Planes(_) => {
                let message = plane_message_for(event);
                return message.map_or(Action::None, |message| self.planes(message));
            }
            Dialogue::None => {}
        }
        if self.write.is_open() {
            return self.key_while_writing(event);
        }
        if self.measuring.is_some() || self.planing.is_some() {
            let command = keymap::command_while_placing(event);
            return command.map_or(Action::None, |command| self.command(command));
        }
        keymap::command_for(event).map_or(Action::None, |command| self.command(command))
    }

    fn key_while_writing(&mut self, event: &keyboard::Event) -> Action {
        match offers::key_for(event, self.write.text()) {
            Some(WriteKey::Move(by)) => self.move_offer(by),
            Some(WriteKey::Step(by)) => self.step(by),
            Some(WriteKey::Submit) => self.submit(),
            Some(WriteKey::Leave) => self.leave(),
            Some(WriteKey::Typed(typed)) => self.typed(typed),
            // What writes nothing still does what it does: undo, save, a larger picture.
            None => keymap::command_for(event).map_or(Action::None, |it| self.command(it)),
        }
    }

    fn typed(&mut self, typed: Typed) -> Action {
        match self.dialogue {
            Dialogue::Header(_) => self.header(header::Message::Typed(typed)),
            Dialogue::Planes(_) => self.planes(PlaneMessage::Typed(typed)),
            _ if self.write.is_open() => self.written(&typed),
            _ => Action::None,
        }
    }

    fn command(&mut self, command: Command) -> Action {
        // What waits for its picture was meant for the frame that was asked for, and whatever
        // comes next was meant to come after it.
        self.put_what_waits();
        if matches!(self.dialogue, Dialogue::None)
            && let Some(action) = self.command_while_placing(command)
        {
            return action;
        }
        match command {
            Command::Step(by) => self.step(by),
            Command::First => self.go_to(0),
            Command::Last => self.go_to(self.stage.last_frame()),
            Command::Play => self.toggle_play(),
            Command::Speed(n) => self.set_speed(Speed::one_nth(n)),
            Command::ZoomIn => self.zoom(1.0),
            Command::ZoomOut => self.zoom(-1.0),
            Command::Fit => self.show_whole(),
            Command::OneToOne => self.show_one_to_one(),
            Command::Pan(right, down) => self.pan(right, down),
            Command::NextMark => self.next_mark(),
            Command::MarkBefore => self.mark_before(),
            Command::NextLine => self.next_line(1),
            Command::LineBefore => self.next_line(-1),
            Command::MoveHere => self.move_here(),
            Command::Hang(by) => self.hang_further(by),
            Command::Remove => self.remove(),
            Command::Undo => self.undo(),
            Command::Redo => self.redo(),
            Command::Save => self.save(),
            Command::Remedy(place) => self.remedy(place),
            Command::Write => self.begin_to_write(),
            Command::Put(moment) => self.put_moment(moment),
            Command::CallMet => self.call(crate::marks::Answer::Met),
            Command::CallNotMet => self.call(crate::marks::Answer::NotMet),
            Command::CallCantTell => self.call(crate::marks::Answer::CantTell),
            Command::EditLine => self.rewrite(),
            Command::TurnSeen => self.turn_seen(),
            Command::Measure => self.begin_to_measure(),
            Command::Planes => self.open_planes(),
            Command::Asked => self.toggle_asked(),
            Command::Nudge(..)
            | Command::PutPoint
            | Command::TakeBack
            | Command::Keep
            | Command::Skip
            | Command::Again
            | Command::Bent
            | Command::Line
            | Command::NextPlane
            | Command::OffSquare
            | Command::HalfTurns(_)
            | Command::GoOn
            | Command::TurnAnswer(_)
            | Command::HandIn
            | Command::Tie
            | Command::OtherSide
            | Command::Alone => Action::None,
            Command::Header => self.open_header(),
            Command::Routines => self.ask_which_routine(),
            Command::NewRoutine => self.begin_another(),
            Command::TurnRoutine(by) => self.turn_routine(by),
            Command::BeginsHere => self.cut(routines::Cut::Begins),
            Command::EndsHere => self.cut(routines::Cut::Ends),
            Command::Card => self.show_page(Page::card),
            Command::Chart => self.show_page(Page::chart),
            Command::Walk => self.walk_on(),
            Command::Loop => self.toggle_loop(),
            Command::TurnPicture => self.turn_picture(Orientation::turned),
            Command::MirrorPicture => self.turn_picture(Orientation::flipped),
            Command::NextLook | Command::TextSize(_) => Action::Own(command),
            Command::Open => Action::OpenOther,
            Command::LayBeside => self.lay_beside(),
            Command::Help => self.toggle_help(),
            Command::Leave => self.leave(),
        }
    }

    /// Returns what the screen listens to.
    pub fn subscription(&self) -> Subscription<Message> {
        Subscription::batch([
            self.arrived.listen().map(|()| Message::Arrived),
            self.when_to_save(),
            self.book_changes(),
            self.clip_changes(),
        ])
    }

    fn toggle_asked(&mut self) -> Action {
        self.shows_asked = !self.shows_asked;
        Action::None
    }

    fn toggle_help(&mut self) -> Action {
        self.dialogue = match self.dialogue {
            Dialogue::Help => Dialogue::None,
            _ => Dialogue::Help,
        };
        Action::None
    }

    /// Closes the topmost of what is open; with nothing open, lets go of the chosen line.
    fn leave(&mut self) -> Action {
        if !matches!(self.dialogue, Dialogue::None) {
            self.dialogue = Dialogue::None;
            self.put_later = None;
        } else if self.write.is_open() {
            self.write = WriteLine::default();
        } else if self.complaint.is_some() {
            return self.close_complaint();
        } else if self.walk.is_some() {
            self.walk = None;
        } else {
            self.chosen = None;
        }
        Action::None
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
