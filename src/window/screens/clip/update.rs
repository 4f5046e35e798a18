//! What happens on the clip screen goes to the part that it is for.

use iced::{
    Subscription,
    widget::{operation, scrollable},
};

use super::{
    message::{Action, Message},
    screen::Clip,
};
use crate::window::paper::{self, Key};

/// Id of the paper's lane.
pub(super) const PAPER: &str = "paper";

/// Room that a line needs to count as in sight, in logical pixels.
const MARGIN: f32 = 60.0;

impl Clip {
    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action {
        if self.waits(&message) {
            self.jobs.hold(message);
            return Action::None;
        }
        let action = self.answer(message);
        self.follow_book();
        // Undo may lead back to another edition, as another routine does.
        self.say_edition();
        self.and_compare(action)
    }

    pub(super) fn answer(&mut self, message: Message) -> Action {
        match message {
            Message::KeyPressed(event) => self.key_pressed(&event),
            Message::Asked(command) => self.command(command),
            Message::Found(command) => self.found(command),
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
            Message::BookDropped(path) => self.book_dropped(path),
            Message::BookChanged(book) => self.book_changed(&book),
            Message::ClipChanged(state) => self.clip_changed(state),
            Message::AmongAsides(command) => self.among_asides(command),
            Message::AsidePressed(place) => self.aside_pressed(place),
            Message::AsideTaken(line) => self.aside_taken(line),
            Message::RoutinePressed(place) => self.open_routine(place),
            Message::Planes(message) => self.planes(message),
            Message::Record(message) => self.noted(message),
            Message::Errand(message) => self.errand(message),
            Message::Cut(message) => self.cutting(message),
            Message::HandOver(message) => self.handing(message),
            Message::Meet(message) => self.meet(message),
            Message::CameraCompared(camera) => self.camera_compared(&camera),
            Message::ClicksCompared(told) => self.clicks_compared(told),
            Message::JumpPressed => self.jump(),
            Message::SaveDue => self.save(),
            Message::Saved(saved) => self.saved(saved),
            Message::ComplaintClosed => self.close_complaint(),
            Message::RoutineTurned(by) => self.turn_to_routine(by),
            Message::Done(number) => self.done(number),
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

    pub(super) fn paper_moved(&mut self, in_sight: [f32; 2]) -> Action {
        self.in_sight = in_sight;
        Action::None
    }

    /// Moves the paper so that the chosen line is in sight, where it is not.
    pub(super) fn show_chosen(&self) -> Action {
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
