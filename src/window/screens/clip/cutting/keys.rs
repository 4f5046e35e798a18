//! Which key does what in the form.

use iced::keyboard::{Event, Key, key::Named};

use super::form::{CutEdge, CutForm, CutMessage};
use crate::window::{
    screens::{
        clip::{Message, errand::ErrandMessage},
        record::RecordMessage,
    },
    typing::{self, Typed},
};

impl CutForm {
    /// Returns what a key asks for.
    pub(in crate::window::screens::clip) fn message_for(
        &mut self,
        event: &Event,
    ) -> Option<Message> {
        if let Some(message) = self.errand.message_for(event) {
            return Some(Message::Errand(message));
        }
        if let Event::KeyPressed { key: Key::Named(Named::Tab), .. } = event {
            self.current = match self.current {
                CutEdge::First => CutEdge::Last,
                CutEdge::Last => CutEdge::First,
            };
            return None;
        }
        typing::typed(event).map(|typed| self.typed(typed))
    }

    /// Returns what is written, as a message.
    pub(in crate::window::screens::clip) fn typed(&self, typed: Typed) -> Message {
        if self.errand.is_covered() {
            return Message::Errand(ErrandMessage::Record(RecordMessage::Typed(typed)));
        }
        Message::Cut(CutMessage::Pointed(self.current, typed))
    }
}
