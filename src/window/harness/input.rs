//! Key events made by name.

use iced::keyboard::{
    Event, Key, Location, Modifiers,
    key::{Named, NativeCode, Physical},
};

/// Returns the press of a key, with what is held before it: `ctrl+shift+z`, `Page_Down`.
pub(super) fn key(name: &str) -> Option<Event> {
    let (held, key) = match name.rsplit_once('+') {
        Some((held, key)) if !key.is_empty() => (held, key),
        _ => ("", name),
    };
    let mut modifiers = Modifiers::empty();
    for held in held.split('+') {
        modifiers |= match held {
            "ctrl" => Modifiers::CTRL,
            "shift" => Modifiers::SHIFT,
            "alt" => Modifiers::ALT,
            _ => Modifiers::empty(),
        };
    }
    if let Some(named) = named(key) {
        return Some(press(Key::Named(named), None, modifiers));
    }
    let letter = key.chars().next()?;
    let text = modifiers.is_empty().then(|| letter.to_string());
    Some(press(Key::Character(letter.to_string().into()), text, modifiers))
}

/// Returns the press that writes a letter.
pub(super) fn letter(letter: char) -> Event {
    let key = if letter == ' ' {
        Key::Named(Named::Space)
    } else {
        Key::Character(letter.to_string().into())
    };
    press(key, Some(letter.to_string()), Modifiers::empty())
}

fn named(key: &str) -> Option<Named> {
    Some(match key {
        "Return" | "Enter" => Named::Enter,
        "Escape" => Named::Escape,
        "Tab" => Named::Tab,
        "Left" => Named::ArrowLeft,
        "Right" => Named::ArrowRight,
        "Up" => Named::ArrowUp,
        "Down" => Named::ArrowDown,
        "Home" => Named::Home,
        "End" => Named::End,
        "Page_Up" => Named::PageUp,
        "Page_Down" => Named::PageDown,
        "BackSpace" => Named::Backspace,
        "Delete" => Named::Delete,
        "space" => Named::Space,
        "F1" => Named::F1,
        "F2" => Named::F2,
        "F5" => Named::F5,
        _ => return None,
    })
}

fn press(key: Key, text: Option<String>, modifiers: Modifiers) -> Event {
    Event::KeyPressed {
        key: key.clone(),
        modified_key: key,
        physical_key: Physical::Unidentified(NativeCode::Unidentified),
        location: Location::Standard,
        modifiers,
        text: text.map(Into::into),
        repeat: false,
    }
}
