//! The screen: the book as it is, what is written in, and what messages do.

use iced::{
    Task, clipboard,
    keyboard::{Event, Key, key::Named},
};

use super::{
    fields::{self, Way},
    message::{Action, Message},
};
use crate::{
    rulebook::{
        OpenedBook, Pasted, Reading, RowAt, TABLES,
        rows::{Field, Many},
        save_draft,
    },
    trials::Example,
    window::{
        controls::Tab,
        typing::{self, Line, Typed},
    },
};

/// One's own book, being typed in.
pub(crate) struct BookForms {
    pub(super) book: OpenedBook,
    pub(super) reading: Reading,
    pub(super) table: &'static str,
    pub(super) at: usize,
    pub(super) writing: Option<Writing>,
    /// A field of a few words that was asked for and says nothing yet.
    pub(super) asked: Option<(RowAt, &'static str)>,
    pub(super) pasting: Option<Pasted>,
    /// Whether Tab has passed the last field, or the first one backwards: then buttons come.
    is_past: bool,
    /// What was done, or went wrong.
    pub(super) said: Option<String>,
    /// The text as the file has it.
    on_disk: String,
    pub(super) is_saving: bool,
    /// The last change could not be written.
    is_unsaved: bool,
    /// The event and the division of the example, by their places.
    example_of: [usize; 2],
    /// What the example came to, now and before the last change.
    pub(super) examples: [Option<Example>; 2],
}

/// The field that is written in.
pub(super) struct Writing {
    pub(super) place: RowAt,
    pub(super) field: &'static Field,
    pub(super) line: Line,
    /// What is wrong with what was written.
    pub(super) refused: Option<String>,
}

impl BookForms {
    /// Returns the screen of an opened book.
    pub(crate) fn new(book: OpenedBook) -> Self {
        let (reading, on_disk) = (book.reading(), book.draft.text().to_owned());
        let mut forms = Self {
            book,
            reading,
            table: "book",
            at: 0,
            writing: None,
            asked: None,
            pasting: None,
            is_past: false,
            said: None,
            on_disk,
            is_saving: false,
            is_unsaved: false,
            example_of: [0, 0],
            examples: [None, None],
        };
        forms.examples[0] = forms.example();
        forms
    }

    /// Returns the window's title.
    pub(crate) fn title(&self) -> String {
        let name = self.book.path.file_name().unwrap_or_default().to_string_lossy();
        format!("{name} · Rule book · Stillcall")
    }

    /// Returns where the book is kept, if it can be used.
    pub(crate) fn usable(&self) -> Option<&std::path::Path> {
        self.reading.book.as_ref().map(|_| self.path())
    }

    /// Returns where the book is kept.
    pub(crate) fn path(&self) -> &std::path::Path {
        &self.book.path
    }

    pub(super) fn row(&self) -> RowAt {
        RowAt::row(self.table, self.at)
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action {
        match message {
            Message::KeyPressed(event) => return self.key_pressed(&event),
            Message::Typed(typed) => return self.typed(&typed),
            Message::Table(table) => {
                if self.commit() {
                    (self.table, self.at) = (table, 0);
                }
            }
            Message::Row(at) => {
                if self.commit() {
                    self.at = at;
                }
            }
            Message::Field(place, key) => {
                if self.commit() {
                    self.write_in(place, key);
                }
            }
            Message::Picked(place, key, word) => self.pick(&place, key, &word),
            Message::Offered(name) => self.complete(&name),
            Message::Add => {
                if self.commit() {
                    self.at = self.book.draft.add(self.table).at;
                    self.begin_row(&self.row());
                }
            }
            Message::AddInside(place, key) => {
                if self.commit() {
                    let many = matches!(
                        fields::field_of(&place, key)
                            .map(|it| fields::way(it, &self.reading.known)),
                        Some(Way::Rows { many: true })
                    );
                    let inner = self.book.draft.add_inside(&place, key, many);
                    self.begin_row(&inner);
                }
            }
            Message::Remove(place) => {
                self.writing = None;
                self.book.draft.remove(&place);
                self.at = self.at.min(self.book.draft.count(self.table).saturating_sub(1));
                self.changed();
            }
            Message::Raise => {
                if self.commit() && self.at > 0 {
                    self.book.draft.raise(self.table, self.at);
                    self.at -= 1;
                    self.changed();
                }
            }
            Message::Undo => self.step(true),
            Message::Redo => self.step(false),
            Message::PasteAsked => return Action::Run(clipboard::read().map(Message::Pasted)),
            Message::Pasted(text) => match Pasted::read(&text.unwrap_or_default()) {
                Ok(pasted) => self.pasting = Some(pasted),
                Err(_) => {
                    self.said = Some(
                        "Nothing to paste: copy the rows in your spreadsheet first.".to_owned(),
                    );
                }
            },
            Message::Column(column) => self.turn_column(column),
            Message::PasteTaken(event) => self.take_pasted(&event),
            Message::PasteLeft => self.pasting = None,
            Message::Told(at) => self.go_to(at),
            Message::ExampleEvent => self.turn_example(0),
            Message::ExampleDivision => self.turn_example(1),
            Message::Saved(saved) => {
                (self.is_saving, self.is_unsaved) = (false, saved.is_err());
                if let Err(why) = saved {
                    self.said = Some(why);
                    return Action::None;
                }
            }
            Message::Leave => return self.leave(),
        }
        self.save()
    }

    pub(crate) fn typed(&mut self, typed: &Typed) -> Action {
        let Some(writing) = &mut self.writing else { return Action::None };
        // Rows of a spreadsheet that are pasted into a field would become one line.
        writing.refused = None;
        Action::Run(writing.line.take(typed).task(Message::Typed))
    }

    fn key_pressed(&mut self, event: &Event) -> Action {
        let Event::KeyPressed { key, physical_key, modifiers, .. } = event else {
            return Action::None;
        };
        self.is_past = false;
        let letter = key.to_latin(*physical_key).filter(|_| modifiers.command());
        match (key, letter) {
            (Key::Named(Named::Escape), _) => {
                if self.pasting.take().is_some() || self.writing.take().is_some() {
                    return Action::None;
                }
                return self.leave();
            }
            (Key::Named(Named::Enter), _) if self.writing.is_some() => self.on(1),
            (Key::Named(Named::Tab), _) => self.on(if modifiers.shift() { -1 } else { 1 }),
            (_, Some('z')) if modifiers.shift() => self.step(false),
            (_, Some('z')) => self.step(true),
            (_, Some('y')) => self.step(false),
            (_, Some('n')) => return self.update(Message::Add),
            (Key::Named(Named::ArrowDown), _) if self.writing.is_none() => {
                let last = self.book.draft.count(self.table).saturating_sub(1);
                self.at = (self.at + 1).min(last);
            }
            (Key::Named(Named::ArrowUp), _) if self.writing.is_none() => {
                self.at = self.at.saturating_sub(1);
            }
            (Key::Named(Named::PageDown), _) => self.turn_table(1),
            (Key::Named(Named::PageUp), _) => self.turn_table(-1),
            _ => {
                return typing::typed(event).map_or(Action::None, |typed| self.typed(&typed));
            }
        }
        self.save()
    }

    fn turn_table(&mut self, by: isize) {
        if !self.commit() {
            return;
        }
        let tables = fields::tables();
        let here = tables.iter().position(|spec| spec.key == self.table).unwrap_or(0);
        let there = here.saturating_add_signed(by).min(tables.len() - 1);
        (self.table, self.at) = (tables[there].key, 0);
    }

    fn write_in(&mut self, place: RowAt, key: &'static str) {
        let Some(field) = fields::field_of(&place, key) else { return };
        if fields::way(field, &self.reading.known) != Way::Written {
            self.asked = Some((place, key));
            return;
        }
        let mut line = Line::new(self.book.draft.written(&place, key));
        line.select_all();
        self.writing = Some(Writing { place, field, line, refused: None });
    }

    /// Writes down what stands in the field; returns whether it could be taken.
    fn commit(&mut self) -> bool {
        let Some(writing) = &mut self.writing else { return true };
        match self.book.draft.set(&writing.place, writing.field, writing.line.text()) {
            Ok(()) => {
                self.writing = None;
                self.changed();
                true
            }
            Err(why) => {
                writing.refused = Some(why);
                false
            }
        }
    }

    /// Writes down what stands in the field and goes to the next one, or to the one before.
    /// Returns what Tab does: it goes through the fields, also through those that are not there yet.
    pub(crate) fn tab(&self) -> Tab {
        if self.is_past { Tab::Everything } else { Tab::Taken }
    }

    fn on(&mut self, by: isize) {
        let here = self.writing.as_ref().map(|it| (it.place.clone(), it.field.key));
        if !self.commit() {
            return;
        }
        let all = fields::written_in_order(&self.book.draft, &self.row(), &self.reading.known);
        // A field that was left empty is no longer there: the way goes on from the top.
        let at = here.and_then(|here| all.iter().position(|it| *it == here));
        self.is_past = false;
        let next = match at {
            None if by > 0 => Some(0),
            None => all.len().checked_sub(1),
            Some(at) => at.checked_add_signed(by),
        };
        if let Some((place, key)) = next.and_then(|at| all.get(at)).cloned() {
            self.write_in(place, key);
        } else {
            self.is_past = true;
        }
    }

    fn begin_row(&mut self, place: &RowAt) {
        self.changed();
        let first = fields::written_in_order(&self.book.draft, place, &self.reading.known);
        if let Some((place, key)) = first.into_iter().next() {
            self.write_in(place, key);
        }
    }

    fn pick(&mut self, place: &RowAt, key: &'static str, word: &str) {
        let Some(field) = fields::field_of(place, key) else { return };
        if !self.commit() {
            return;
        }
        let written = self.book.draft.written(place, key);
        let new = match fields::way(field, &self.reading.known) {
            Way::Some(_) => {
                let mut words: Vec<&str> =
                    written.split(", ").filter(|other| !other.is_empty()).collect();
                match words.iter().position(|other| *other == word) {
                    Some(at) => drop(words.remove(at)),
                    None => words.push(word),
                }
                words.join(", ")
            }
            _ if written == word => String::new(),
            _ => word.to_owned(),
        };
        if let Err(why) = self.book.draft.set(place, field, &new) {
            self.said = Some(why);
        }
        self.changed();
    }

    fn complete(&mut self, name: &str) {
        let Some(writing) = &mut self.writing else { return };
        let written = writing.line.text();
        let begun = written.rfind([',', ';', ' ']).map_or(0, |at| at + 1);
        let gap = if begun > 0 { " " } else { "" };
        writing.line = Line::new(format!("{}{gap}{name}", written[..begun].trim_end()));
    }

    fn step(&mut self, is_back: bool) {
        // What is being written is given up first.
        let was_written = self.writing.take().is_some_and(|writing| {
            writing.line.text() != self.book.draft.written(&writing.place, writing.field.key)
        });
        if was_written && is_back {
            return;
        }
        let is_done = if is_back { self.book.draft.undo() } else { self.book.draft.redo() };
        if is_done {
            self.at = self.at.min(self.book.draft.count(self.table).saturating_sub(1));
            self.changed();
        }
    }

    fn turn_column(&mut self, column: usize) {
        let Some(pasted) = &mut self.pasting else { return };
        let all: Vec<&'static str> = Pasted::meanings().collect();
        let here = pasted.columns.get(column).copied().flatten();
        let next = match here.and_then(|key| all.iter().position(|it| *it == key)) {
            None => all.first().copied(),
            Some(at) => all.get(at + 1).copied(),
        };
        pasted.call(column, next);
    }

    fn take_pasted(&mut self, event: &str) {
        let Some(pasted) = &self.pasting else { return };
        match self.book.draft.paste(pasted, event) {
            Ok(count) => {
                let first = self.book.draft.count("element").saturating_sub(count);
                (self.table, self.at) = ("element", first);
                self.said = Some(crate::units::counted(count, "element") + " taken in.");
                self.pasting = None;
                self.changed();
            }
            Err(why) => self.said = Some(why),
        }
    }

    fn go_to(&mut self, at: usize) {
        let Some(told) = self.reading.told.get(at).cloned() else { return };
        let Some(place) = told.place.filter(|_| self.commit()) else { return };
        (self.table, self.at) = (place.table, place.at);
        if let Some(key) = told.key {
            let is_written = fields::field_of(&place, key)
                .is_some_and(|it| fields::way(it, &self.reading.known) == Way::Written);
            if is_written {
                self.write_in(place, key);
            }
        }
    }

    /// Reads the book anew and works the example out again.
    fn changed(&mut self) {
        self.said = None;
        self.reading = self.book.reading();
        let now = self.example();
        if now != self.examples[0] {
            self.examples = [now, self.examples[0].take()];
        }
    }

    /// The event and the division of the example.
    pub(super) fn example_of(&self) -> Option<[String; 2]> {
        let book = self.reading.book.as_ref()?;
        let event = book.events.get(self.example_of[0] % book.events.len().max(1))?;
        let divisions: Vec<_> = book.divisions_of(&event.id).collect();
        let division = divisions.get(self.example_of[1] % divisions.len().max(1))?;
        Some([event.id.clone(), division.id.clone()])
    }

    fn example(&self) -> Option<Example> {
        let [event, division] = self.example_of()?;
        Some(crate::trials::example(self.reading.book.as_ref()?, &event, &division))
    }

    fn turn_example(&mut self, which: usize) {
        self.example_of[which] += 1;
        self.examples = [self.example(), None];
    }

    /// Writes the text to its file, unless that is under way or it is there.
    fn save(&mut self) -> Action {
        if self.is_saving || self.book.draft.text() == self.on_disk {
            return Action::None;
        }
        self.is_saving = true;
        let text = self.book.draft.text().to_owned();
        let was = std::mem::replace(&mut self.on_disk, text.clone());
        let path = self.book.path.clone();
        let writing = tokio::task::spawn_blocking(move || save_draft(&path, &was, &text));
        Action::Run(Task::perform(writing, |saved| {
            Message::Saved(saved.unwrap_or_else(|error| Err(error.to_string())))
        }))
    }

    fn leave(&mut self) -> Action {
        if !self.commit() {
            return Action::None;
        }
        match self.save() {
            // It is left when it is written.
            Action::Run(task) => Action::Run(task.chain(Task::done(Message::Leave))),
            other if self.is_saving => other,
            // What went wrong is said once; whoever leaves again has read it.
            other if std::mem::take(&mut self.is_unsaved) => other,
            _ => Action::Leave,
        }
    }

    /// Returns whether a table has only one row.
    pub(super) fn is_single(&self) -> bool {
        TABLES.iter().any(|spec| spec.key == self.table && spec.many == Many::One)
    }
}
