//! The text of a field with its cursor and what is selected; pure.

use iced::widget::text_input::Value;

use super::typed::{Reach, Selecting, Typed, Wish};

/// One line of text that is written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Line {
    text: String,
    /// Place of the cursor, in letters as people count them.
    cursor: usize,
    /// Where the selection was begun; the cursor's place when nothing is selected.
    anchor: usize,
    /// What an input method is composing at the cursor.
    composing: String,
}

impl Line {
    /// Returns a line with the cursor behind its text.
    pub(crate) fn new(text: impl Into<String>) -> Self {
        let text = text.into();
        let end = Value::new(&text).len();
        Self { text, cursor: end, anchor: end, composing: String::new() }
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Returns the text with what is being composed in it, and the cursor's place in that.
    pub(crate) fn shown(&self) -> (String, usize) {
        let value = Value::new(&self.text);
        let (from, to) = self.selection();
        if self.composing.is_empty() {
            return (self.text.clone(), self.cursor);
        }
        let composed = Value::new(&self.composing).len();
        let head = value.until(from).to_string();
        let tail = value.select(to, value.len()).to_string();
        (format!("{head}{}{tail}", self.composing), from + composed)
    }

    /// Returns the first letter of what is selected and the one after the last.
    pub(crate) fn selection(&self) -> (usize, usize) {
        (self.cursor.min(self.anchor), self.cursor.max(self.anchor))
    }

    /// Selects everything, so that what is written next takes its place.
    pub(crate) fn select_all(&mut self) {
        (self.anchor, self.cursor) = (0, Value::new(&self.text).len());
    }

    /// Takes in what was typed.
    pub(crate) fn take(&mut self, typed: &Typed) -> Wish {
        match typed {
            Typed::Text(text) => self.write(text),
            Typed::Composing(text) => self.composing.clone_from(text),
            Typed::Erase(reach) => self.erase(*reach),
            Typed::Move { to, select } => self.go(*to, *select),
            Typed::SelectAll => self.select_all(),
            Typed::Copy => return self.copied(),
            Typed::Cut => {
                let copied = self.copied();
                self.write("");
                return copied;
            }
            Typed::Paste => return Wish::Read,
        }
        Wish::None
    }

    /// Puts text in the place of what is selected. A line stays a line: breaks become spaces.
    fn write(&mut self, text: &str) {
        self.composing.clear();
        let plain: String = text
            .trim_end_matches(['\n', '\r'])
            .chars()
            .map(|c| if matches!(c, '\n' | '\r' | '\t') { ' ' } else { c })
            .filter(|c| !c.is_control())
            .collect();
        let (from, to) = self.selection();
        let value = Value::new(&self.text);
        let head = value.until(from).to_string() + &plain;
        let end = Value::new(&head).len();
        self.text = head + &value.select(to, value.len()).to_string();
        (self.cursor, self.anchor) = (end, end);
    }

    fn erase(&mut self, reach: Reach) {
        if self.cursor == self.anchor {
            self.cursor = self.place(reach);
        }
        self.write("");
    }

    fn go(&mut self, to: Reach, select: Selecting) {
        let (from, end) = self.selection();
        self.cursor = match (to, select) {
            // Letting go of a selection by an arrow leaves the cursor at that edge of it.
            (Reach::Before, Selecting::No) if from < end => from,
            (Reach::After, Selecting::No) if from < end => end,
            _ => self.place(to),
        };
        if select == Selecting::No {
            self.anchor = self.cursor;
        }
    }

    fn place(&self, reach: Reach) -> usize {
        let value = Value::new(&self.text);
        match reach {
            Reach::Before => self.cursor.saturating_sub(1),
            Reach::After => (self.cursor + 1).min(value.len()),
            Reach::WordBefore => value.previous_start_of_word(self.cursor),
            Reach::WordAfter => value.next_end_of_word(self.cursor),
            Reach::Start => 0,
            Reach::End => value.len(),
            Reach::Place(place) => place.min(value.len()),
        }
    }

    fn copied(&self) -> Wish {
        let (from, to) = self.selection();
        if from == to {
            return Wish::None;
        }
        Wish::Give(Value::new(&self.text).select(from, to).to_string())
    }
}
