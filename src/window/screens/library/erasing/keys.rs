//! Which key does what while something is to be erased.

use iced::keyboard::Event;

use crate::window::{
    keymap::{self, EraseCommand},
    screens::library::{Action, Library},
    typing::{self, Typed},
};

use super::{
    form::{EraseField, EraseFocus},
    stage::{EraseAsked, EraseStage},
};

impl Library {
    pub(in crate::window::screens::library) fn key_while_erasing(
        &mut self,
        event: &Event,
    ) -> Action {
        let writes = self.erasing.as_ref().is_some_and(|asked| asked.written_in().is_some());
        match keymap::while_erasing(event) {
            // In a field a space is written.
            Some(EraseCommand::Turn) if writes => {}
            Some(command) => return self.erase_asked(command),
            None => {}
        }
        typing::typed(event).map_or(Action::None, |typed| self.typed_while_erasing(&typed))
    }

    pub(in crate::window::screens::library) fn typed_while_erasing(
        &mut self,
        typed: &Typed,
    ) -> Action {
        let field = self.erasing.as_ref().and_then(EraseAsked::written_in);
        field.map_or(Action::None, |field| self.write_in(field, typed))
    }
}

impl EraseAsked {
    /// Returns the field that is written in.
    pub(super) fn written_in(&self) -> Option<EraseField> {
        match (&self.stage, self.form.focus()) {
            (EraseStage::Filled, EraseFocus::Field(field)) => Some(field),
            (EraseStage::Shown(_), _) => self.code_again().map(|_| EraseField::Again),
            _ => None,
        }
    }
}
