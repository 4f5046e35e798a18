//! Which key does what in every form of it.

use iced::keyboard::{Event, Key, key::Named};

use super::state::{Errand, ErrandMessage as Message, Stage};
use crate::window::screens::record::RecordMessage;

impl Errand {
    /// Returns what a key asks for; nothing where it is for the fields.
    pub(in crate::window::screens::clip) fn message_for(&self, event: &Event) -> Option<Message> {
        if self.record.is_some() {
            return Some(Message::Record(RecordMessage::KeyPressed(event.clone())));
        }
        let Event::KeyPressed { key, physical_key, modifiers, .. } = event else { return None };
        let letter = key.to_latin(*physical_key).filter(|_| modifiers.command());
        match (key, letter, &self.stage) {
            (Key::Named(Named::Escape), ..) => Some(Message::Leave),
            (_, Some('e'), Stage::Asked(_) | Stage::Refused(_)) => Some(Message::ShowRecord),
            (Key::Named(Named::Enter), _, Stage::Made(made)) if made.is_clip => Some(Message::Open),
            (Key::Named(Named::Enter), _, Stage::Made(_)) => Some(Message::Leave),
            (Key::Named(Named::Enter), ..) => Some(Message::Ask),
            _ => None,
        }
    }

    /// Returns whether what is noted of the clip lies over the form, so that keys are for that.
    pub(in crate::window::screens::clip) const fn is_covered(&self) -> bool {
        self.record.is_some()
    }
}
