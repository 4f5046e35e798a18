//! Does something slow beside the window's thread.

use iced::Task;

use super::message::Message;

/// Does something slow on a thread of its own.
pub(super) fn aside<T: Send + 'static>(
    job: impl FnOnce() -> Result<T, String> + Send + 'static,
    done: impl Fn(Result<T, String>) -> Message + Send + 'static,
) -> Task<Message> {
    Task::perform(tokio::task::spawn_blocking(job), move |it| {
        done(it.unwrap_or_else(|error| Err(error.to_string())))
    })
}
