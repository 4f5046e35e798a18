//! Lists that name what goes: sets, bundles, the library's own; and word for other computers.

use std::{
    collections::BTreeSet,
    path::{Path, PathBuf},
};

use super::{
    belongings::is_indexed,
    draft::Draft,
    error::EraseError,
    recent::remembers,
    set_looks::{SetLeft, without},
    shown::content_of,
    step::{EraseStep, ErasedFrom, Going},
    tombstone::not_told,
    wish::EraseWish,
    withdrawn::own_folder,
};
use crate::{
    library::home::ledger::{FileKind, HandedOut},
    store::read_text,
};

impl Draft<'_> {
    /// Takes in bundles that were handed out and still lie where they were made, or elsewhere in
    /// the folders.
    pub(super) fn handed_out(&mut self) {
        let concerned: Vec<&HandedOut> =
            self.belongings.handed_out.iter().filter(|it| self.holds(it)).collect();
        for bundle in &concerned {
            if !self.plan.handed_out.iter().any(|it| it.hash == bundle.hash) {
                self.plan.handed_out.push((*bundle).clone());
            }
        }
        let zips = self.sighted.files.iter().map(|sight| &sight.path);
        let zips = zips.filter(|path| path.extension().is_some_and(|it| it == "zip"));
        let listed = self.plan.handed_out.iter().map(|bundle| &bundle.path);
        let hashes: BTreeSet<&str> =
            self.plan.handed_out.iter().map(|bundle| bundle.hash.as_str()).collect();
        if hashes.is_empty() {
            return;
        }
        let found: BTreeSet<PathBuf> = zips
            .chain(listed)
            .filter(|path| content_of(path).is_some_and(|it| hashes.contains(it.hash.as_str())))
            .cloned()
            .collect();
        for path in found {
            self.goes_as_it_is(Going::Bundle, &path);
        }
    }

    fn holds(&self, bundle: &HandedOut) -> bool {
        let hers = |code: &String| self.plan.wish.code().is_some_and(|hers| hers.is(code));
        let goes = |id: &String| match &self.plan.wish {
            EraseWish::Clip { .. } => {
                (bundle.pictures || !self.plan.wish.keeps_marks())
                    && self.is_last()
                    && self.plan.erases(id)
            }
            _ => self.plan.ends_use_of(|content| content.quick_id == *id),
        };
        bundle.athletes.iter().any(hers) || bundle.clips.iter().any(goes)
    }

    /// Takes looks out of sets: of those that the program made, and of those in the folders.
    pub(super) fn sets(&mut self) {
        if !self.is_last() {
            return;
        }
        let made = self.belongings.made.iter().filter(|made| made.kind == FileKind::Set);
        let files = self.sighted.files.iter().map(|sight| &sight.path);
        let written = files.filter(|path| path.extension().is_some_and(|it| it == "toml"));
        let sets: BTreeSet<&PathBuf> = made.map(|made| &made.path).chain(written).collect();
        let mut found = Vec::new();
        for set in sets {
            let Ok(text) = read_text(set) else { continue };
            if without(&text, |clip, hash| {
                self.plan.look_goes(&|it| self.unlink.contains_key(it), set, (clip, hash))
            }) != SetLeft::Whole
            {
                found.push(set.clone());
            }
        }
        for set in found {
            if self.can_name(&set) {
                self.steps.insert(EraseStep::TakeOutOfSet { set });
            }
        }
    }

    /// Takes it out of the library's own lists, and leaves word of it.
    pub(super) fn lists(&mut self) -> Result<(), EraseError> {
        let code = self.plan.wish.code().cloned();
        if self.belongings.made.iter().any(|made| self.tells(made)) {
            self.steps.insert(EraseStep::Forget(ErasedFrom::Made));
        }
        if let Some(code) = &code {
            if self.belongings.handed_out.iter().any(|it| it.athletes.iter().any(|it| code.is(it)))
            {
                self.steps.insert(EraseStep::Forget(ErasedFrom::HandedOut));
            }
            let is_named = |text: &String| code.is_in(text.as_bytes());
            if self.belongings.searches.iter().any(is_named) {
                self.steps.insert(EraseStep::Forget(ErasedFrom::Searches));
            }
        }
        let tells =
            |path: &str| self.unlink.contains_key(Path::new(path)) || self.plan.is_told_by(path);
        if self.places.state.is_some_and(|state| remembers(state, &tells)) {
            self.steps.insert(EraseStep::Forget(ErasedFrom::Recent));
        }
        if is_indexed(self.places.index, code.as_ref(), self.unlink.keys())? {
            self.steps.insert(EraseStep::Forget(ErasedFrom::Index));
        }
        let is_found = |(what, _): &(Going, String)| *what != Going::Unfinished;
        let is_known = !self.steps.is_empty() || self.unlink.values().any(is_found);
        if !is_known {
            // What lies there unfinished is no sign of anybody.
            self.unlink.clear();
        }
        let is_known = code.is_some() && is_known;
        let folders = self.places.shelf.folders.iter().filter(|folder| folder.is_dir()).cloned();
        for folder in folders.chain([own_folder(self.places.home)]).filter(|_| is_known) {
            self.steps.extend(not_told(&folder, &self.plan).map(|file| EraseStep::Tell { file }));
        }
        Ok(())
    }
}
