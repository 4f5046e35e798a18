//! Which contents go, and every file that has one.

use std::{
    collections::BTreeSet,
    path::{Path, PathBuf},
};

use super::{
    draft::{Draft, insert},
    error::EraseError,
    names::{as_text, clip_of_marks},
    plan::{ErasedContent, Unreached},
    seek::Sight,
    shown::{ShownOn, content_of, copies_of},
    step::{EraseStep, Going},
    wish::{Copies, EraseWish, Excerpts, Shared},
};
use crate::{
    library::{home::ledger::FileKind, quick_id::quick_id},
    store::is_being_made,
};

impl Draft<'_> {
    /// Chooses the contents that go, and those that stay closed.
    pub(super) fn choose(&mut self) -> Result<(), EraseError> {
        match self.plan.wish.clone() {
            EraseWish::BroughtBack => {}
            // What lies there by now may be another clip than the one that was meant.
            EraseWish::Clip { .. } if !self.plan.contents.is_empty() => {}
            EraseWish::Clip { path, .. } => {
                let unreadable = |source| EraseError::NoClip { path: path.clone(), source };
                let id = quick_id(&path).map_err(unreadable)?;
                let empty = || ErasedContent { length: 0, quick_id: id, hash: String::new() };
                insert(&mut self.plan.contents, content_of(&path).unwrap_or_else(empty));
            }
            EraseWish::Athlete { code, shared } => {
                let hers = code.as_str().to_lowercase();
                for (id, on_it) in self.shown.iter().filter(|(_, it)| it.athletes.contains(&hers)) {
                    let goes = on_it.athletes.len() == 1 || shared == Shared::Delete;
                    let list = if goes { &mut self.plan.contents } else { &mut self.plan.closed };
                    insert(list, known_as(id, on_it));
                }
                self.say_what_is_doubtful();
            }
        }
        Ok(())
    }

    /// Takes in what was cut from contents that go, and what was cut from that.
    pub(super) fn excerpts(&mut self) {
        if let EraseWish::Clip { path, copies, excerpts, .. } = self.plan.wish.clone() {
            let same: BTreeSet<&Path> =
                self.sighted.same_file(&path).map(|sight| sight.path.as_path()).collect();
            let others = copies_of(self.sighted, &self.plan.contents).map(|(sight, _)| sight);
            let others = others.filter(|sight| !same.contains(sight.path.as_path()));
            let stays: Vec<PathBuf> = others.map(|sight| as_text(&sight.path)).collect();
            if copies == Copies::Keep {
                self.plan.stays = stays;
            }
            if excerpts == Excerpts::Keep || !self.is_last() {
                return;
            }
        }
        loop {
            let before = self.plan.contents.len();
            let from = |hash: &str| {
                self.plan.contents.iter().any(|it| !hash.is_empty() && it.hash == hash)
            };
            let records = self.sighted.records.iter();
            let cut = records.filter(|it| it.taken_from.as_deref().is_some_and(from));
            let elsewhere = self
                .belongings
                .made
                .iter()
                .filter(|made| made.kind == FileKind::Clip && self.plan.erases(&made.clip))
                .filter(|made| self.is_still_cut(&made.path, &from));
            let paths = cut.map(|it| &it.clip).chain(elsewhere.map(|made| &made.path));
            let found: Vec<ErasedContent> = paths.filter_map(|path| content_of(path)).collect();
            for content in found {
                insert(&mut self.plan.contents, content);
            }
            if self.plan.contents.len() == before {
                return;
            }
        }
    }

    /// Returns whether a clip that was once cut out is one still: its record would say that it was
    /// not cut from this.
    fn is_still_cut(&self, clip: &Path, from: &dyn Fn(&str) -> bool) -> bool {
        let mut records = self.sighted.records.iter().filter(|it| it.clip == clip);
        records.all(|it| it.taken_from.as_deref().is_some_and(from))
    }

    /// Takes in the files that have a content that goes, the links to them and where those lead.
    pub(super) fn clips(&mut self) {
        let named: Option<BTreeSet<PathBuf>> = match &self.plan.wish {
            EraseWish::Clip { path, .. } if !self.is_last() => {
                Some(self.sighted.same_file(path).map(|sight| sight.path.clone()).collect())
            }
            _ => None,
        };
        let copies = copies_of(self.sighted, &self.plan.contents).map(|(sight, _)| sight);
        let sights: Vec<Sight> = copies
            .filter(|sight| named.as_ref().is_none_or(|named| named.contains(&sight.path)))
            .cloned()
            .collect();
        if let EraseWish::Clip { path, .. } = self.plan.wish.clone()
            && self.plan.contents.iter().all(|content| content.length == 0)
        {
            // An empty file has no copies.
            self.goes_as_it_is(Going::Clip, &path);
        }
        for sight in sights {
            let id = quick_id(&sight.path).unwrap_or_default();
            if let Some(target) = &sight.target {
                self.goes(Going::Clip, target, &id);
            }
            self.goes(Going::Clip, &sight.path, &id);
        }
        let closed: Vec<PathBuf> = copies_of(self.sighted, &self.plan.closed)
            .map(|(sight, _)| sight.path.clone())
            .collect();
        for clip in closed {
            if !self.can_name(&clip) {
                continue;
            }
            self.plan.closed_clips.push(clip.clone());
            self.close(clip);
        }
        self.say_what_has_other_names();
        let unfinished = self.sighted.files.iter().filter(|sight| sight.is_temporary);
        let unfinished: BTreeSet<PathBuf> = unfinished
            .map(|sight| sight.path.clone())
            .chain(self.belongings.unfinished())
            .collect();
        for path in unfinished {
            self.unfinished(&path);
        }
    }

    /// Lets go what a program left half made. What one is still at work on stays until it is done.
    fn unfinished(&mut self, path: &Path) {
        if !is_being_made(path, &self.places.home.notes()) {
            return self.goes(Going::Unfinished, path, "");
        }
        self.plan.unreached.push(Unreached {
            path: as_text(path),
            why: "another program is writing it just now".to_owned(),
            remedy: "when that is done, the next command of the library looks again".to_owned(),
            tries_again: true,
        });
    }

    fn close(&mut self, clip: PathBuf) {
        let Some(code) = self.plan.wish.code() else { return };
        let beside = |path: &Path| clip_of_marks(path).is_some_and(|of| of == clip);
        let hers = self.sighted.marks.iter().filter(|marks| code.is(&marks.athlete));
        let routines: BTreeSet<String> =
            hers.filter(|it| beside(&it.path)).map(|it| it.routine.clone()).collect();
        let records: Vec<_> = self.sighted.records.iter().filter(|it| it.clip == clip).collect();
        let is_done = !records.is_empty()
            && records
                .iter()
                .all(|it| it.somebody_withdrew && !it.athletes.iter().any(|other| code.is(other)));
        if !is_done {
            let routines = routines.into_iter().collect();
            self.steps.insert(EraseStep::Close { clip, routines });
        }
    }
}

/// Returns the content of a clip; by its quick id alone where no copy is there.
fn known_as(id: &str, on_it: &ShownOn) -> ErasedContent {
    let read = on_it.copy.as_ref().and_then(|sight| content_of(&sight.path));
    let by_id = || ErasedContent { length: 0, quick_id: id.to_owned(), hash: String::new() };
    read.unwrap_or_else(by_id)
}
