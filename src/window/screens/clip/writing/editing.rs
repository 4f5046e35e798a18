//! Putting down, changing and taking away what was seen.

use iced::widget::{operation, scrollable::RelativeOffset};

use crate::{
    marks::{At, Call, CallAnswer, Edit, How, Id, Item, Mark, Reading, Seen, Step, What},
    window::{
        memory::LastRoutine,
        paper::Key,
        screens::clip::{
            Action, Clip, Message,
            mode::Mode,
            writing::{
                offers::{OFFERS, WriteLine},
                put_down::PutDown,
            },
        },
        typing::Typed,
        write::{Asked, Context, Entry, moments::Moment},
    },
};

impl Clip {
    /// Returns the frame on screen as marks name it.
    pub(crate) fn here(&self) -> At {
        At::Frame(self.viewer.stage().frame_ref(self.viewer.frame()))
    }

    /// Returns the element that the chosen line belongs to; with nothing chosen, the last one at
    /// or before the frame on screen.
    pub(crate) fn element(&self) -> Option<Id> {
        match self.chosen {
            Some(Key::Item(id)) => self.session.element_of(id),
            Some(Key::Waiting(id, _)) => Some(id),
            _ => self.session.element_at(&self.here()),
        }
    }

    /// Returns what rules ask of that element; the chosen waiting line first.
    pub(crate) fn asked(&mut self) -> Vec<Asked> {
        self.session.catch_up();
        let mut asked = self.element().map(|id| self.session.asked_of(id)).unwrap_or_default();
        let line = self.chosen.and_then(|key| self.session.paper().line(key));
        if let Some(line) = line {
            asked.sort_by_key(|asked| asked.label != line.text);
        }
        asked
    }

    pub(crate) fn begin_to_write(&mut self) -> Action {
        self.viewer.stop();
        if !self.session.is_open() {
            return self.open_header();
        }
        self.mode = Mode::Writing(WriteLine::default());
        self.read_line();
        Action::None
    }

    /// Finds what the write line may mean.
    pub(crate) fn read_line(&mut self) {
        let asked = self.asked();
        let phase = self.session.phase_at(&self.here());
        let Mode::Writing(line) = &mut self.mode else { return };
        let used =
            self.session.sheaf().map(|sheaf| self.uses.of(&LastRoutine::from(&sheaf.routine)));
        if let (Some(words), Some(used)) = (self.session.words(), used) {
            line.read(Context { words, asked: &asked, phase, used });
        }
    }

    pub(crate) fn put_moment(&mut self, moment: Moment) -> Action {
        self.viewer.stop();
        let what = moment.what(self.session.phase_at(&self.here()));
        let entry = Entry::Mark(what, String::new());
        if self.viewer.is_seen() {
            return self.put(entry);
        }
        // The number that is pinned is that of a picture that was seen.
        self.put_when_seen = Some(entry);
        Action::None
    }

    /// Puts down what waits for its picture.
    pub(crate) fn put_what_waits(&mut self) -> Action {
        self.put_when_seen.take().map_or(Action::None, |entry| self.put(entry))
    }

    /// Puts down what waits for its picture, if that is here.
    pub(crate) fn put_what_is_seen(&mut self) -> Action {
        if self.viewer.is_seen() { self.put_what_waits() } else { Action::None }
    }

    pub(crate) fn call(&mut self, answer: CallAnswer) -> Action {
        self.viewer.stop();
        match self.asked().into_iter().next() {
            Some(asked) => self.put(Entry::Call { rule: asked.rule, answer }),
            None => self.complain("No rule asks anything of the element here."),
        }
    }

    /// Puts something at the frame on screen; asks for the routine's header first where there is
    /// none yet.
    pub(crate) fn put(&mut self, entry: Entry) -> Action {
        if !self.session.is_open() {
            return self.open_header_for(entry);
        }
        let Some((edit, id)) = self.edit_for(entry) else {
            return self.complain("Choose an element first: this belongs to one.");
        };
        // The sheet on screen; nobody waits for one that is still to come.
        let before = self.session.score_in_words().filter(|_| !self.session.is_scoring());
        let action = self.take(Step::Do(edit), Some(Key::Item(id)));
        if self.complaint.is_none() {
            self.put_down(id, before);
        }
        action
    }

    /// Remembers what was put down: to say what it does to the score, and to offer it sooner.
    fn put_down(&mut self, id: Id, before: Option<String>) {
        let Some(sheaf) = self.session.sheaf() else { return };
        let Some(item) = sheaf.item(id) else { return };
        if let Item::Mark(Mark { what: What::Element { element }, .. }) = &item {
            let of = LastRoutine::from(&sheaf.routine);
            self.uses.count(&of, element);
        }
        self.put = Some(PutDown { what: self.in_words(&item), before });
    }

    fn edit_for(&mut self, entry: Entry) -> Option<(Edit, Id)> {
        let at = self.here();
        let item = match entry {
            Entry::Mark(what, note) => {
                let (id, at) = (self.session.fresh_id()?, what.happened(at));
                Item::Mark(Mark { id, at, what, seen: Seen::Yes, of: None, note })
            }
            Entry::Reading { quantity, value, u } => {
                let of = self.element()?;
                let id = self.session.fresh_id()?;
                let (points, how) = (Vec::new(), How::default());
                Item::Reading(Reading { id, of, quantity, value, u, at, points, how })
            }
            Entry::Call { rule, answer } => {
                let of = self.element()?;
                return self.call_edit(of, rule, answer, at);
            }
        };
        let id = item.id();
        Some((Edit::add(item), id))
    }

    /// A second answer to the same question takes the place of the first.
    fn call_edit(
        &mut self,
        of: Id,
        asks: String,
        answer: CallAnswer,
        at: At,
    ) -> Option<(Edit, Id)> {
        let sheaf = self.session.sheaf()?;
        let old = sheaf.calls.iter().find(|call| call.of == of && call.asks == asks).cloned();
        if let Some(old) = old {
            let id = old.id;
            let call = Call { answer, at, ..old };
            return Some((Edit::change(sheaf, Item::Call(call)), id));
        }
        let id = self.session.fresh_id()?;
        Some((Edit::add(Item::Call(Call { id, of, asks, answer, at })), id))
    }

    pub(crate) fn move_here(&mut self) -> Action {
        self.viewer.stop();
        let at = self.here();
        let Some(Key::Item(id)) = self.chosen else {
            return self.complain("Choose a line of the routine first, then move it here.");
        };
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let Some(mut item) = sheaf.item(id) else { return Action::None };
        match &mut item {
            Item::Mark(mark) => mark.at = mark.what.happened(at),
            Item::Reading(reading) => reading.at = at,
            Item::Call(call) => call.at = at,
        }
        let edit = Edit::change(sheaf, item);
        self.take(Step::Do(edit), Some(Key::Item(id)))
    }

    /// Takes the chosen line away and chooses the one that comes to stand in its place.
    pub(crate) fn remove(&mut self) -> Action {
        let Some(key @ Key::Item(id)) = self.chosen else { return Action::None };
        let Some(edit) = self.session.sheaf().and_then(|sheaf| Edit::remove(sheaf, id)) else {
            return Action::None;
        };
        let place = self.session.paper().keys().position(|other| other == key).unwrap_or(0);
        let action = self.take(Step::Do(edit), None);
        let keys: Vec<Key> = self.session.paper().keys().collect();
        self.chosen = keys.get(place).or(keys.last()).copied();
        action
    }

    pub(crate) fn undo(&mut self) -> Action {
        self.step_of_points(Step::Undo).unwrap_or_else(|| self.take(Step::Undo, self.chosen))
    }

    pub(crate) fn redo(&mut self) -> Action {
        self.step_of_points(Step::Redo).unwrap_or_else(|| self.take(Step::Redo, self.chosen))
    }

    /// Takes a step and chooses a line, where it is still there.
    pub(crate) fn take(&mut self, step: Step, choose: Option<Key>) -> Action {
        if let Err(error) = self.session.take(step) {
            return self.complain_of(&error);
        }
        self.note_unproved();
        (self.complaint, self.put) = (None, None);
        self.chosen = choose.filter(|key| self.session.paper().line(*key).is_some());
        self.show_chosen()
    }

    pub(crate) fn written(&mut self, typed: &Typed) -> Action {
        let Mode::Writing(line) = &mut self.mode else { return Action::None };
        let wish = line.take(typed);
        self.read_line();
        Action::Run(wish.task(Message::Typed))
    }

    pub(crate) fn submit(&mut self) -> Action {
        let Mode::Writing(line) = &self.mode else { return Action::None };
        let rewritten = line.rewritten();
        let Some(entry) = line.picked() else {
            let ends = line.is_blank() || rewritten.is_some();
            return if ends { self.leave() } else { Action::None };
        };
        self.mode = Mode::default();
        match rewritten {
            Some(id) => self.put_in_place_of(id, entry),
            None => self.put(entry),
        }
    }

    pub(crate) fn move_offer(&mut self, by: isize) -> Action {
        let Mode::Writing(line) = &mut self.mode else { return Action::None };
        let y = line.pick(by);
        Action::Run(operation::snap_to(OFFERS, RelativeOffset { x: None, y: Some(y) }))
    }

    pub(crate) fn take_offer(&mut self, offer: usize) -> Action {
        if let Mode::Writing(line) = &mut self.mode {
            line.pick_at(offer);
        }
        self.submit()
    }
}
