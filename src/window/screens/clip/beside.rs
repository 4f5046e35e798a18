//! What another screen needs of a clip to show it beside a second one.

use std::path::PathBuf;

use iced::{Element, Subscription};

use crate::{
    marks::{Item, Saving, What},
    units::{Orientation, Ticks},
    window::{paper::Key, viewer::viewing::Viewer},
};

use super::{
    Action, Clip, Message, Session,
    complaint::Complaint,
    message::Next,
    routine::known::{Known, routines_of},
};

/// What the routine of a clip is to go with when it is laid beside another one.
#[derive(Clone, Debug, Default)]
pub(crate) struct Likeness {
    /// The other one's event.
    event: Option<String>,
    /// Its marks, which have but one writer.
    taken: Option<PathBuf>,
}

impl Clip {
    /// Asks for a second clip beside this one; what was written is saved first.
    pub(crate) fn lay_beside(&mut self) -> Action {
        self.viewer.stop();
        self.put_away(Next::LayBeside)
    }

    /// Returns what the routine of another clip beside this one is to go with.
    pub(crate) fn likeness(&self) -> Likeness {
        let event = self.routine().map(|routine| routine.event.clone());
        Likeness { event, taken: self.session.path().map(Into::into) }
    }

    /// Saves what was written of a clip that lay beside this one, and says what went wrong.
    pub(crate) fn save_of_other(&mut self, saving: Saving) {
        self.beside(
            move || saving.write(),
            |clip, written| match written {
                Ok(_) => Action::None,
                Err(error) => match clip.unsaved(&error) {
                    Some(told) => clip.complain(&told),
                    None => Action::None,
                },
            },
        );
    }

    /// Returns the clip as it is looked at.
    pub(crate) const fn viewer(&self) -> &Viewer {
        &self.viewer
    }

    /// The same, to be moved without anything else on the screen following.
    pub(crate) const fn viewer_mut(&mut self) -> &mut Viewer {
        &mut self.viewer
    }

    /// Returns what is written of it.
    pub(crate) const fn session(&self) -> &Session {
        &self.session
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

    /// Returns the line of the paper that was chosen, and what of the paper is in sight.
    pub(crate) const fn on_paper(&self) -> (Option<Key>, [f32; 2]) {
        (self.chosen, self.in_sight)
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
    /// else the first. Not the one that is open there: it has but one writer. Slow: not for the
    /// thread of the window.
    pub(crate) fn open_routine_like(&mut self, other: &Likeness) {
        if self.session.is_open() {
            return;
        }
        let free = |known: &&Known| Some(known.path()) != other.taken.as_deref();
        let mut known = self.routines.iter().filter(free);
        let like = known.clone().find(|known| known.event() == other.event.as_deref());
        let Some(like) = like.or_else(|| known.next()) else { return };
        match self.session.beginning().open(like.path()) {
            Ok(session) => {
                self.show_session(session);
            }
            Err(error) => {
                self.complain(&error.to_string());
            }
        }
    }

    /// Opens another routine of the clip, where it has others.
    pub(crate) fn turn_to_routine(&mut self, by: i8) -> Action {
        let clip = self.path().to_owned();
        self.beside(
            move || routines_of(&clip),
            move |clip, routines| match routines.len() {
                0 | 1 => Action::None,
                _ => clip.turn_in(routines, by),
            },
        )
    }

    /// Draws the clip's line.
    pub(crate) fn view_line(&self) -> Element<'_, Message> {
        self.clip_line().view()
    }
}
