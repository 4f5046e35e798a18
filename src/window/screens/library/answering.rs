//! Asking for a name or settings on one line, and doing what was asked for with the answer.

use crate::window::typing::Line;

use super::{
    aside::aside,
    asking::{Asking, What},
    jobs,
    message::{Action, Message},
    screen::Library,
};

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
                let apart = self.apart.clone();
                aside(move || jobs::assign(&kept, &answer, (&words, &book), &apart), Message::Done)
            }
        })
    }
}
