//! A reference put together: what one judge marked, and in the place of what differs what another did.

use std::{
    collections::{BTreeMap, BTreeSet},
    path::PathBuf,
};

use crate::{
    judged::{Judged, Judging},
    marks::{self, Call, Desk, Edit, Id, Mark, Reading, Sheaf, StateFolder, Step, What},
    sheet::{self, ScoreSheet},
};

use super::{
    agree::{Beside, Evidence, answers_to},
    reference::{Judges, ReferenceError},
};

/// The code under which a reference is kept that was put together of several judges' marks.
pub const REFERENCE: &str = "REF-1";

/// A reference that is being put together.
#[derive(Clone, Debug)]
pub struct Draft {
    /// The marks.
    sheaf: Sheaf,
    sheet: ScoreSheet,
    /// Its answers to the judges' questions, in their order.
    pub answers: Vec<Option<String>>,
    /// What each answer stands on.
    on: Vec<Evidence>,
    /// The judge with whose marks it began, by place.
    pub begun: usize,
    /// Whose answers were taken, by the places of question and judge.
    pub taken: BTreeMap<usize, usize>,
}

/// Why an answer could not be taken over.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotSettled {
    /// No mark of its own brings it about.
    #[error("this follows from other answers; settle those")]
    Follows,
    /// The marks alone do not make it come out so.
    #[error(
        "with what {judge} marked in its place it comes out as \"{found}\" and not as \"{wanted}\"; \
         settle what differs beside it first, or mark it anew"
    )]
    Otherwise {
        /// Whose answer was to be taken.
        judge: String,
        /// As it came out.
        found: String,
        /// As it was to come out.
        wanted: String,
    },
}

impl Judges {
    /// Begins with what one of them marked.
    pub fn draft(&self, place: usize) -> Option<Draft> {
        let sheaf = self.judged.get(place)?.marked.sheaf.clone();
        Some(self.scored(sheaf, place, BTreeMap::new()))
    }

    /// Takes over what a judge marked where a question comes out otherwise for him or her.
    pub fn settle(&self, draft: &Draft, row: usize, place: usize) -> Result<Draft, NotSettled> {
        let (Some(asked), Some(theirs)) = (self.rows.get(row), self.judged.get(place)) else {
            return Err(NotSettled::Follows);
        };
        let mut done = draft.clone();
        if draft.answers[row] != asked.answers[place] {
            let (own, on) = (&draft.on[row], &asked.evidence[place]);
            if own.marks.is_empty() && on.marks.is_empty() {
                return Err(NotSettled::Follows);
            }
            let sheaf = swapped((&draft.sheaf, &draft.sheet), own, theirs, on);
            done = self.scored(sheaf, draft.begun, draft.taken.clone());
            if done.answers[row] != asked.answers[place] {
                let said = |answer: &Option<String>| answer.as_deref().unwrap_or("–").to_owned();
                return Err(NotSettled::Otherwise {
                    judge: self.codes[place].clone(),
                    found: said(&done.answers[row]),
                    wanted: said(&asked.answers[place]),
                });
            }
        }
        done.taken.insert(row, place);
        // What was taken before may have gone with the marks that were swapped.
        let answers = &done.answers;
        done.taken.retain(|row, place| {
            self.rows.get(*row).is_some_and(|asked| asked.answers[*place] == answers[*row])
        });
        Ok(done)
    }

    /// Writes a reference that was put together into a marks file of its own, beside theirs, and into
    /// the clip's record that they agreed on it; returns the record. What was put together before is
    /// one step back there.
    pub fn agree_on_draft(
        &self,
        draft: &Draft,
        judging: &Judging,
        state: &StateFolder,
    ) -> Result<PathBuf, ReferenceError> {
        let beside = self.marks.first().ok_or(ReferenceError::TooFew)?;
        let of = draft.sheaf.clip.as_ref().ok_or(ReferenceError::NoClip)?;
        let mut sheaf = draft.sheaf.clone();
        REFERENCE.clone_into(&mut sheaf.routine.judge);
        let clip = beside.with_file_name(&of.name);
        let path = marks::path_for(&clip, &sheaf.routine.id, REFERENCE);
        if path.exists() {
            let mut desk = Desk::open(&path, state)?;
            let before = Box::new(desk.sheaf().clone());
            desk.take(Step::Do(Edit::Copy { before, after: Box::new(sheaf) }))?;
            desk.save()?;
        } else {
            Desk::create(&path, sheaf, state)?;
        }
        self.agree_on(&path, judging)
    }

    fn scored(&self, sheaf: Sheaf, begun: usize, taken: BTreeMap<usize, usize>) -> Draft {
        let sheet = sheet::score_with(&self.ruled.book, &sheaf, None);
        let (answers, on) = answers_to(&self.rows, &sheet);
        Draft { sheaf, sheet, answers, on, begun, taken }
    }
}

/// An element by its name and turn, as questions name it.
type Key = (String, usize);

fn keys(sheet: &ScoreSheet) -> Vec<(Key, Id)> {
    let mut turns: BTreeMap<&str, usize> = BTreeMap::new();
    let keyed = sheet.elements.iter().map(|line| {
        let turn = turns.entry(&line.element).or_default();
        *turn += 1;
        ((line.element.clone(), *turn), line.mark)
    });
    keyed.collect()
}

/// Marks that are taken off for, or told, by themselves, though they hang under an element.
const fn stands_alone(what: &What) -> bool {
    matches!(what, What::Fault { .. } | What::Fall | What::Spot | What::Note)
}

/// Returns the draft's marks with what theirs have where an answer stands on other marks.
fn swapped(
    (draft, sheet): (&Sheaf, &ScoreSheet),
    own: &Evidence,
    theirs: &Judged,
    on: &Evidence,
) -> Sheaf {
    let (own_keys, their_keys) = (keys(sheet), keys(&theirs.sheet));
    let key_of = |keys: &[(Key, Id)], id: Id| {
        keys.iter().find(|(_, mark)| *mark == id).map(|(key, _)| key.clone())
    };
    let id_of = |keys: &[(Key, Id)], wanted: &Key| {
        keys.iter().find(|(key, _)| key == wanted).map(|(_, mark)| *mark)
    };
    let mut sheaf = draft.clone();
    let other = &theirs.marked.sheaf;
    let mut to = Moving::new(&sheaf, other);
    let named = own.marks.iter().filter_map(|id| key_of(&own_keys, *id));
    let named = named.chain(on.marks.iter().filter_map(|id| key_of(&their_keys, *id)));
    for key in named.collect::<BTreeSet<Key>>() {
        match (id_of(&own_keys, &key), id_of(&their_keys, &key)) {
            (Some(mine), Some(id)) => {
                clear(&mut sheaf, mine);
                to.known.insert(id, mine);
                if let (Some(place), Some(mark)) = (
                    sheaf.marks.iter().position(|mark| mark.id == mine),
                    other.marks.iter().find(|mark| mark.id == id),
                ) {
                    let of = sheaf.marks[place].of;
                    sheaf.marks[place] = Mark { id: mine, of, ..mark.clone() };
                }
                to.take_under(&mut sheaf, id);
            }
            (Some(mine), None) => {
                clear(&mut sheaf, mine);
                // What stood under it stands by itself.
                for mark in &mut sheaf.marks {
                    mark.of = mark.of.filter(|of| *of != mine);
                }
                sheaf.marks.retain(|mark| mark.id != mine);
            }
            (None, Some(id)) => {
                to.take(&mut sheaf, id);
                to.take_under(&mut sheaf, id);
            }
            (None, None) => {}
        }
    }
    for id in own.marks.iter().filter(|id| key_of(&own_keys, **id).is_none()) {
        clear(&mut sheaf, *id);
        sheaf.marks.retain(|mark| mark.id != *id);
    }
    // A parent of theirs is the same element here.
    for (key, id) in &their_keys {
        if let Some(mine) = id_of(&own_keys, key) {
            to.known.entry(*id).or_insert(mine);
        }
    }
    for id in on.marks.iter().filter(|id| key_of(&their_keys, **id).is_none()) {
        to.take(&mut sheaf, *id);
        to.take_under(&mut sheaf, *id);
    }
    sheaf
}

/// Takes away what hangs under a mark, but what stands by itself.
fn clear(sheaf: &mut Sheaf, root: Id) {
    let under = |mark: &Mark| mark.of == Some(root) && !stands_alone(&mark.what);
    let gone: Vec<Id> = sheaf.marks.iter().filter(|mark| under(mark)).map(|mark| mark.id).collect();
    sheaf.marks.retain(|mark| !gone.contains(&mark.id));
    let stays = |of: Id| of != root && !gone.contains(&of);
    sheaf.readings.retain(|reading| stays(reading.of));
    sheaf.calls.retain(|call| stays(call.of));
}

/// Their marks on their way into the draft, where each gets an id of its own.
struct Moving<'a> {
    other: &'a Sheaf,
    known: BTreeMap<Id, Id>,
    last: u64,
}

impl<'a> Moving<'a> {
    fn new(draft: &Sheaf, other: &'a Sheaf) -> Self {
        let marks = draft.marks.iter().map(|mark| mark.id);
        let readings = draft.readings.iter().chain(&draft.unfinished).map(|reading| reading.id);
        let ids = marks.chain(readings).chain(draft.calls.iter().map(|call| call.id));
        let last = ids.map(|id| id.0).max().unwrap_or(0);
        Self { other, known: BTreeMap::new(), last }
    }

    fn fresh(&mut self, id: Id) -> Id {
        self.last += 1;
        self.known.insert(id, Id(self.last));
        Id(self.last)
    }

    /// Takes a mark with what was read and called of it.
    fn take(&mut self, sheaf: &mut Sheaf, id: Id) {
        let Some(mark) = self.other.marks.iter().find(|mark| mark.id == id) else { return };
        let of = mark.of.and_then(|of| self.known.get(&of).copied());
        let mark = Mark { id: self.fresh(id), of, ..mark.clone() };
        sheaf.marks.push(mark);
    }

    /// Takes what hangs under a mark that is there already, but what stands by itself.
    fn take_under(&mut self, sheaf: &mut Sheaf, root: Id) {
        let other = self.other;
        let under = |mark: &&Mark| mark.of == Some(root) && !stands_alone(&mark.what);
        let mut of = vec![root];
        for mark in other.marks.iter().filter(under) {
            self.take(sheaf, mark.id);
            of.push(mark.id);
        }
        for reading in other.readings.iter().filter(|reading| of.contains(&reading.of)) {
            let mut how = reading.how.clone();
            how.plane = how.plane.map(|name| self.plane(sheaf, name));
            let (id, of) = (self.fresh(reading.id), self.known[&reading.of]);
            sheaf.readings.push(Reading { id, of, how, ..reading.clone() });
        }
        for call in other.calls.iter().filter(|call| of.contains(&call.of)) {
            let (id, of) = (self.fresh(call.id), self.known[&call.of]);
            sheaf.calls.push(Call { id, of, ..call.clone() });
        }
    }

    /// Returns what a plane of theirs is called in the draft, to which it is added.
    fn plane(&self, sheaf: &mut Sheaf, name: String) -> String {
        let Some(plane) = self.other.plane(&name) else { return name };
        let mut own = name;
        while sheaf.plane(&own).is_some_and(|there| {
            let mut same = plane.clone();
            same.name.clone_from(&own);
            *there != same
        }) {
            own.push('\'');
        }
        if sheaf.plane(&own).is_none() {
            let mut plane = plane.clone();
            plane.name.clone_from(&own);
            sheaf.planes.push(plane);
        }
        own
    }
}

impl Draft {
    /// Returns whether it answers a question otherwise than the marks with which it began.
    pub fn differs(&self, asked: &Beside, row: usize) -> bool {
        self.answers.get(row) != asked.answers.get(self.begun)
    }
}
