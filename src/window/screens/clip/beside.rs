//! What another screen needs of a clip to show it beside a second one.

use iced::{Element, Subscription};

use crate::{
    marks::{Item, What},
    units::{Orientation, Ticks},
    window::viewer::stage::Stage,
};

use super::{
    Action, Clip, Dialogue, Message, Session, complaint::Complaint, drawn::clip_line::ClipLine,
    routine::known::Known,
};

impl Clip {
    /// Asks for a second clip beside this one; what was written is saved first.
    pub(crate) fn lay_beside(&mut self) -> Action {
        self.stop();
        match self.put_away() {
            Some(complaint) => self.complain(&complaint),
            None => Action::LayBeside,
        }
    }

    /// Returns the clip itself.
    pub(crate) const fn stage(&self) -> &Stage {
        &self.stage
    }

    /// Returns what is written of it.
    pub(crate) const fn session(&self) -> &Session {
        &self.session
    }

    /// Returns the frame on screen.
    pub(crate) const fn frame(&self) -> u64 {
        self.frame
    }

    /// Returns how a person turned the picture otherwise than its file says.
    pub(crate) fn turned(&self) -> Option<Orientation> {
        self.turn()
    }

    /// Returns what there is to complain about, in words.
    pub(crate) fn complaint(&self) -> Option<&str> {
        self.complaint.as_ref().map(Complaint::text)
    }

    /// Returns what listens for its pictures.
    pub(crate) fn arrivals(&self) -> Subscription<()> {
        self.arrived.listen()
    }

    /// Takes in what has arrived, without going anywhere.
    pub(crate) fn collect(&mut self) {
        self.session.collect();
    }

    /// Goes to a frame, as if it was picked.
    pub(crate) fn leave_at(&mut self, frame: u64) -> Action {
        self.update(Message::FramePicked(frame))
    }

    /// Returns the element that the chosen line belongs to, or that was going on.
    pub(crate) fn element_here(&self) -> Option<What> {
        let id = self.element()?;
        match self.session.sheaf()?.item(id)? {
            Item::Mark(mark) => Some(mark.what),
            _ => None,
        }
    }

    /// Returns when something is seen first; nothing where it was not.
    pub(crate) fn first_seen(&self, what: &What) -> Option<Ticks> {
        let marks = &self.session.sheaf()?.marks;
        let seen = marks.iter().filter(|mark| mark.what == *what);
        seen.filter_map(|mark| mark.at.frame()).map(|frame| frame.ticks).min()
    }

    /// Opens the routine that goes best beside another clip's: the first one of the same event,
    /// else the first. Not the one that is open there: it has but one writer.
    pub(crate) fn open_routine_like(&mut self, other: &Self) {
        if self.session.is_open() {
            return;
        }
        let taken = other.session.path();
        let free = |known: &&Known| Some(known.path()) != taken;
        let event = other.routine().map(|routine| routine.event.as_str());
        let mut known = self.routines.iter().filter(free);
        let like = known.clone().find(|known| known.event() == event).or_else(|| known.next());
        let place =
            like.and_then(|like| self.routines.iter().position(|it| std::ptr::eq(it, like)));
        self.dialogue = Dialogue::None;
        if let Some(place) = place {
            self.open_routine(place);
        }
    }

    /// Opens another routine of the clip, where it has others.
    pub(crate) fn turn_to_routine(&mut self, by: i8) {
        self.look_for_routines();
        if self.routines.len() > 1 {
            self.turn_routine(by);
        }
    }

    /// Draws the clip's line with a frame on it.
    pub(crate) fn line_at(&self, frame: u64) -> Element<'_, Message> {
        ClipLine { frame, ..self.clip_line() }.view()
    }
}
