//! Between the slip and the machine: what is typed is told, what is refused is said beside it.

use iced::Task;

use crate::{
    practice::{
        set::vocabulary,
        sitting::{SittingEvent, SittingStage},
    },
    window::typing::Typed,
};

use super::{message::Message, sitter::Sitter, slip::Slip};

impl Sitter {
    /// Hands the answers in, unless one cannot be read.
    pub(crate) fn hand_in(&mut self) -> Task<Message> {
        if matches!(self.sat.stage(), SittingStage::Answering { .. }) && self.slip.find_unreadable()
        {
            return Task::none();
        }
        self.take(SittingEvent::HandedIn)
    }

    pub(crate) fn typed(&mut self, typed: &Typed) -> Task<Message> {
        if !self.is_written_in() {
            return Task::none();
        }
        let wish = self.slip.take(typed);
        Task::batch([wish.task(Message::Typed), self.take_answers()])
    }

    /// Returns whether answers may be typed now.
    pub(crate) fn is_written_in(&self) -> bool {
        matches!(
            self.sat.stage(),
            SittingStage::Looking | SittingStage::Answering { .. } | SittingStage::Still(_)
        )
    }

    /// Tells the machine what stands on the slip.
    pub(crate) fn take_answers(&mut self) -> Task<Message> {
        self.complaint = None;
        match self.sat.stage() {
            SittingStage::Looking | SittingStage::Answering { .. } => {
                // All are taken back first, because an answer may stand on an earlier one.
                for place in (0..self.slip.len()).rev() {
                    let _ = self.sat.take(SittingEvent::Typed(place, None));
                }
                for place in 0..self.slip.len() {
                    let Some(answer) = self.slip.answer(place) else { continue };
                    let taken = self.sat.take(SittingEvent::Typed(place, Some(answer)));
                    self.slip.judge(place, taken.err());
                }
            }
            SittingStage::Still(_) => {
                let answer = self.slip.answer(0);
                let is_answer = answer.is_some();
                let taken = self.sat.take(SittingEvent::TypedAfter(answer));
                if is_answer {
                    self.slip.judge(0, taken.err());
                }
            }
            _ => {}
        }
        Task::none()
    }

    /// Lays out a blank slip: the questions of the look, or the one whose still is shown.
    pub(crate) fn lay_out_slip(&mut self) {
        let Some(look) = self.sat.look() else {
            self.slip = Slip::default();
            return;
        };
        let asked = match self.sat.question() {
            Some(question) => std::slice::from_ref(question),
            None => &look.questions[..],
        };
        let words = |question| vocabulary(&self.book, question, &look.event, &look.division);
        self.slip = Slip::blank(asked, self.sat.mode(), &words);
    }
}
