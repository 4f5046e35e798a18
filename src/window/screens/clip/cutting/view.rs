//! Draws the form.

use iced::{
    Element,
    widget::{Column, column, row},
};

use super::form::{CutEdge, CutForm, CutMessage};
use crate::window::{
    controls::quiet_button,
    screens::clip::{
        Message,
        errand::view::{choice, frame_field, labelled},
    },
    theme::{self, Current},
};

impl CutForm {
    /// Draws the form.
    pub(in crate::window::screens::clip) fn view(&self) -> Element<'_, Message> {
        self.errand.view(|| self.fields())
    }

    fn fields(&self) -> Column<'_, Message> {
        let routines = self.routines.iter().enumerate().map(|(place, (name, [first, last]))| {
            let meant = Message::Cut(CutMessage::Routine(place));
            quiet_button(format!("{name}: {first} to {last}"), meant)
        });
        let routines = (!self.routines.is_empty())
            .then(|| labelled("Routine", row(routines).spacing(theme::space::TIGHT).wrap()));
        let sound = choice(self.sound, "Keep the sound", Message::Cut(CutMessage::Sound));
        column![]
            .push(routines)
            .push(self.field("First frame", CutEdge::First))
            .push(self.field("Last frame", CutEdge::Last))
            .push(labelled("Sound", sound))
    }

    fn field(&self, label: &'static str, edge: CutEdge) -> Element<'_, Message> {
        let current = Current::from(self.current == edge);
        let pointed = move |typed| Message::Cut(CutMessage::Pointed(edge, typed));
        let here = (self.here, Message::Cut(CutMessage::Here(edge)));
        frame_field(label, (&self.lines[edge as usize], current), pointed, here)
    }
}
