//! What is read when a routine changes under the marks: its book, and its athlete's list.

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use crate::{
    judged::{self, JudgedError, Judging, Ruled},
    marks::{Routine, StateFolder},
    sheet::Skills,
};

/// What is to be read.
pub(crate) struct ToRead {
    pub(super) routine: Routine,
    pub(super) marks: PathBuf,
    /// Whether the book is another.
    pub(super) book: bool,
    /// Whether the list is another.
    pub(super) list: bool,
}

/// What was read; nothing of what stays as it is.
pub(crate) struct FoundAnew {
    pub(super) routine: Routine,
    pub(super) ruled: Option<Ruled>,
    pub(super) list: Option<ListFound>,
}

/// The athlete's own list, and why it cannot be used.
pub(crate) type ListFound = (Option<Arc<Skills>>, Option<String>);

impl ToRead {
    /// Reads it. Slow: not for the thread of the window.
    pub(crate) fn read(self) -> Result<FoundAnew, JudgedError> {
        let Self { routine, marks, book, list } = self;
        let ruled = if book { Some(ruled(&routine, &marks)?) } else { None };
        let list = list.then(|| list_of(&routine, &marks));
        Ok(FoundAnew { routine, ruled, list })
    }
}

/// Returns the book that a routine is judged under, as every other part of the program finds it.
pub(crate) fn ruled(routine: &Routine, marks: &Path) -> Result<Ruled, JudgedError> {
    Judging::new(StateFolder::of_user().as_ref()).book(routine, marks)
}

/// Returns the list of the routine's athlete; one that cannot be read is told and not used.
pub(super) fn list_of(routine: &Routine, marks: &Path) -> ListFound {
    match judged::list_of(routine, marks) {
        Ok(list) => (list.map(Arc::new), None),
        Err(error) => (None, Some(error.to_string())),
    }
}
