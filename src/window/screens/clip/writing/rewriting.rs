//! Writing a line of the paper anew, in its place.

use crate::{
    marks::{Call, How, Id, Item, Mark, Reading, Seen, Sheaf, Step, What},
    units::Points,
    window::{
        paper::Key,
        screens::clip::{Action, Clip, mode::Mode, writing::offers::WriteLine},
        words,
        write::{self, Entry},
    },
};

impl Clip {
    /// Opens the write line on the chosen line.
    pub(crate) fn rewrite(&mut self) -> Action {
        self.viewer.stop();
        let Some(Key::Item(id)) = self.chosen else {
            return self.complain("Choose a line of the routine first, then write it anew.");
        };
        let Some(item) = self.session.sheaf().and_then(|sheaf| sheaf.item(id)) else {
            return Action::None;
        };
        self.mode = Mode::Writing(WriteLine::on(id, &self.in_words(&item)));
        self.read_line();
        Action::None
    }

    /// Returns something as the write line takes it.
    pub(super) fn in_words(&self, item: &Item) -> String {
        let name = |what: &What| self.session.name(what);
        match item {
            Item::Mark(Mark { what: What::Note, note, .. }) => format!("note {note}"),
            Item::Mark(Mark { what: what @ What::Fault { amount, .. }, .. }) => {
                let amount = amount.map(Points::short).unwrap_or_default();
                format!("{amount} {}", name(what)).trim().to_owned()
            }
            Item::Mark(mark) => name(&mark.what),
            Item::Reading(reading) => write::stated(reading),
            Item::Call(call) => words::answer(call.answer).to_owned(),
        }
    }

    /// Puts an entry in the place of something, at the frame where that is.
    pub(crate) fn put_in_place_of(&mut self, id: Id, entry: Entry) -> Action {
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        match rewritten(sheaf, id, entry) {
            Some(item) => {
                let edit = crate::marks::Edit::change(sheaf, item);
                self.take(Step::Do(edit), Some(Key::Item(id)))
            }
            None => self.complain(
                "That is of another sort than the line it was to replace. Remove the line and \
                 write the other one.",
            ),
        }
    }

    /// Says of the chosen mark the next thing that can be said of seeing it.
    pub(crate) fn turn_seen(&mut self) -> Action {
        self.viewer.stop();
        let Some(Key::Item(id)) = self.chosen else {
            return self.complain("Choose a line of the routine first, then say how it was seen.");
        };
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let Some(mark) = sheaf.mark(id).cloned() else {
            return self.complain("This is an answer or a value; only what is seen can be unseen.");
        };
        let seen = match mark.seen {
            Seen::Yes => Seen::No,
            Seen::No => Seen::CantTell,
            Seen::CantTell => Seen::NotVisible,
            Seen::NotVisible => Seen::Yes,
        };
        let edit = crate::marks::Edit::change(sheaf, Item::Mark(Mark { seen, ..mark }));
        self.take(Step::Do(edit), Some(Key::Item(id)))
    }
}

/// Returns what stands in the place of `id` once it is written anew; nothing where the entry is of
/// another sort.
fn rewritten(sheaf: &Sheaf, id: Id, entry: Entry) -> Option<Item> {
    Some(match (sheaf.item(id)?, entry) {
        (Item::Mark(mark), Entry::Mark(what, note)) => {
            // A remark beside a mark stays; the text of a remark is what was written.
            let note = if what == What::Note { note } else { mark.note.clone() };
            Item::Mark(Mark { what, note, ..mark })
        }
        (Item::Reading(reading), Entry::Reading { quantity, value, u }) => {
            // A value that is stated no longer comes from the points that were clicked.
            let (points, how) = (Vec::new(), How::default());
            Item::Reading(Reading { quantity, value, u, points, how, ..reading })
        }
        (Item::Call(call), Entry::Call { rule, answer }) => {
            Item::Call(Call { asks: rule, answer, ..call })
        }
        _ => return None,
    })
}
