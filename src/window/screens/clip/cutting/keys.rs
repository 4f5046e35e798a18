//! Which key does what in the form.

use iced::keyboard::{Event, Key, key::Named};

use super::form::{CutEdge, CutForm, CutMessage, CutStage};
use crate::window::{
    screens::record::RecordMessage,
    typing::{self, Typed},
};

impl CutForm {
    /// Returns what a key asks for.
    pub(in crate::window::screens::clip) fn message_for(
        &mut self,
        event: &Event,
    ) -> Option<CutMessage> {
        if self.record.is_some() {
            return Some(CutMessage::Record(RecordMessage::KeyPressed(event.clone())));
        }
        let Event::KeyPressed { key, physical_key, modifiers, .. } = event else { return None };
        let letter = key.to_latin(*physical_key).filter(|_| modifiers.command());
        match (key, letter, &self.stage) {
            (Key::Named(Named::Escape), ..) => Some(CutMessage::Leave),
            (_, Some('e'), CutStage::Asked(_) | CutStage::Refused(_)) => {
                Some(CutMessage::ShowRecord)
            }
            (Key::Named(Named::Enter), _, CutStage::Made(_)) => Some(CutMessage::Open),
            (Key::Named(Named::Enter), ..) => Some(CutMessage::Ask),
            (Key::Named(Named::Tab), ..) => {
                self.current = match self.current {
                    CutEdge::First => CutEdge::Last,
                    CutEdge::Last => CutEdge::First,
                };
                None
            }
            _ => typing::typed(event).map(|typed| self.typed(typed)),
        }
    }

    /// Returns what is written, as a message.
    pub(in crate::window::screens::clip) fn typed(&self, typed: Typed) -> CutMessage {
        match self.record {
            Some(_) => CutMessage::Record(RecordMessage::Typed(typed)),
            None => CutMessage::Pointed(self.current, typed),
        }
    }
}
