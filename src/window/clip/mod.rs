//! The clip screen: the frame, the ribbon and the clip line, and the paper beside them.

mod clip_line;
mod editing;
mod going;
mod header;
mod help;
mod offers;
mod ribbon;
mod session;
mod view;

use std::sync::Arc;

use iced::{
    Subscription, Task, keyboard, time,
    widget::{operation, scrollable},
};
use tokio::sync::Notify;

use super::{
    frame::{Told, Viewport},
    keymap::{self, Command},
    paper::{self, Key},
    playback::{Playback, Speed},
    stage::Stage,
    write::Entry,
};
use header::Form;
use offers::{WriteKey, WriteLine};
use ribbon::Ribbon;
pub use session::Session;

/// Id of the paper's lane.
const PAPER: &str = "paper";
/// Room that a line needs to count as in sight, in logical pixels.
const MARGIN: f32 = 60.0;

/// Everything that the clip screen knows.
pub struct Clip {
    stage: Stage,
    /// Tells that a picture which was wished for is there.
    arrived: Arrived,
    /// The frame on screen, or wished for.
    frame: u64,
    viewport: Viewport,
    /// Room of the picture in logical pixels.
    room: [f64; 2],
    speed: Speed,
    playback: Option<Playback>,
    ribbon: Ribbon,
    session: Session,
    chosen: Option<Key>,
    /// What of the paper is in sight: how far down it begins, and its height.
    in_sight: [f32; 2],
    write: WriteLine,
    dialogue: Dialogue,
    /// What is put down as soon as the routine's header is there.
    put_later: Option<Entry>,
    complaint: Option<String>,
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
}

/// The signal that a picture has arrived; many arrivals in one turn of the window are one signal.
#[derive(Clone, Default)]
pub struct Arrived(Arc<Notify>);

impl Arrived {
    /// Gives the signal.
    pub fn signal(&self) {
        self.0.notify_one();
    }
}

impl std::hash::Hash for Arrived {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        Arc::as_ptr(&self.0).hash(state);
    }
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
    /// A picture that was wished for has arrived.
    PictureArrived,
    /// A frame was pointed at, in the ribbon or on the clip line.
    FramePointedAt(u64),
    /// The paper was moved: how far down it begins now, and how high it is.
    PaperMoved([f32; 2]),
    /// A line of the paper was pressed.
    LinePressed(Key),
    /// An offer of the write line was pressed.
    OfferPressed(usize),
    /// The header's form was used.
    Header(header::Message),
    /// It is time to write what was changed.
    SaveDue,
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
    /// To open another clip.
    OpenOther,
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
            speed: Speed::REAL,
            playback: None,
            session,
            chosen: None,
            in_sight: [0.0, 400.0],
            write: WriteLine::default(),
            dialogue: Dialogue::None,
            put_later: None,
            complaint: None,
            told_unsaved: false,
        };
        clip.ribbon.look_around(&clip.stage, 0);
        clip
    }

    /// Returns the screen with something to complain about, where something is given.
    #[must_use]
    pub fn complaining(mut self, complaint: Option<String>) -> Self {
        self.complaint = complaint;
        self
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
        match message {
            Message::KeyPressed(event) => self.key_pressed(&event),
            Message::Asked(command) => self.command(command),
            Message::Frame(told) => self.told(told),
            Message::PictureArrived => self.picture_arrived(),
            Message::FramePointedAt(frame) => self.go_to(frame),
            Message::PaperMoved(in_sight) => self.paper_moved(in_sight),
            Message::LinePressed(key) => self.choose(key),
            Message::OfferPressed(offer) => self.take_offer(offer),
            Message::Header(message) => self.header(message),
            Message::SaveDue => self.save(),
            Message::ComplaintClosed => self.close_complaint(),
            Message::Complained(text) => self.complain(&text),
        }
    }

    fn key_pressed(&mut self, event: &keyboard::Event) -> Action {
        if let Dialogue::Header(_) = self.dialogue {
            return header::message_for(event).map_or(Action::None, |message| self.header(message));
        }
        if self.write.is_open() {
            return self.key_while_writing(event);
        }
        keymap::command_for(event).map_or(Action::None, |command| self.command(command))
    }

    fn key_while_writing(&mut self, event: &keyboard::Event) -> Action {
        match offers::key_for(event) {
            Some(WriteKey::Move(by)) => self.move_offer(by),
            Some(WriteKey::Step(by)) => self.step(by),
            Some(WriteKey::Submit) => self.submit(),
            Some(WriteKey::Leave) => self.leave(),
            Some(WriteKey::Typed(typed)) => self.written(self.write.text_after(&typed)),
            // What writes nothing still does what it does: undo, save, a larger picture.
            None => keymap::command_for(event).map_or(Action::None, |it| self.command(it)),
        }
    }

    fn command(&mut self, command: Command) -> Action {
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
            Command::Remove => self.remove(),
            Command::Undo => self.undo(),
            Command::Redo => self.redo(),
            Command::Save => self.save(),
            Command::Write => self.begin_to_write(),
            Command::Put(moment) => self.put_moment(moment),
            Command::CallMet => self.call(crate::marks::Answer::Met),
            Command::CallNotMet => self.call(crate::marks::Answer::NotMet),
            Command::CallCantTell => self.call(crate::marks::Answer::CantTell),
            Command::Header => self.open_header(),
            Command::Open => Action::OpenOther,
            Command::Help => self.toggle_help(),
            Command::Leave => self.leave(),
        }
    }

    /// Returns what the screen listens to.
    pub fn subscription(&self) -> Subscription<Message> {
        Subscription::batch([self.arrivals(), self.saving()])
    }

    fn arrivals(&self) -> Subscription<Message> {
        Subscription::run_with(self.arrived.clone(), |arrived| {
            let arrived = arrived.clone();
            iced::futures::stream::unfold(arrived, |arrived| async move {
                arrived.0.notified().await;
                Some((Message::PictureArrived, arrived))
            })
        })
    }

    /// Saves within a second, but only while there is something to save.
    fn saving(&self) -> Subscription<Message> {
        if self.session.is_dirty() && self.complaint.is_none() {
            time::every(time::Duration::from_millis(500)).map(|_| Message::SaveDue)
        } else {
            Subscription::none()
        }
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
        } else {
            self.chosen = None;
        }
        Action::None
    }

    /// Saves before the screen goes away; returns what went wrong, the first time.
    pub fn put_away(&mut self) -> Option<String> {
        let error = self.session.save().err()?;
        let told = std::mem::replace(&mut self.told_unsaved, true);
        (!told).then(|| {
            format!(
                "{error}. Every change is kept in this computer's journal; close \
                                 again to leave it there."
            )
        })
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

    fn close_complaint(&mut self) -> Action {
        self.complaint = None;
        Action::None
    }
}
