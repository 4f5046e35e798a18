//! The form itself: what is filled in and how that changes.

use std::path::PathBuf;

use crate::{
    library::{Code, NotACode},
    marks::Routine,
    rulebook::Book,
    window::{
        memory,
        typing::{Line, Typed, Wish},
        words::sentence,
        write::Entry,
    },
};

use super::{
    named::{Books, Named},
    refusal::Refusal,
};

/// What is filled in.
#[derive(Debug)]
pub(crate) struct Form {
    pub(crate) books: Vec<Named>,
    pub(crate) book: usize,
    /// As it is now; kept, so that what the form does not show stays.
    pub(crate) routine: Routine,
    /// What is written, by field.
    pub(crate) lines: [Line; 4],
    /// The field that is written in.
    pub(crate) field: Field,
    pub(crate) purpose: Purpose,
    pub(crate) complaint: Option<String>,
    /// Whether it was to be taken since something was written.
    pub(crate) submitted: bool,
    /// Where the marks can be kept instead, once it turned out that they cannot lie beside the
    /// clip.
    pub(crate) elsewhere: Option<PathBuf>,
    /// What is put down as soon as the routine is there.
    pub(crate) then: Option<Entry>,
}

/// What the form is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// A routine that is not there yet.
    Begin,
    /// One that is.
    Change,
}

/// A field that is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Field {
    /// The athlete's code.
    Athlete,
    /// The judge's code.
    Judge,
    /// The date of the performance.
    Date,
    /// The routine's name within its clip; it cannot be changed later, for it names the file.
    Routine,
}

impl Field {
    pub(crate) const fn all(purpose: Purpose) -> &'static [Self] {
        match purpose {
            Purpose::Begin => &[Self::Athlete, Self::Judge, Self::Date, Self::Routine],
            Purpose::Change => &[Self::Athlete, Self::Judge, Self::Date],
        }
    }
}

impl Form {
    /// Returns the form without books, which are read meanwhile.
    pub(crate) fn new(routine: Routine, purpose: Purpose) -> Self {
        let lines = [&routine.athlete, &routine.judge, &routine.date, &routine.id];
        let lines = lines.map(|text| Line::new(text.as_str()));
        let (books, book, field) = (Vec::new(), 0, Field::Athlete);
        let mut form = Self {
            books,
            book,
            routine,
            lines,
            field,
            purpose,
            complaint: None,
            submitted: false,
            elsewhere: None,
            then: None,
        };
        form.turn_field(0);
        form
    }

    /// Takes in the books that may be chosen, and chooses the routine's.
    pub(crate) fn take_books(&mut self, books: Books) {
        let routine = &self.routine;
        let asked = |named: &Named| named.name == routine.book;
        let scored = |named: &Named| asked(named) && named.book.hash == routine.book_hash;
        let named = &books.named;
        let place = named.iter().position(scored).or_else(|| named.iter().position(asked));
        self.books = books.named;
        self.complaint = books.complaint.or(self.complaint.take());
        self.choose_book(place.unwrap_or(0));
    }

    pub(crate) fn typed(&mut self, typed: &Typed) -> Wish {
        (self.complaint, self.submitted) = (None, false);
        self.lines[self.field as usize].take(typed)
    }

    /// Takes a judge's code that was offered.
    pub(crate) fn choose_judge(&mut self, code: &str) {
        (self.complaint, self.submitted) = (None, false);
        self.lines[Field::Judge as usize] = Line::new(code);
    }

    /// Goes to another field and selects what is in it, so that writing replaces it.
    pub(crate) fn turn_field(&mut self, by: isize) {
        let fields = Field::all(self.purpose);
        let here = fields.iter().position(|field| *field == self.field).unwrap_or(0);
        let next = (here as isize + by).rem_euclid(fields.len() as isize) as usize;
        self.field = fields[next];
        self.lines[self.field as usize].select_all();
    }

    /// Returns what is wrong with a code that may be a name. A code of marks that are there already may
    /// stay as it is. Nothing is said while it is being written.
    pub(crate) fn no_code(&self, field: Field) -> Option<NotACode> {
        let is_written = field == self.field && !self.submitted;
        self.not_a_code(field).filter(|_| !is_written)
    }

    fn not_a_code(&self, field: Field) -> Option<NotACode> {
        let before = match field {
            Field::Athlete => &self.routine.athlete,
            Field::Judge => &self.routine.judge,
            Field::Date | Field::Routine => return None,
        };
        let written = self.written(field);
        let stays = self.purpose == Purpose::Change && written == *before;
        if written.is_empty() || stays { None } else { written.parse::<Code>().err() }
    }

    /// Goes to the first field with what is no code, where there is one.
    pub(crate) fn find_no_code(&mut self) -> bool {
        self.submitted = true;
        let fields = Field::all(self.purpose).iter().copied();
        let found = fields.into_iter().find(|field| self.not_a_code(*field).is_some());
        if let Some(field) = found {
            self.field = field;
            self.lines[field as usize].select_all();
        }
        found.is_some()
    }

    pub(crate) fn refuse(&mut self, refusal: &Refusal) {
        self.complaint = Some(match refusal {
            Refusal::Form(complaint) => complaint.clone(),
            Refusal::Session(error) => sentence(&error.to_string()),
        });
        if let Refusal::Session(error) = refusal
            && error.is_unwritable()
        {
            self.elsewhere = memory::marks_elsewhere();
        }
    }

    pub(crate) fn written(&self, field: Field) -> String {
        self.lines[field as usize].text().trim().to_owned()
    }

    pub(crate) fn book(&self) -> Option<&Book> {
        self.books.get(self.book).map(|named| &named.book)
    }

    pub(crate) fn turn_book(&mut self, by: isize) {
        let count = self.books.len().max(1) as isize;
        self.choose_book((self.book as isize + by).rem_euclid(count) as usize);
    }

    /// Takes in a book of one's own; read anew, it takes the place of itself.
    pub(crate) fn book_read(&mut self, read: Option<Result<Box<Named>, String>>) {
        match read {
            Some(Ok(named)) => {
                let known = self.books.iter().position(|book| book.name == named.name);
                let place = known.unwrap_or(self.books.len());
                match self.books.get_mut(place) {
                    Some(old) => *old = *named,
                    None => self.books.push(*named),
                }
                self.complaint = None;
                self.choose_book(place);
            }
            Some(Err(complaint)) => self.complaint = Some(complaint),
            None => {}
        }
    }

    pub(crate) fn choose_book(&mut self, book: usize) {
        self.book = book;
        self.choose_event(&self.routine.event.clone());
    }

    /// Chooses an event, the book's first where it has no such one, and keeps the division where
    /// it competes there.
    pub(crate) fn choose_event(&mut self, event: &str) {
        let Some(book) = self.book() else { return };
        let known = book.event(event).or(book.events.first()).map(|event| event.id.clone());
        let event = known.unwrap_or_default();
        let divisions: Vec<&str> = book.divisions_of(&event).map(|it| it.id.as_str()).collect();
        let kept = divisions.contains(&self.routine.division.as_str());
        let division = if kept { &self.routine.division } else { "" };
        let division = if division.is_empty() {
            divisions.first().map(|id| (*id).to_owned())
        } else {
            Some(division.to_owned())
        };
        self.routine.event = event;
        self.routine.division = division.unwrap_or_default();
    }

    pub(crate) fn turn_event(&mut self, by: isize) {
        let Some(book) = self.book() else { return };
        let ids: Vec<String> = book.events.iter().map(|event| event.id.clone()).collect();
        if let Some(event) = turned(&ids, &self.routine.event, by) {
            self.choose_event(&event);
        }
    }

    pub(crate) fn turn_division(&mut self, by: isize) {
        let Some(book) = self.book() else { return };
        let ids: Vec<String> =
            book.divisions_of(&self.routine.event).map(|division| division.id.clone()).collect();
        if let Some(division) = turned(&ids, &self.routine.division, by) {
            self.routine.division = division;
        }
    }

    /// Returns the routine as it is filled in, or what is still missing.
    pub(crate) fn routine(&self) -> Result<Routine, String> {
        let named = self.books.get(self.book).ok_or("There is no rule book to judge by.")?;
        let book = &named.book;
        if self.written(Field::Judge).is_empty() {
            return Err("Give the judge's code, for example J-2: it names the marks file.".into());
        }
        let date = self.written(Field::Date);
        if !date.is_empty() && date.parse::<jiff::civil::Date>().is_err() {
            return Err(format!("\"{date}\" is no date: write it like 2026-11-24."));
        }
        let id = self.written(Field::Routine);
        Ok(Routine {
            id: if id.is_empty() { "1".to_owned() } else { id },
            athlete: self.written(Field::Athlete),
            judge: self.written(Field::Judge),
            date,
            book: named.name.clone(),
            edition: book.edition.clone(),
            book_hash: book.hash.clone(),
            ..self.routine.clone()
        })
    }
}

fn turned(ids: &[String], current: &str, by: isize) -> Option<String> {
    let here = ids.iter().position(|id| id == current).unwrap_or(0);
    let next = (here as isize + by).rem_euclid(ids.len().max(1) as isize);
    ids.get(next as usize).cloned()
}
