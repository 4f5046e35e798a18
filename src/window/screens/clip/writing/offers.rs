//! The write line at work: its text, what the text may mean, and which meaning is picked.

use iced::{
    Alignment, Element, Length, Padding,
    keyboard::{Event, Key, key::Named},
    widget::{column, container, row, scrollable},
};

use crate::{
    marks::Id,
    window::{
        controls::button,
        keymap::{ClipCommand, Work},
        screens::clip::Message,
        theme::{self, Current, size, text},
        typing::{self, Line, Typed, Wish},
        write::{self, Context, Entry, Hint, Offer},
    },
};

/// Name of the lane of offers.
pub(crate) const OFFERS: &str = "offers";

/// The write line.
#[derive(Debug, Default)]
pub(crate) struct WriteLine {
    line: Line,
    /// What is written anew, where something is.
    rewritten: Option<Id>,
    offers: Vec<Offer>,
    hint: Option<Hint>,
    /// Nothing is, as long as nothing was written and no offer chosen.
    picked: Option<usize>,
}

impl WriteLine {
    /// Returns the line to write something anew; its words are there and selected.
    pub(crate) fn on(id: Id, text: &str) -> Self {
        let mut line = Line::new(text);
        line.select_all();
        Self { line, rewritten: Some(id), ..Self::default() }
    }

    /// Returns what is written anew.
    pub(crate) const fn rewritten(&self) -> Option<Id> {
        self.rewritten
    }

    pub(crate) fn text(&self) -> &str {
        self.line.text()
    }

    /// Returns whether nothing was written.
    pub(crate) fn is_blank(&self) -> bool {
        self.text().trim().is_empty()
    }

    /// Takes in what was typed.
    pub(crate) fn take(&mut self, typed: &Typed) -> Wish {
        self.line.take(typed)
    }

    /// Finds what the text may mean.
    pub(crate) fn read(&mut self, context: Context<'_>) {
        (self.offers, self.hint) = match write::read(self.text(), context) {
            Ok(offers) => (offers, None),
            Err(hint) => (Vec::new(), Some(hint)),
        };
        self.picked = (!self.is_blank()).then_some(0);
    }

    /// Picks another offer; returns where it stands among all, from 0 to 1.
    pub(crate) fn pick(&mut self, by: isize) -> f32 {
        let last = self.offers.len().saturating_sub(1);
        let place = match self.picked {
            None if by > 0 => 0,
            None => last,
            Some(here) => here.saturating_add_signed(by).min(last),
        };
        self.picked = Some(place);
        place as f32 / last.max(1) as f32
    }

    /// Picks the offer at a place.
    pub(crate) fn pick_at(&mut self, place: usize) {
        self.picked = Some(place);
    }

    /// Returns what is put down with the picked offer.
    pub(crate) fn picked(&self) -> Option<Entry> {
        self.offers.get(self.picked?).map(|offer| offer.entry.clone())
    }

    /// Draws what the text may mean, or all that may be written, no higher than `most`.
    pub(crate) fn offers(&self, most: f32) -> Option<Element<'_, Message>> {
        let content: Element<'_, Message> = if let Some(hint) = &self.hint {
            container(text(hint).style(theme::ink(theme::INK_OPEN)))
                .padding(theme::space::SMALL)
                .into()
        } else if self.offers.is_empty() {
            return None;
        } else {
            let offers = self.offers.iter().enumerate();
            let offers = offers.map(|(i, it)| offer(it, i, self.picked == Some(i)));
            let list = container(column(offers)).padding(Padding::ZERO.right(theme::space::MIDDLE));
            let list = scrollable(list).id(OFFERS).style(theme::lane);
            container(list).max_height(most).into()
        };
        Some(container(content).width(Length::Fill).padding(1).style(theme::offers).into())
    }

    /// Draws the line itself.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let placeholder = "part of a name, a shorthand, fall, 0.3 legs …; or choose from the list";
        typing::field(&self.line, placeholder, Current::Yes, Message::Typed)
    }
}

/// Draws what stands in the line's place while nobody writes.
pub(crate) fn prompt<'a>() -> Element<'a, Message> {
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
        .on_press(Message::Asked(ClipCommand::Work(Work::Write)))
        .into()
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

/// What a key means while somebody writes.
pub(crate) enum WriteKey {
    /// Another offer, so many places on.
    Move(isize),
    /// Another frame, so many on: one may look again while writing.
    Step(i64),
    /// Take the offer.
    Submit,
    /// Close the line.
    Leave,
    /// The text changes.
    Typed(Typed),
}

/// Returns what a key means while somebody writes `text`. The arrows to the sides step frames
/// while there is no text through which they could go.
pub(crate) fn key_for(event: &Event, text: &str) -> Option<WriteKey> {
    let Event::KeyPressed { key, modifiers, .. } = event else { return None };
    let far = if modifiers.shift() { 10 } else { 1 };
    let steps = modifiers.alt() || text.is_empty();
    match key {
        Key::Named(Named::ArrowDown) => Some(WriteKey::Move(1)),
        Key::Named(Named::ArrowUp) => Some(WriteKey::Move(-1)),
        Key::Named(Named::ArrowRight) if steps => Some(WriteKey::Step(far)),
        Key::Named(Named::ArrowLeft) if steps => Some(WriteKey::Step(-far)),
        Key::Named(Named::Enter) => Some(WriteKey::Submit),
        Key::Named(Named::Escape) => Some(WriteKey::Leave),
        _ => typing::typed(event).map(WriteKey::Typed),
    }
}
