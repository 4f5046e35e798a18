//! A name, or settings, asked for on one line.

use iced::keyboard::{Event, Key, key::Named};

use crate::window::typing::Line;

use super::{Action, Library, Message, aside, jobs};

/// What is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// The name of a search that is kept.
    Search,
    /// The name of a set.
    Set,
    /// Settings for everything that was found.
    Settings,
}

/// The line on which it is asked.
#[derive(Debug)]
pub(crate) struct Asking {
    /// What is asked for.
    pub what: What,
    /// What is written.
    pub line: Line,
}

impl What {
    /// Returns the question.
    pub(crate) const fn says(self) -> &'static str {
        match self {
            Self::Search => "Keep this search as",
            Self::Set => "Make a set of all that is found, called",
            Self::Settings => "For all that is found fill in",
        }
    }

    /// Returns what may be written.
    pub(crate) const fn hint(self) -> &'static str {
        match self {
            Self::Search => "Casts near horizontal",
            Self::Set => "Bars, first looks",
            Self::Settings => "event bars division redshank date 2026-10-17 judge J-2",
        }
    }
}

/// Returns whether a key answers or leaves; every other one is written.
pub(crate) fn takes(event: &Event) -> bool {
    let Event::KeyPressed { key, .. } = event else { return false };
    matches!(key, Key::Named(Named::Enter | Named::Escape))
}

impl Library {
    pub(crate) fn ask(&mut self, what: What) {
        (self.set, self.said) = (None, None);
        self.asking = Some(Asking { what, line: Line::default() });
    }

    /// Does what was asked for with what is written.
    pub(crate) fn answer(&mut self) -> Action {
        let Some(asking) = self.asking.take() else { return Action::None };
        let (answer, words) = (asking.line.text().trim().to_owned(), self.searched.clone());
        if answer.is_empty() {
            self.asking = Some(asking);
            return Action::None;
        }
        let (kept, book) = (self.kept.clone(), self.book.clone());
        Action::Run(match asking.what {
            What::Search => aside(
                move || {
                    jobs::save_search(&kept, &answer, &words)?;
                    Ok(format!("Kept as \"{answer}\""))
                },
                Message::Done,
            ),
            What::Set => {
                aside(move || jobs::make_set(&kept, &answer, &words, &book), Message::SetMade)
            }
            What::Settings => {
                aside(move || jobs::assign(&kept, &answer, &words, &book), Message::Done)
            }
        })
    }
}
