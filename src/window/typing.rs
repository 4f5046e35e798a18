//! Typing into the window's own fields.
//!
//! iced's text field gets the cursor one turn after it is asked to, and what is typed meanwhile
//! goes elsewhere or arrives in another order. Here a letter must never be lost, nor taken for a
//! command, so all keys come in one stream and the screen itself knows which field is written in.

use iced::{
    Element, Length,
    keyboard::{Event, Key, key::Named},
    widget::{container, row, space, text},
};

use super::theme::{self, Current};

/// What a key means in a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Typed {
    /// More text.
    Text(String),
    /// The last letter goes.
    Back,
    /// The last word goes.
    BackWord,
}

/// Returns what a key means in a field; nothing for keys that write nothing.
pub fn typed(event: &Event) -> Option<Typed> {
    let Event::KeyPressed { key, text, modifiers, .. } = event else { return None };
    match key {
        Key::Named(Named::Backspace) if modifiers.command() => Some(Typed::BackWord),
        Key::Named(Named::Backspace) => Some(Typed::Back),
        _ if modifiers.command() || modifiers.alt() => None,
        _ => {
            let written = text.iter().flat_map(|text| text.chars());
            let plain: String = written.filter(|c| !c.is_control()).collect();
            (!plain.is_empty()).then_some(Typed::Text(plain))
        }
    }
}

/// Changes a field's text.
pub fn change(field: &mut String, typed: &Typed) {
    match typed {
        Typed::Text(more) => field.push_str(more),
        Typed::Back => {
            field.pop();
        }
        Typed::BackWord => {
            let kept = field.trim_end().rfind(char::is_whitespace).map_or(0, |space| space + 1);
            field.truncate(kept);
        }
    }
}

/// Draws a field; the current one has the caret.
pub fn field<'a, M: 'a>(value: &'a str, placeholder: &'a str, current: Current) -> Element<'a, M> {
    let caret = || container(space().width(1.5).height(theme::size::LEAD)).style(theme::caret);
    let hint = || text(placeholder).style(theme::ink(theme::INK_QUIET));
    let line = match (current, value.is_empty()) {
        (Current::Yes, true) => row![caret(), hint()],
        (Current::Yes, false) => row![text(value), caret()],
        (Current::No, true) => row![hint()],
        (Current::No, false) => row![text(value)],
    };
    container(line.align_y(iced::Alignment::Center).spacing(1))
        .width(Length::Fill)
        .padding(theme::space::SMALL)
        .clip(true)
        .style(theme::own_field(current))
        .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_and_words_come_and_go() {
        let mut line = String::new();
        change(&mut line, &Typed::Text("back hip é".into()));
        change(&mut line, &Typed::Back);
        assert_eq!(line, "back hip ");
        change(&mut line, &Typed::BackWord);
        assert_eq!(line, "back ");
        change(&mut line, &Typed::BackWord);
        change(&mut line, &Typed::Back);
        assert_eq!(line, "");
    }
}
