//! What a key means in a field.

use iced::keyboard::{Event, Key, Modifiers, key::Named};

use super::typed::{Reach, Selecting, Typed};

/// Returns what a key means in a field; nothing for keys that mean nothing there.
pub(crate) fn typed(event: &Event) -> Option<Typed> {
    let Event::KeyPressed { key, physical_key, text, modifiers, .. } = event else { return None };
    if modifiers.alt() && !writes_with_alt(*modifiers) {
        return None;
    }
    if let Key::Named(named) = key
        && let Some(typed) = named_key(*named, *modifiers)
    {
        return Some(typed);
    }
    if modifiers.command() && !modifiers.alt() {
        return match key.to_latin(*physical_key)? {
            'a' => Some(Typed::SelectAll),
            'c' => Some(Typed::Copy),
            'x' => Some(Typed::Cut),
            'v' => Some(Typed::Paste),
            _ => None,
        };
    }
    let written = text.iter().flat_map(|text| text.chars());
    let plain: String = written.filter(|c| !c.is_control()).collect();
    (!plain.is_empty()).then_some(Typed::Text(plain))
}

/// On many keyboards a sign like @ is written with the right Alt key, which arrives as Ctrl and
/// Alt together.
fn writes_with_alt(modifiers: Modifiers) -> bool {
    modifiers.control()
}

fn named_key(named: Named, modifiers: Modifiers) -> Option<Typed> {
    let word = modifiers.command();
    let reach = match named {
        Named::ArrowLeft | Named::Backspace if word => Reach::WordBefore,
        Named::ArrowLeft | Named::Backspace => Reach::Before,
        Named::ArrowRight | Named::Delete if word => Reach::WordAfter,
        Named::ArrowRight | Named::Delete => Reach::After,
        Named::Home => Reach::Start,
        Named::End => Reach::End,
        _ => return None,
    };
    if matches!(named, Named::Backspace | Named::Delete) {
        return Some(Typed::Erase(reach));
    }
    let select = if modifiers.shift() { Selecting::Yes } else { Selecting::No };
    Some(Typed::Move { to: reach, select })
}
