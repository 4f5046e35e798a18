//! What was set aside of the marks that are written.

use crate::marks::{Aside, AsideSearch, DeskError, Edit, KeptAside, Step};

use super::{Session, SessionError};

impl Session {
    /// Returns what was set aside, the oldest first.
    pub(crate) fn asides(&self) -> &[Aside] {
        self.open.as_ref().map_or(&[], |open| &open.asides)
    }

    /// Returns how much was set aside that holds something more and is not settled.
    pub(crate) fn open_asides(&self) -> usize {
        self.asides().iter().filter(|aside| aside.has_more()).count()
    }

    /// Returns, once, whether what is to be said tells of something in the list.
    pub(crate) fn take_tells_of_asides(&mut self) -> bool {
        self.open.as_mut().is_some_and(|open| std::mem::take(&mut open.tells_of_asides))
    }

    /// Returns, once, whether more may have been set aside since it was looked for.
    pub(crate) fn take_looks_again(&mut self) -> bool {
        self.open.as_mut().is_some_and(|open| std::mem::take(&mut open.looks_again))
    }

    /// Returns what it takes to look for it beside the thread of the window.
    pub(crate) fn aside_search(&self) -> Option<AsideSearch> {
        self.open.as_ref().map(|open| open.desk.aside_search())
    }

    /// Takes in what was found.
    pub(crate) fn take_kept(&mut self, kept: Vec<KeptAside>) {
        if let Some(open) = &mut self.open {
            open.kept = kept;
            open.hold_against();
        }
    }

    /// Takes one back, or of what differs in it this alone; returns whether there was anything to
    /// take.
    pub(crate) fn take_back(
        &mut self,
        place: usize,
        only: &[String],
    ) -> Result<bool, SessionError> {
        let edits = self.open.as_ref().and_then(|open| {
            let aside = open.asides.get(place)?;
            Some(open.desk.edits_of(aside, only))
        });
        let Some(edits) = edits.filter(|edits| !edits.is_empty()) else { return Ok(false) };
        self.take(Step::Do(Edit::Together(edits)))
    }

    /// Keeps the marks as they are, and counts one as settled.
    pub(crate) fn settle(&mut self, place: usize) -> Result<(), DeskError> {
        let Some(open) = &mut self.open else { return Ok(()) };
        if let Some(aside) = open.asides.get(place) {
            open.desk.settle(aside)?;
        }
        open.hold_against();
        Ok(())
    }
}
