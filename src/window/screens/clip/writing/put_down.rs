//! What was put down last, and the score before it.

/// What was put down last.
#[derive(Debug)]
pub(crate) struct PutDown {
    /// What it is, in words.
    pub(super) what: String,
    /// The score before it.
    pub(super) before: Option<String>,
}
