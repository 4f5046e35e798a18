//! How it stands with the marks file.

/// How it stands with the file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Disk {
    /// It is written when there is something to write.
    #[default]
    Ready,
    /// It is being written.
    Writing,
    /// It could not be written; a person is told and decides.
    Refused,
}
