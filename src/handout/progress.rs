//! How far it is.

use std::ops::ControlFlow;

use super::error::HandoutError;

/// How much of the work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Pictures that are made.
    pub done: usize,
    /// Pictures to be made in all.
    pub of: usize,
}

/// Hears how far it is, and says whether to go on.
pub(super) type Told<'a> = &'a mut dyn FnMut(Progress) -> ControlFlow<()>;

/// Tells how far it is; an error where it is to stop.
pub(super) fn tell(told: Told<'_>, done: usize, of: usize) -> Result<(), HandoutError> {
    match told(Progress { done, of }) {
        ControlFlow::Continue(()) => Ok(()),
        ControlFlow::Break(()) => Err(HandoutError::Stopped),
    }
}
