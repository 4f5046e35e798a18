use std::fmt;

/// What became of a file since it was opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SourceState {
    /// Nothing.
    Same,
    /// It was written to.
    Changed,
    /// It lost bytes at its end.
    Shorter,
    /// No file has its name any more.
    Gone,
}

impl fmt::Display for SourceState {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Same => "is the same",
            Self::Changed => "was changed",
            Self::Shorter => "was cut",
            Self::Gone => "went away",
        })
    }
}
