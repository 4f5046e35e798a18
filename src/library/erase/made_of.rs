//! What was made and written of contents that go, and of her.

use std::{
    collections::BTreeSet,
    path::{Path, PathBuf},
};

use super::{
    belongings::{journals, skills_of},
    draft::{Draft, insert},
    names::{clip_of_marks, clip_of_record},
    plan::{ErasedContent, Unreached},
    shown::{content_of, copies_of},
    step::{EraseStep, Going},
};
use crate::library::{
    consent::code::Code,
    home::ledger::{FileKind, Made},
    index::thumbs::thumb_path,
};
use crate::store::read_file;

impl Draft<'_> {
    /// Takes in marks and records, small pictures, and an athlete's own list.
    pub(super) fn marks_and_records(&mut self) {
        let keeps_marks = self.plan.wish.keeps_marks();
        let code = self.plan.wish.code().cloned();
        for marks in &self.sighted.marks {
            let beside = clip_of_marks(&marks.path).is_some_and(|it| self.unlink.contains_key(&it));
            let is_of_it = match &marks.quick_id {
                Some(id) => self.plan.erases(id) && (beside || self.is_last()),
                None => beside,
            };
            let hers = code.as_ref().is_some_and(|code| code.is(&marks.athlete));
            if hers || (is_of_it && !keeps_marks) {
                self.goes_as_it_is(Going::Marks, &marks.path);
                // What a sync client laid beside them, under whatever name.
                for version in crate::marks::copies_of(&marks.path) {
                    self.goes_as_it_is(Going::Marks, &version);
                }
            }
        }
        // What cannot be read tells by its place alone where it belongs.
        for path in &self.sighted.unreadable {
            let beside =
                |clip: Option<PathBuf>| clip.is_some_and(|it| self.unlink.contains_key(&it));
            if beside(clip_of_record(path)) {
                self.goes_as_it_is(Going::Record, path);
            } else if beside(clip_of_marks(path)) && !keeps_marks {
                self.goes_as_it_is(Going::Marks, path);
            } else if code.as_ref().is_some_and(|code| is_in_file(code, path)) {
                self.plan.unreached.push(Unreached {
                    path: path.clone(),
                    why: "it cannot be read, and names her".to_owned(),
                    remedy: "look at it and at its clip; if she is on it, delete both".to_owned(),
                    tries_again: true,
                });
            }
        }
        for record in &self.sighted.records {
            let beside = self.unlink.contains_key(&record.clip);
            let of_it = record.quick_id.as_ref().is_some_and(|id| self.plan.erases(id));
            if beside || (of_it && self.is_last() && !record.clip.exists()) {
                self.goes_as_it_is(Going::Record, &record.path);
            }
        }
        if let Some(code) = &code {
            for path in skills_of(code, self.sighted) {
                self.goes_as_it_is(Going::Record, &path);
            }
        }
        let ended = if self.is_last() { &self.plan.contents[..] } else { &[] };
        let small = ended.iter().chain(&self.plan.closed);
        let small: Vec<PathBuf> =
            small.map(|content| thumb_path(self.places.home, &content.quick_id)).collect();
        let proofs = ended.iter().filter(|content| !content.hash.is_empty());
        let proofs = proofs.filter_map(|it| Some(self.places.state?.proof_of(&it.hash)));
        let proofs: Vec<PathBuf> = proofs.collect();
        for path in small {
            self.goes_as_it_is(Going::Picture, &path);
        }
        for path in proofs {
            self.goes_as_it_is(Going::Proof, &path);
        }
    }

    /// Takes in what was made of it, wherever it was written.
    pub(super) fn made(&mut self) {
        let made: Vec<&Made> = self.belongings.made.iter().filter(|it| self.tells(it)).collect();
        for made in made {
            let what = match made.kind {
                FileKind::Picture => Going::Picture,
                FileKind::Clip | FileKind::Set => continue,
                _ => Going::Page,
            };
            self.goes_as_it_is(what, &made.path);
        }
    }

    /// Returns whether something that was made is of what goes.
    pub(super) fn tells(&self, made: &Made) -> bool {
        let shows_closed = made.kind == FileKind::Picture
            && self.plan.closed.iter().any(|content| content.quick_id == made.clip);
        self.plan.wish.code().is_some_and(|code| code.is(&made.athlete))
            || (self.is_last() && self.plan.erases(&made.clip))
            || shows_closed
    }

    /// Takes in copies of pages, marks and records, wherever they lie in the folders.
    pub(super) fn written(&mut self) {
        if !self.is_last() {
            return;
        }
        let is_written = |what: Going| {
            matches!(what, Going::Page | Going::Marks | Going::Record | Going::Picture)
        };
        let paths = self.unlink.iter().filter(|(_, (what, _))| is_written(*what));
        let found: Vec<ErasedContent> = paths.filter_map(|(path, _)| content_of(path)).collect();
        for content in found {
            insert(&mut self.plan.written, content);
        }
        // Two tables may say the same of two athletes: what is known to be of others alone stays.
        let tells: BTreeSet<&Path> =
            self.belongings.made.iter().filter(|it| self.tells(it)).map(|it| &*it.path).collect();
        let of_others: BTreeSet<&Path> = self
            .belongings
            .made
            .iter()
            .map(|it| &*it.path)
            .filter(|it| !tells.contains(it))
            .collect();
        let copies: Vec<PathBuf> = copies_of(self.sighted, &self.plan.written)
            .map(|(sight, _)| sight.path.clone())
            .filter(|path| !of_others.contains(path.as_path()))
            .collect();
        for path in copies {
            self.goes_as_it_is(Going::Page, &path);
        }
    }

    /// Takes in undo histories: those of marks that go, and those that name her.
    pub(super) fn histories(&mut self) {
        let Some(state) = self.places.state else { return };
        let code = self.plan.wish.code();
        let going = self.unlink.iter().filter(|(_, (what, _))| *what == Going::Marks);
        let stem = |path: &Path| path.file_stem().unwrap_or_default().to_owned();
        let of_going: BTreeSet<_> = going.map(|(path, _)| stem(&state.journal_of(path))).collect();
        let mut gone = Vec::new();
        for journal in journals(state) {
            let named = || read_file(&journal).is_ok_and(|it| code.is_some_and(|c| c.is_in(&it)));
            if of_going.contains(&stem(&journal)) {
                gone.push(journal);
            } else if named() {
                let is_its = |path: &&PathBuf| state.journal_of(path) == journal;
                let marks = self.sighted.marks.iter().map(|marks| &marks.path).find(is_its);
                let marks = marks.cloned();
                self.steps.insert(EraseStep::ForgetHistory { marks, journal });
            }
        }
        for journal in gone {
            self.goes_as_it_is(Going::History, &journal);
        }
    }
}

fn is_in_file(code: &Code, path: &Path) -> bool {
    read_file(path).is_ok_and(|bytes| code.is_in(&bytes))
}
