//! Drawing up a plan: from a fresh look through the folders, and from what the library's lists and
//! index tell of files elsewhere.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
};

use super::{
    belongings::{Belongings, is_indexed, journals, skills_of},
    error::EraseError,
    plan::{ErasePlan, EraseStep, ErasedContent, ErasedFrom, Going, Unreached},
    seek::{Sight, Sighted, clip_of_marks},
    set_looks::{SetLeft, without},
    shown::{ShownOn, content_of, copies_of, shown_on},
    tombstone::{not_told, own_folder, random},
    wish::{Copies, EraseWish, Excerpts, Places, Shared, Witnessed},
};
use crate::library::{
    home::{
        day::today,
        ledger::{FileKind, HandedOut, Made},
    },
    index::thumbs::thumb_path,
    quick_id::quick_id,
};

/// Returns what erasing will do. `earlier` is what a plan for the same knew before, when the files
/// that told it were still there.
pub(crate) fn draw_up(
    places: Places<'_>,
    wish: &EraseWish,
    witnessed: &Witnessed,
    earlier: Option<&ErasePlan>,
) -> Result<ErasePlan, EraseError> {
    let belongings = Belongings::read(places)?;
    let mut sighted = look(places, wish);
    // Excerpts may lie anywhere; the list of what was made tells where.
    for made in belongings.made.iter().filter(|made| made.kind == FileKind::Clip) {
        sighted.beside(&made.path, places.state);
    }
    if let EraseWish::Clip { path, .. } = wish {
        sighted.beside(path, places.state);
    }
    let shown = shown_on(&sighted, places.index)?;
    let mut draft = Draft {
        places,
        sighted: &sighted,
        belongings: &belongings,
        shown: &shown,
        plan: ErasePlan {
            id: earlier.map_or_else(|| random()[..16].to_owned(), |plan| plan.id.clone()),
            wish: wish.clone(),
            witnessed: witnessed.clone(),
            on: earlier.map_or_else(today, |plan| plan.on),
            contents: earlier.map(|plan| plan.contents.clone()).unwrap_or_default(),
            closed: earlier.map(|plan| plan.closed.clone()).unwrap_or_default(),
            closed_clips: Vec::new(),
            written: earlier.map(|plan| plan.written.clone()).unwrap_or_default(),
            steps: Vec::new(),
            stays: Vec::new(),
            handed_out: earlier.map(|plan| plan.handed_out.clone()).unwrap_or_default(),
            unreached: sighted.unseen.clone(),
        },
        unlink: BTreeMap::new(),
        steps: BTreeSet::new(),
    };
    draft.choose()?;
    draft.excerpts();
    draft.clips();
    draft.marks_and_records();
    draft.made();
    draft.handed_out();
    draft.sets();
    draft.written();
    draft.histories();
    draft.lists()?;
    Ok(draft.finish())
}

/// Looks through the library's folders, and through marks that are kept for clips elsewhere.
fn look(places: Places<'_>, wish: &EraseWish) -> Sighted {
    let mut sighted = Sighted::default();
    for folder in &places.shelf.folders {
        if folder.is_dir() {
            sighted.below(folder, places.state);
        } else {
            sighted.unseen.push(Unreached {
                path: folder.clone(),
                why: "the folder is not there".to_owned(),
                remedy: "plug the disk in; the next command of the library looks through it"
                    .to_owned(),
                tries_again: true,
            });
        }
    }
    if let Some(marks) = places.state.map(|state| state.path().join("marks"))
        && marks.is_dir()
    {
        sighted.below(&marks, places.state);
    }
    if !matches!(wish, EraseWish::Athlete { .. }) {
        for unseen in &mut sighted.unseen {
            unseen.tries_again = false;
        }
    }
    sighted
}

struct Draft<'a> {
    places: Places<'a>,
    sighted: &'a Sighted,
    belongings: &'a Belongings,
    shown: &'a BTreeMap<String, ShownOn>,
    plan: ErasePlan,
    /// What goes, by place: what it is, and its quick id.
    unlink: BTreeMap<PathBuf, (Going, String)>,
    steps: BTreeSet<EraseStep>,
}

impl Draft<'_> {
    /// Chooses the contents that go, and those that stay closed.
    fn choose(&mut self) -> Result<(), EraseError> {
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

    /// Names clips beside her marks whose content is another one by now.
    fn say_what_is_doubtful(&mut self) {
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

    /// Returns whether no other copy of the content stays.
    fn is_last(&self) -> bool {
        self.plan.stays.is_empty()
    }

    /// Takes in what was cut from contents that go, and what was cut from that.
    fn excerpts(&mut self) {
        if let EraseWish::Clip { path, copies, excerpts, .. } = self.plan.wish.clone() {
            let same: BTreeSet<&Path> =
                self.sighted.same_file(&path).map(|sight| sight.path.as_path()).collect();
            let others = copies_of(self.sighted, &self.plan.contents).map(|(sight, _)| sight);
            let others = others.filter(|sight| !same.contains(sight.path.as_path()));
            let stays: Vec<PathBuf> = others.map(|sight| sight.path.clone()).collect();
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
                .filter(|made| made.kind == FileKind::Clip && self.plan.erases(&made.clip));
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

    /// Takes in the files that have a content that goes, the links to them and where those lead.
    fn clips(&mut self) {
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
            self.plan.closed_clips.push(clip.clone());
            self.close(clip);
        }
        for sight in self.sighted.files.iter().filter(|sight| sight.is_temporary) {
            self.goes(Going::Unfinished, &sight.path, "");
        }
        for path in self.belongings.unfinished() {
            self.goes(Going::Unfinished, &path, "");
        }
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

    /// Takes in marks and records, small pictures, and an athlete's own list.
    fn marks_and_records(&mut self) {
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
        for path in small {
            self.goes_as_it_is(Going::Picture, &path);
        }
    }

    /// Takes in what was made of it, wherever it was written.
    fn made(&mut self) {
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
    fn tells(&self, made: &Made) -> bool {
        let shows_closed = made.kind == FileKind::Picture
            && self.plan.closed.iter().any(|content| content.quick_id == made.clip);
        self.plan.wish.code().is_some_and(|code| code.is(&made.athlete))
            || (self.is_last() && self.plan.erases(&made.clip))
            || shows_closed
    }

    /// Takes in bundles that were handed out and still lie where they were made, or elsewhere in
    /// the folders.
    fn handed_out(&mut self) {
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
    fn sets(&mut self) {
        if !self.is_last() {
            return;
        }
        let made = self.belongings.made.iter().filter(|made| made.kind == FileKind::Set);
        let files = self.sighted.files.iter().map(|sight| &sight.path);
        let written = files.filter(|path| path.extension().is_some_and(|it| it == "toml"));
        let sets: BTreeSet<&PathBuf> = made.map(|made| &made.path).chain(written).collect();
        for set in sets {
            let Ok(text) = fs::read_to_string(set) else { continue };
            if without(&text, |clip, hash| {
                look_goes(&self.plan, &|it| self.unlink.contains_key(it), set, (clip, hash))
            }) != SetLeft::Whole
            {
                self.steps.insert(EraseStep::TakeOutOfSet { set: set.clone() });
            }
        }
    }

    /// Takes in copies of pages, marks and records, wherever they lie in the folders.
    fn written(&mut self) {
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
        let copies: Vec<PathBuf> = copies_of(self.sighted, &self.plan.written)
            .map(|(sight, _)| sight.path.clone())
            .collect();
        for path in copies {
            self.goes_as_it_is(Going::Page, &path);
        }
    }

    /// Takes in undo histories: those of marks that go, and those that name her.
    fn histories(&mut self) {
        let Some(state) = self.places.state else { return };
        let code = self.plan.wish.code();
        let going = self.unlink.iter().filter(|(_, (what, _))| *what == Going::Marks);
        let stem = |path: &Path| path.file_stem().unwrap_or_default().to_owned();
        let of_going: BTreeSet<_> = going.map(|(path, _)| stem(&state.journal_of(path))).collect();
        let mut gone = Vec::new();
        for journal in journals(state) {
            let named = || fs::read(&journal).is_ok_and(|it| code.is_some_and(|c| c.is_in(&it)));
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

    /// Takes it out of the library's own lists, and leaves word of it.
    fn lists(&mut self) -> Result<(), EraseError> {
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
        if is_indexed(self.places.index, code.as_ref(), self.unlink.keys())? {
            self.steps.insert(EraseStep::Forget(ErasedFrom::Index));
        }
        let is_found = |(what, _): &(Going, String)| *what != Going::Unfinished;
        let is_known = !self.steps.is_empty() || self.unlink.values().any(is_found);
        if code.is_some() && !is_known {
            // What lies there unfinished is no sign of her.
            self.unlink.clear();
        }
        let is_known = code.is_some() && is_known;
        let folders = self.places.shelf.folders.iter().filter(|folder| folder.is_dir()).cloned();
        for folder in folders.chain([own_folder(self.places.home)]).filter(|_| is_known) {
            self.steps.extend(not_told(&folder, &self.plan).map(|file| EraseStep::Tell { file }));
        }
        Ok(())
    }

    fn finish(mut self) -> ErasePlan {
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

    /// Lets a file go that is there, and where it leads if it is a link.
    fn goes_as_it_is(&mut self, what: Going, path: &Path) {
        let Ok(facts) = fs::symlink_metadata(path) else { return };
        let id = quick_id(path).unwrap_or_default();
        if facts.is_symlink()
            && let Ok(target) = path.canonicalize()
        {
            self.goes(what, &target, &id);
        }
        self.goes(what, path, &id);
    }

    fn goes(&mut self, what: Going, path: &Path, id: &str) {
        self.unlink.entry(path.to_owned()).or_insert_with(|| (what, id.to_owned()));
    }
}

/// Returns whether a look of a set is at a clip that goes or is closed.
pub(crate) fn look_goes(
    plan: &ErasePlan,
    is_gone: &dyn Fn(&Path) -> bool,
    set: &Path,
    (clip, hash): (&str, &str),
) -> bool {
    let by_content = !hash.is_empty() && plan.ends_use_of(|content| content.hash == hash);
    by_content || is_gone(&set.with_file_name("").join(clip))
}

fn insert(list: &mut Vec<ErasedContent>, content: ErasedContent) {
    // What is known by its marks alone gives way to what was read.
    list.retain(|known| known.quick_id != content.quick_id || !known.hash.is_empty());
    if !list.iter().any(|known| {
        known.quick_id == content.quick_id
            && (content.hash.is_empty() || known.hash == content.hash)
    }) {
        list.push(content);
    }
}

/// Returns the content of a clip; by its quick id alone where no copy is there.
fn known_as(id: &str, on_it: &ShownOn) -> ErasedContent {
    let read = on_it.copy.as_ref().and_then(|sight| content_of(&sight.path));
    let by_id = || ErasedContent { length: 0, quick_id: id.to_owned(), hash: String::new() };
    read.unwrap_or_else(by_id)
}
