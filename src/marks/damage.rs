//! What is wrong with a journal, as it is told.

use std::path::Path;

/// Why some or all lines of a journal do not count. All of it is kept in a file aside.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Damage {
    /// The last line has no end, or a wrong checksum.
    #[error("the last line of the journal was cut short, as a crash does; its step does not count")]
    TornEnd,
    /// A line before others has a wrong checksum.
    #[error(
        "line {line} of the journal is damaged; it and what follows it, {}, do not count",
        lines(*.after)
    )]
    Spoilt {
        /// Its number, from 1.
        line: usize,
        /// How many whole lines follow it.
        after: usize,
    },
    /// The numbers of the steps leap.
    #[error(
        "in the journal step {found} follows where step {expected} should; from there on {} do not \
         count", lines(*.after + 1)
    )]
    Gap {
        /// The number that should come.
        expected: u64,
        /// The number that came.
        found: u64,
        /// How many whole lines follow it.
        after: usize,
    },
    /// A whole line that this version does not understand.
    #[error(
        "line {line} of the journal is of another version of this program; it and what follows it, \
         {}, do not count. Open the marks with the version that wrote it", lines(*.after)
    )]
    Strange {
        /// Its number, from 1.
        line: usize,
        /// How many whole lines follow it.
        after: usize,
    },
    /// The journal belongs to other marks.
    #[error("the journal that was kept for this place is of other marks; none of it counts here")]
    OtherDocument,
}

impl Damage {
    /// Returns what is told of it: of which marks, and where everything is kept.
    pub(super) fn told(&self, marks: &Path, kept: &Path) -> String {
        sentence(marks, &format!("{self}. All of it is kept in {}", kept.display()))
    }
}

/// Returns a sentence about marks, which are named before it.
pub(super) fn sentence(marks: &Path, said: &str) -> String {
    format!("{}: {said}", marks.file_name().unwrap_or_default().to_string_lossy())
}

fn lines(count: usize) -> String {
    match count {
        1 => "1 line".to_owned(),
        _ => format!("{count} lines"),
    }
}
