//! What a person has to look at, because no plan can tell.

use std::{collections::BTreeMap, fs, path::Path};

use super::{
    draft::Draft,
    names::{as_text, clip_of_marks},
    plan::Unreached,
};
use crate::library::quick_id::quick_id;

impl Draft<'_> {
    /// Names clips beside her marks whose content is another one by now.
    pub(super) fn say_what_is_doubtful(&mut self) {
        let Some(code) = self.plan.wish.code().cloned() else { return };
        for marks in self.sighted.marks.iter().filter(|marks| code.is(&marks.athlete)) {
            let Some(id) = &marks.quick_id else { continue };
            let is_there = self.shown.get(id).is_some_and(|it| it.copy.is_some());
            let Some(clip) = clip_of_marks(&marks.path).filter(|_| !is_there) else { continue };
            let Ok(now) = quick_id(&clip) else { continue };
            if !self.plan.ends_use_of(|content| content.quick_id == now) {
                self.plan.unreached.push(Unreached {
                    path: clip,
                    why: "it is another clip than the one that her marks beside it were made on"
                        .to_owned(),
                    remedy: "look whether she is on it; if she is, delete it".to_owned(),
                    tries_again: false,
                });
            }
        }
    }

    /// Names files that the system knows under further names, where nobody looked.
    #[cfg(unix)]
    pub(super) fn say_what_has_other_names(&mut self) {
        use std::os::unix::fs::MetadataExt as _;
        let mut seen: BTreeMap<(u64, u64), (u64, &Path, u64)> = BTreeMap::new();
        for path in self.unlink.keys() {
            let Ok(facts) = fs::symlink_metadata(path).map(|it| (it.dev(), it.ino(), it.nlink()))
            else {
                continue;
            };
            let (device, number, names) = facts;
            seen.entry((device, number)).or_insert((0, path, names)).0 += 1;
        }
        let hidden = seen.into_values().filter(|(found, _, names)| found < names);
        let named = hidden.map(|(_, path, _)| Unreached {
            path: as_text(path),
            why: "the same file has another name outside the library's folders".to_owned(),
            remedy: "look for it on the same disk, and delete it there".to_owned(),
            tries_again: false,
        });
        let named: Vec<Unreached> = named.collect();
        self.plan.unreached.extend(named);
    }

    #[cfg(not(unix))]
    pub(super) fn say_what_has_other_names(&mut self) {}
}
