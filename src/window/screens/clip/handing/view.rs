//! Draws the form.

use iced::{
    Element,
    widget::{Column, column, row},
};

use super::form::{HandField, HandForm, HandLook, HandMessage, HandWhat};
use crate::window::{
    screens::clip::{
        Message,
        errand::view::{choice, frame_field, labelled, quiet},
    },
    theme::{self, Current, size, text},
    typing,
};

impl HandForm {
    /// Draws the form.
    pub(in crate::window::screens::clip) fn view(&self) -> Element<'_, Message> {
        self.errand.view(|| self.fields())
    }

    fn fields(&self) -> Column<'_, Message> {
        let what = HandWhat::ALL.map(|what| {
            let message = Message::HandOver(HandMessage::What(what));
            choice(self.what == what, what.says(), message)
        });
        let what = row(what).spacing(theme::space::TIGHT).wrap();
        let damage = self.damage.map(|says| {
            text(format!("Frame {}, picture: {says}", self.here))
                .size(size::SMALL)
                .style(theme::ink(theme::INK_OPEN))
        });
        let fields = column![labelled("What (↑ ↓)", what)].push(damage);
        match self.what {
            HandWhat::Still => fields,
            HandWhat::Replay => fields
                .push(self.frame("First frame", HandField::First))
                .push(self.frame("Last frame", HandField::Last))
                .push(self.caption()),
        }
        .push(labelled("Shows", self.looks()))
    }

    fn looks(&self) -> Element<'_, Message> {
        if !self.is_measured() {
            return quiet(match self.what {
                HandWhat::Still => "The picture alone: nothing was measured on this frame.",
                HandWhat::Replay => "The picture alone: nothing was measured on these frames.",
            });
        }
        let looks = HandLook::ALL.map(|look| {
            let message = Message::HandOver(HandMessage::Look(look));
            choice(self.look == look, look.says(), message)
        });
        row(looks).spacing(theme::space::TIGHT).wrap().into()
    }

    fn frame(&self, label: &'static str, field: HandField) -> Element<'_, Message> {
        let here = (self.here, Message::HandOver(HandMessage::Here(field)));
        let line = (&self.lines[field as usize], self.current_at(field));
        frame_field(label, line, pointed(field), here)
    }

    fn caption(&self) -> Element<'_, Message> {
        let field = HandField::Caption;
        let hint = "under the picture while it stops; may stay empty";
        let line = &self.lines[field as usize];
        labelled("Caption", typing::field(line, hint, self.current_at(field), pointed(field)))
    }

    fn current_at(&self, field: HandField) -> Current {
        Current::from(self.current == field)
    }
}

fn pointed(field: HandField) -> impl Fn(typing::Typed) -> Message {
    move |typed| Message::HandOver(HandMessage::Pointed(field, typed))
}
