//! Why the form could not be taken.

use crate::window::screens::clip::session::SessionError;

/// Why the form could not be taken.
pub(crate) enum Refusal {
    /// Something in it is missing or wrong, in words.
    Form(String),
    /// The marks could not be opened or written.
    Session(SessionError),
}

impl From<SessionError> for Refusal {
    fn from(error: SessionError) -> Self {
        Self::Session(error)
    }
}
