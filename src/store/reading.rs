//! Whether files may be read on this thread: never on the window's.

use std::{cell::Cell, marker::PhantomData, path::Path};

thread_local! {
    static REFUSED: Cell<bool> = const { Cell::new(false) };
}

/// As long as it is held, no file may be read on this thread.
#[derive(Debug)]
#[must_use]
pub struct NoReading {
    before: bool,
    /// It is about one thread and stays there.
    here: PhantomData<*const ()>,
}

impl NoReading {
    /// Begins.
    pub fn begin() -> Self {
        Self { before: REFUSED.replace(true), here: PhantomData }
    }
}

impl Drop for NoReading {
    fn drop(&mut self) {
        REFUSED.set(self.before);
    }
}

/// Every door through which a file is read passes here first; in a debug build a read that would
/// hold up the window ends the test that drives it.
pub fn about_to_read(path: &Path) {
    debug_assert!(!REFUSED.get(), "{} is read on the window's thread", path.display());
}
