//! Writing to the sitting's file beside the thread of the window.

use std::{
    path::{Path, PathBuf},
    sync::{Arc, Mutex, PoisonError},
};

use iced::Task;

use crate::practice::sitting::{Record, SittingFile};

use super::message::Message;

/// The sitting's file, and what is being written.
pub(crate) struct Keep {
    file: Arc<Mutex<SittingFile>>,
    path: PathBuf,
    record: Option<Record>,
    state: State,
    trouble: Option<String>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Quiet,
    Writing,
    /// It could not be written and will be tried again.
    Refused,
}

impl Keep {
    /// Returns the keeper of an open file.
    pub(crate) fn new(file: SittingFile) -> Self {
        let path = file.path().to_owned();
        let file = Arc::new(Mutex::new(file));
        Self { file, path, record: None, state: State::Quiet, trouble: None }
    }

    /// Returns where it is kept.
    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// Begins to write a record.
    pub(crate) fn write(&mut self, record: Record) -> Task<Message> {
        let (file, writes) = (Arc::clone(&self.file), record.clone());
        (self.record, self.state) = (Some(record), State::Writing);
        let writing = tokio::task::spawn_blocking(move || {
            let mut file = file.lock().unwrap_or_else(PoisonError::into_inner);
            file.append(&writes).map_err(|error| error.to_string())
        });
        Task::perform(writing, |written| {
            Message::Kept(written.unwrap_or_else(|error| Err(error.to_string())))
        })
    }

    /// Takes note of how it went, and returns what is on the disk now.
    pub(crate) fn finish(&mut self, kept: Result<(), String>) -> Option<Record> {
        match kept {
            Ok(()) => {
                (self.state, self.trouble) = (State::Quiet, None);
                self.record.take()
            }
            Err(why) => {
                (self.state, self.trouble) = (State::Refused, Some(why));
                None
            }
        }
    }

    /// Returns what is not on the disk yet.
    pub(crate) const fn record(&self) -> Option<&Record> {
        self.record.as_ref()
    }

    /// Returns whether it could not be written and waits to be tried again.
    pub(crate) fn is_refused(&self) -> bool {
        self.state == State::Refused
    }

    /// Returns why it could not be written, until it is.
    pub(crate) fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
    }
}
