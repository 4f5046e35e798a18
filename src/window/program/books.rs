//! What the program does for a rule book of one's own.

use std::path::{Path, PathBuf};

use iced::{Task, window};

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::{
    rulebook::{OpenedBook, SHAPES, open_draft},
    window::screens::book::{self, Begin, BookForms},
};

impl Program {
    /// Asks which book.
    pub(crate) fn show_books(&mut self) -> Task<Message> {
        self.screen = Screen::BookAsked(Begin::default());
        Task::none()
    }

    pub(crate) fn book_asked(&mut self, message: book::BeginMessage) -> Task<Message> {
        let Screen::BookAsked(begin) = &mut self.screen else { return Task::none() };
        match begin.update(message) {
            book::BeginAction::None => Task::none(),
            book::BeginAction::Run(task) => task.map(Message::BookAsked),
            book::BeginAction::Open(path, shape) => open(path, shape),
            book::BeginAction::Leave => self.stop_waiting(),
        }
    }

    pub(crate) fn book_opened(
        &mut self,
        path: &Path,
        opened: Result<OpenedBook, String>,
    ) -> Task<Message> {
        if matches!(self.screen, Screen::BookAsked(_)) {
            self.screen = match opened {
                Ok(book) => {
                    let forms = BookForms::new(book);
                    self.memory.opened_book(forms.path());
                    self.memory.keep();
                    Screen::Book(Box::new(forms))
                }
                Err(why) => Screen::BookAsked(Begin::complaining(path, why)),
            };
        }
        Task::none()
    }

    pub(crate) fn book(&mut self, message: book::Message) -> Task<Message> {
        let Screen::Book(forms) = &mut self.screen else { return Task::none() };
        match forms.update(message) {
            book::Action::None => Task::none(),
            book::Action::Run(task) => task.map(Message::Book),
            book::Action::Leave => {
                // The next routine is offered this book.
                if let Some(path) = forms.usable() {
                    self.memory.last.book = path.to_string_lossy().into_owned();
                    self.memory.keep();
                }
                self.stop_waiting()
            }
        }
    }

    /// Writes down what stands in a field before the window closes.
    pub(crate) fn close_book(&mut self, id: window::Id) -> Task<Message> {
        let Screen::Book(forms) = &mut self.screen else { return window::close(id) };
        match forms.update(book::Message::Leave) {
            book::Action::Leave => window::close(id),
            book::Action::Run(task) => task.map(Message::Book),
            book::Action::None => Task::none(),
        }
    }
}

/// Opens a book beside the window's thread.
fn open(path: PathBuf, shape: usize) -> Task<Message> {
    let path = std::path::absolute(&path).unwrap_or(path);
    let shape = &SHAPES[shape.min(SHAPES.len() - 1)];
    let opened = path.clone();
    let opening = tokio::task::spawn_blocking(move || open_draft(&opened, shape));
    Task::perform(opening, move |opened| {
        let opened = opened.unwrap_or_else(|error| Err(error.to_string()));
        Message::BookOpened(path.clone(), opened)
    })
}
