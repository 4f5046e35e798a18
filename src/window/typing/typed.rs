//! What is done to a field, and what that asks of the clipboard.

use iced::{Task, clipboard};

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
pub(crate) enum Wish {
    /// Nothing.
    None,
    /// To take this in.
    Give(String),
    /// To be read into the field.
    Read,
}

impl Wish {
    /// Returns the task that fulfils the wish; what was read comes back as something typed.
    pub(crate) fn task<M: Send + 'static>(
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
