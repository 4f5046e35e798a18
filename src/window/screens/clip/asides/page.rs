//! What of it is on screen.

/// What of it is on screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum AsidesPage {
    /// The list, one of it picked.
    List(usize),
    /// One of it beside the marks, a line of what differs picked.
    Shown {
        /// Its place in the list.
        place: usize,
        /// The line.
        line: usize,
    },
}
