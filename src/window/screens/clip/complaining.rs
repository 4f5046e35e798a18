//! Complaints on the clip screen: said, closed, remedied.

use super::{
    complaint::{Complaint, Remedy},
    message::Action,
    screen::Clip,
    session::SessionError,
};
use crate::{units::Ticks, window::words::sentence};

impl Clip {
    pub(crate) fn complain(&mut self, text: &str) -> Action {
        self.complaint = Some(Complaint::new(text));
        Action::None
    }

    pub(crate) fn complain_of(&mut self, error: &SessionError) -> Action {
        self.complaint = Some(match error {
            SessionError::Desk(error) => Complaint::of(error),
            other => Complaint::new(sentence(&other.to_string())),
        });
        Action::None
    }

    pub(crate) fn close_complaint(&mut self) -> Action {
        self.complaint = None;
        Action::None
    }

    /// Does what the complaint offers in this place.
    pub(crate) fn remedy(&mut self, place: u8) -> Action {
        let offered = self.complaint.as_ref().and_then(|it| it.remedies.get(usize::from(place)));
        let Some(remedy) = offered.copied() else { return Action::None };
        match remedy {
            Remedy::TakeTheirs => self.take_theirs(),
            Remedy::KeepBoth => self.keep_both(),
            Remedy::Elsewhere => self.keep_elsewhere(),
            Remedy::ListAsides => {
                self.complaint = None;
                self.list_asides()
            }
            Remedy::OpenAgain => self.open_again(),
            Remedy::MoveByTime => self.move_marks(Ticks(0)),
            Remedy::MoveChosenHere => self.move_chosen_here(),
        }
    }
}
