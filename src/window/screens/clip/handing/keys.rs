//! Which key does what in the form.

use iced::keyboard::{Event, Key, key::Named};

use super::form::{HandField, HandForm, HandMessage, HandWhat};
use crate::window::{
    screens::{
        clip::{
            Message,
            errand::{ErrandMessage, Stage},
        },
        record::RecordMessage,
    },
    typing::{self, Typed},
};

impl HandForm {
    /// Returns what a key asks for.
    pub(in crate::window::screens::clip) fn message_for(
        &mut self,
        event: &Event,
    ) -> Option<Message> {
        if let Some(message) = self.errand.message_for(event) {
            return Some(Message::Errand(message));
        }
        if !matches!(self.errand.stage, Stage::Asked(_)) {
            return None;
        }
        let Event::KeyPressed { key, modifiers, .. } = event else { return None };
        match key {
            Key::Named(Named::ArrowUp | Named::ArrowDown) => {
                Some(Message::HandOver(HandMessage::What(self.what.other())))
            }
            _ if self.what == HandWhat::Still => None,
            Key::Named(Named::Tab) => {
                let all = HandField::ALL;
                let by = if modifiers.shift() { all.len() - 1 } else { 1 };
                self.current = all[(self.current as usize + by) % all.len()];
                None
            }
            _ => typing::typed(event).map(|typed| self.typed(typed)),
        }
    }

    /// Returns what is written, as a message.
    pub(in crate::window::screens::clip) fn typed(&self, typed: Typed) -> Message {
        if self.errand.is_covered() {
            return Message::Errand(ErrandMessage::Record(RecordMessage::Typed(typed)));
        }
        Message::HandOver(HandMessage::Pointed(self.current, typed))
    }
}
