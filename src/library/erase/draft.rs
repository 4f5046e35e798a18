//! A plan that is being drawn up.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
};

use super::{
    belongings::Belongings,
    names::as_text,
    plan::{ErasePlan, ErasedContent, Unreached},
    seek::Sighted,
    shown::ShownOn,
    step::{EraseStep, Going},
    wish::Places,
};
use crate::library::quick_id::quick_id;

/// What is known so far, and what was seen that it is drawn from.
pub(super) struct Draft<'a> {
    pub(super) places: Places<'a>,
    pub(super) sighted: &'a Sighted,
    pub(super) belongings: &'a Belongings,
    pub(super) shown: &'a BTreeMap<String, ShownOn>,
    pub(super) plan: ErasePlan,
    /// What goes, by place: what it is, and its quick id.
    pub(super) unlink: BTreeMap<PathBuf, (Going, String)>,
    pub(super) steps: BTreeSet<EraseStep>,
}

impl Draft<'_> {
    /// Returns whether no other copy of the content stays.
    pub(super) fn is_last(&self) -> bool {
        self.plan.stays.is_empty()
    }

    /// Lets a file go that is there, and where it leads if it is a link.
    pub(super) fn goes_as_it_is(&mut self, what: Going, path: &Path) {
        let Ok(facts) = fs::symlink_metadata(path) else { return };
        let id = quick_id(path).unwrap_or_default();
        if facts.is_symlink()
            && let Ok(target) = path.canonicalize()
        {
            self.goes(what, &target, &id);
        }
        self.goes(what, path, &id);
    }

    /// Lets a file go.
    pub(super) fn goes(&mut self, what: Going, path: &Path, id: &str) {
        if self.can_name(path) {
            self.unlink.entry(path.to_owned()).or_insert_with(|| (what, id.to_owned()));
        }
    }

    /// Returns whether the log can name a file; one that it cannot is named as out of reach.
    pub(super) fn can_name(&mut self, path: &Path) -> bool {
        let is_text = path.to_str().is_some();
        if !is_text {
            self.plan.unreached.push(Unreached {
                path: as_text(path),
                why: "its name is not text".to_owned(),
                remedy: "rename it; the next command of the library sees to it".to_owned(),
                tries_again: true,
            });
        }
        is_text
    }

    /// Returns the plan, its steps in order.
    pub(super) fn finish(mut self) -> ErasePlan {
        let files = self.unlink.into_iter().map(|(path, (what, quick_id))| EraseStep::Unlink {
            what,
            path,
            quick_id,
        });
        let mut steps: Vec<EraseStep> = self.steps.into_iter().chain(files).collect();
        steps.sort_by(|a, b| (a.order(), a).cmp(&(b.order(), b)));
        self.plan.steps = steps;
        self.plan
    }
}

/// Takes a content in, once.
pub(super) fn insert(list: &mut Vec<ErasedContent>, content: ErasedContent) {
    // What is known by its marks alone gives way to what was read.
    list.retain(|known| known.quick_id != content.quick_id || !known.hash.is_empty());
    if !list.iter().any(|known| {
        known.quick_id == content.quick_id
            && (content.hash.is_empty() || known.hash == content.hash)
    }) {
        list.push(content);
    }
}
