//! Finds what a key event asks for.

use iced::keyboard::{Event, Key, Modifiers};

use super::binding::{Binding, Cap, Held};

/// Returns what a key event asks for by a table; nothing where the table does not have the key.
pub(crate) fn find<C: Copy>(table: &[Binding<C>], event: &Event) -> Option<C> {
    let Event::KeyPressed { key, modified_key, physical_key, modifiers, repeat, .. } = event else {
        return None;
    };
    let held = held(*modifiers)?;
    let letter = key.to_latin(*physical_key).map(|letter| letter.to_ascii_lowercase());
    let sign = written(modified_key);
    let binding = table.iter().find(|binding| match binding.cap {
        Cap::Named(named) => binding.held == held && *key == Key::Named(named),
        Cap::Writes(c) if c.is_ascii_alphabetic() => binding.held == held && letter == Some(c),
        // Shift belongs to writing a sign on one keyboard and not on the next.
        Cap::Writes(c) => binding.held == without_shift(held) && sign == Some(c),
    })?;
    (!repeat || binding.repeats).then_some(binding.command)
}

fn written(key: &Key) -> Option<char> {
    match key {
        Key::Character(text) => text.chars().next(),
        _ => None,
    }
}

fn held(modifiers: Modifiers) -> Option<Held> {
    if modifiers.alt() {
        return None;
    }
    Some(match (modifiers.command(), modifiers.shift()) {
        (false, false) => Held::Nothing,
        (false, true) => Held::Shift,
        (true, false) => Held::Ctrl,
        (true, true) => Held::CtrlShift,
    })
}

const fn without_shift(held: Held) -> Held {
    match held {
        Held::Nothing | Held::Shift => Held::Nothing,
        Held::Ctrl | Held::CtrlShift => Held::Ctrl,
    }
}
