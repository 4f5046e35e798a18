//! Typing into the window's own fields.
//!
//! iced's text field gets the cursor one turn after it is asked to, and what is typed meanwhile
//! goes elsewhere or arrives in another order. Here a letter must never be lost, nor taken for a
//! command, so all keys come in one stream and the screen itself knows which field is written in.
//! The field only draws, tells where it was pointed at, and asks for the input method.

mod field;
mod line;

use iced::{
    Task, clipboard,
    keyboard::{Event, Key, Modifiers, key::Named},
};

pub(super) use field::field;
pub(super) use line::Line;

/// What is done to a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Typed {
    /// More text, in place of what is selected.
    Text(String),
    /// What an input method is still composing; it is not text yet.
    Composing(String),
    /// What is selected goes, or else as much.
    Erase(Reach),
    /// The cursor moves; `select` draws the selection along.
    Move {
        /// Where to.
        to: Reach,
        /// Whether what is passed over is selected.
        select: Selecting,
    },
    /// Everything is selected.
    SelectAll,
    /// What is selected goes to the clipboard.
    Copy,
    /// The same, and goes out of the field.
    Cut,
    /// The clipboard comes in.
    Paste,
}

/// How far from the cursor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Reach {
    /// To the letter before.
    Before,
    /// Past the next letter.
    After,
    /// To where the word before begins.
    WordBefore,
    /// To where the next word ends.
    WordAfter,
    /// To the beginning.
    Start,
    /// To the end.
    End,
    /// To a place, in letters from the beginning.
    Place(usize),
}

/// Whether a move of the cursor selects.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Selecting {
    /// It does.
    Yes,
    /// It lets go of what was selected.
    No,
}

/// What a change of a field asks of the clipboard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Wish {
    /// Nothing.
    None,
    /// To take this in.
    Give(String),
    /// To be read into the field.
    Read,
}

impl Wish {
    /// Returns the task that fulfils the wish; what was read comes back as something typed.
    pub(super) fn task<M: Send + 'static>(
        self,
        typed: impl Fn(Typed) -> M + Send + 'static,
    ) -> Task<M> {
        match self {
            Self::None => Task::none(),
            Self::Give(text) => clipboard::write(text),
            Self::Read => {
                clipboard::read().and_then(|text| Task::done(Typed::Text(text))).map(typed)
            }
        }
    }
}

/// Returns what a key means in a field; nothing for keys that mean nothing there.
pub(super) fn typed(event: &Event) -> Option<Typed> {
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

#[cfg(test)]
mod tests;
