//! The rule book in use, followed while somebody writes in it.

use std::{sync::Arc, time::Duration};

use iced::{
    Subscription,
    futures::{StreamExt as _, future::ready, stream},
};

use crate::{
    rulebook::{Book, Watch},
    window::screens::clip::{Action, Clip, Complaint, Message, Remedy},
};

/// How often the book's file is looked at.
const EVERY: Duration = Duration::from_secs(2);

impl Clip {
    /// Returns the file of the book in use, where it is followed.
    pub(crate) fn book_file(&self) -> Option<&str> {
        self.session.book_file()
    }

    /// Tells when the file of the book in use was written anew.
    pub(crate) fn book_changes(&self) -> Subscription<Message> {
        let Some(file) = self.book_file() else { return Subscription::none() };
        Subscription::run_with(file.to_owned(), |file| {
            let file = file.clone();
            let begun = async move {
                let beginning = tokio::task::spawn_blocking(move || Watch::begin(&file));
                beginning.await.ok()
            };
            stream::once(begun).filter_map(ready).flat_map(|watch| {
                stream::unfold(watch, |mut watch| async move {
                    loop {
                        tokio::time::sleep(EVERY).await;
                        let looking = tokio::task::spawn_blocking(move || {
                            let changed = watch.changed();
                            (watch, changed)
                        });
                        let (looked, changed) = looking.await.ok()?;
                        watch = looked;
                        if let Some(book) = changed {
                            let book = Arc::new(book.map_err(|error| error.to_string()));
                            return Some((Message::BookChanged(book), watch));
                        }
                    }
                })
            })
        })
    }

    /// Reads the book and the list that the routine names since the last step, where those are
    /// others.
    pub(crate) fn follow_book(&mut self) {
        if self.jobs.is_busy() {
            return;
        }
        let Some(to_read) = self.session.take_to_read() else { return };
        self.beside(
            move || to_read.read(),
            |clip, found| match found {
                Ok(found) => {
                    clip.session.follow(found);
                    Action::None
                }
                Err(error) => clip.complain_of(&error.into()),
            },
        );
    }

    /// Says under which edition is scored, where it is not the book as it is now, as soon as
    /// nothing else is said.
    pub(crate) fn say_edition(&mut self) {
        if self.complaint.is_none()
            && let Some(said) = self.session.say_edition()
        {
            let list: &[Remedy] =
                if self.session.take_tells_of_asides() { &[Remedy::ListAsides] } else { &[] };
            self.complaint = Some(Complaint::new(format!("{said}.")).with(list));
        }
    }

    pub(crate) fn book_changed(&mut self, book: &Result<Book, String>) -> Action {
        match book {
            Ok(book) => match self.session.take_book(book) {
                Ok(_) => Action::None,
                Err(error) => self.complain_of(&error),
            },
            // The book as it was stays in use until it can be read again.
            Err(error) => self.complain(error),
        }
    }
}
