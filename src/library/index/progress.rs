//! How far a scan is, and who is told.

use std::ops::ControlFlow;

/// How far a scan is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScanProgress {
    /// Looking at clips: so many of so many.
    Clips(usize, usize),
    /// Reading marks files.
    Marks(usize, usize),
    /// Reading whole clips to know them by their content: so many bytes of so many.
    Hashing(u64, u64),
}

/// Who is told how far it is, and may stop it.
pub(crate) type Told<'a> = &'a mut dyn FnMut(ScanProgress) -> ControlFlow<()>;
