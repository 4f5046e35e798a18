//! The write line at work: its text, what the text may mean, and which meaning is picked.

use iced::{
    Alignment, Element, Length,
    keyboard::{Event, Key, key::Named},
    widget::{button, column, container, row, text, text_input},
};

use super::Message;
use crate::{
    marks::Phase,
    window::{
        keymap::Command,
        theme::{self, Current, size},
        write::{self, Asked, Context, Entry, Hint, Offer, Vocabulary},
    },
};

/// Id of the field.
pub const FIELD: &str = "write-line";

/// The write line.
#[derive(Debug, Default)]
pub struct WriteLine {
    open: bool,
    text: String,
    offers: Vec<Offer>,
    hint: Option<Hint>,
    picked: usize,
}

impl WriteLine {
    /// Opens the line with nothing in it.
    pub fn open(&mut self) {
        *self = Self { open: true, ..Self::default() };
    }

    /// Returns whether somebody writes.
    pub const fn is_open(&self) -> bool {
        self.open
    }

    /// Returns whether nothing was written.
    pub fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// Returns the text with more behind it.
    pub fn text_with(&self, more: &str) -> String {
        format!("{}{more}", self.text)
    }

    /// Takes in what was written and finds what it may mean.
    pub fn read(&mut self, text: String, words: &Vocabulary, asked: &[Asked], phase: Phase) {
        let (offers, hint) = match write::read(&text, Context { words, asked, phase }) {
            Ok(offers) => (offers, None),
            Err(hint) => (Vec::new(), Some(hint)),
        };
        *self = Self { open: true, text, offers, hint, picked: 0 };
    }

    /// Picks another offer.
    pub fn pick(&mut self, by: isize) {
        let last = self.offers.len().saturating_sub(1);
        self.picked = self.picked.saturating_add_signed(by).min(last);
    }

    /// Picks the offer at a place.
    pub fn pick_at(&mut self, place: usize) {
        self.picked = place;
    }

    /// Returns what is put down with the picked offer.
    pub fn picked(&self) -> Option<Entry> {
        self.offers.get(self.picked).map(|offer| offer.entry.clone())
    }

    /// Draws what the text may mean; nothing while there is no text.
    pub fn offers(&self) -> Option<Element<'_, Message>> {
        let content: Element<'_, Message> = if let Some(hint) = &self.hint {
            container(text(hint).style(theme::ink(theme::INK_OPEN)))
                .padding(theme::space::SMALL)
                .into()
        } else if self.offers.is_empty() {
            return None;
        } else {
            column(self.offers.iter().enumerate().map(|(i, it)| offer(it, i, i == self.picked)))
                .into()
        };
        Some(container(content).width(Length::Fill).padding(1).style(theme::offers).into())
    }

    /// Draws the line itself.
    pub fn view(&self) -> Element<'_, Message> {
        if self.open {
            return text_input("part of a name, a shorthand, fall, 0.3 legs …", &self.text)
                .id(FIELD)
                .on_input(Message::Written)
                .on_submit(Message::WriteSubmitted)
                .padding(theme::space::SMALL)
                .style(theme::field)
                .into();
        }
        let prompt = row![
            text("Write what you see"),
            text("Enter").size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        ]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center);
        button(prompt)
            .width(Length::Fill)
            .padding(theme::space::SMALL)
            .style(theme::other_button)
            .on_press(Message::Asked(Command::Write))
            .into()
    }
}

fn offer(offer: &Offer, place: usize, picked: bool) -> Element<'_, Message> {
    let ink = if offer.allowed { theme::INK } else { theme::INK_QUIET };
    let line = row![
        text(&offer.label).style(theme::ink(ink)).width(Length::Fill),
        text(&offer.aside).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
    ]
    .spacing(theme::space::SMALL)
    .align_y(Alignment::Center);
    button(line)
        .width(Length::Fill)
        .padding([theme::space::TIGHT, theme::space::SMALL])
        .style(theme::paper_line(Current::from(picked)))
        .on_press(Message::OfferPressed(place))
        .into()
}

/// What a key means that the field did not take.
pub enum FieldKey {
    /// Another offer, so many places on.
    Move(isize),
    /// Take the offer.
    Submit,
    /// Close the line.
    Leave,
    /// More text.
    Text(String),
}

/// Returns what a key means that the field did not take.
pub fn key_for(event: &Event) -> Option<FieldKey> {
    let Event::KeyPressed { key, text, modifiers, .. } = event else { return None };
    match key {
        Key::Named(Named::ArrowDown) => Some(FieldKey::Move(1)),
        Key::Named(Named::ArrowUp) => Some(FieldKey::Move(-1)),
        Key::Named(Named::Enter) => Some(FieldKey::Submit),
        Key::Named(Named::Escape) => Some(FieldKey::Leave),
        _ if modifiers.command() || modifiers.alt() => None,
        _ => {
            let written = text.iter().flat_map(|text| text.chars());
            let plain: String = written.filter(|c| !c.is_control()).collect();
            (!plain.is_empty()).then_some(FieldKey::Text(plain))
        }
    }
}
