//! What is entered, and what messages do.

use std::path::PathBuf;

use iced::{
    Task,
    keyboard::{Event, Key, key::Named},
};
use jiff::civil::Date;

use crate::{
    library::{
        Agrees, Code, NewConsent, Others, Purpose, ReadRecord, Shows, Sidecar, read_record,
        write_record,
    },
    window::typing::{self, Line, Typed},
};

/// The form.
#[derive(Debug)]
pub(crate) struct RecordForm {
    pub(super) clip: PathBuf,
    /// As it was read; nothing until it is.
    was: Option<Sidecar>,
    today: Date,
    pub(super) noted: Sidecar,
    pub(super) is_altered: bool,
    pub(super) still_holds: bool,
    /// Of whom a consent is noted, by place.
    pub(super) athlete: usize,
    pub(super) consent: NewConsent,
    pub(super) lines: [Line; Field::ALL.len()],
    pub(super) current: Field,
    pub(super) complaint: Option<String>,
    pub(super) is_writing: bool,
}

/// A field that is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Field {
    Code,
    By,
    Until,
    DeleteBy,
    Filmed,
    Source,
    Notes,
}

impl Field {
    pub(super) const ALL: [Self; 7] = [
        Self::Code,
        Self::By,
        Self::Until,
        Self::DeleteBy,
        Self::Filmed,
        Self::Source,
        Self::Notes,
    ];

    pub(super) const fn says(self) -> &'static str {
        match self {
            Self::Code => "Code",
            Self::By => "Form held by",
            Self::Until => "Holds until",
            Self::DeleteBy => "Delete by",
            Self::Filmed => "Filmed on",
            Self::Source => "Came from",
            Self::Notes => "Notes",
        }
    }

    pub(super) const fn hint(self) -> &'static str {
        match self {
            Self::Code => "SC-07, never a name; Enter adds it",
            Self::By => "office, or a code",
            Self::Until => "2027-07-31; empty: until it is withdrawn",
            Self::DeleteBy | Self::Filmed => "2026-10-17",
            Self::Source => "which camera, which meet",
            Self::Notes => "on the filming; no names, nothing on a child's body",
        }
    }
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum RecordMessage {
    KeyPressed(Event),
    Typed(Typed),
    /// The record was read.
    Read(Result<Box<ReadRecord>, String>),
    /// Another field is written in.
    Current(Field, Typed),
    AddCode,
    /// An athlete is chosen.
    Athlete(usize),
    RemoveAthlete,
    Purpose(Purpose),
    Agrees(Agrees),
    /// What is chosen is noted as agreed.
    NoteConsent,
    RemoveConsent(usize),
    Others(Others),
    Injury(bool),
    Shows(Shows),
    StillHolds,
    Save,
    Written(Result<(), String>),
    Leave,
}

/// What the form asks of the screen that it lies over.
pub(crate) enum RecordAction {
    None,
    Run(Task<RecordMessage>),
    /// It was written.
    Done,
    Leave,
}

impl RecordForm {
    /// Returns the form of a clip, and what reads its record; `athlete` is offered as its first code.
    pub(crate) fn open(clip: PathBuf, athlete: &str) -> (Self, Task<RecordMessage>) {
        let mut lines: [Line; Field::ALL.len()] = Default::default();
        lines[Field::Code as usize] = Line::new(athlete);
        let form = Self {
            clip: clip.clone(),
            was: None,
            today: Date::ZERO,
            noted: Sidecar::default(),
            is_altered: false,
            still_holds: false,
            athlete: 0,
            consent: NewConsent::default(),
            lines,
            current: Field::Code,
            complaint: None,
            is_writing: false,
        };
        let reading = tokio::task::spawn_blocking(move || {
            read_record(&clip).map(Box::new).map_err(|error| error.to_string())
        });
        let read = Task::perform(reading, |read| {
            RecordMessage::Read(read.unwrap_or_else(|error| Err(error.to_string())))
        });
        (form, read)
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: RecordMessage) -> RecordAction {
        match message {
            RecordMessage::KeyPressed(event) => return self.key_pressed(&event),
            RecordMessage::Typed(typed) => {
                self.complaint = None;
                let line = &mut self.lines[self.current as usize];
                return RecordAction::Run(line.take(&typed).task(RecordMessage::Typed));
            }
            RecordMessage::Current(field, typed) => {
                self.current = field;
                return self.update(RecordMessage::Typed(typed));
            }
            RecordMessage::Read(Ok(read)) => self.take_in(*read),
            RecordMessage::Read(Err(why)) => self.complaint = Some(why),
            RecordMessage::AddCode => self.add_code(),
            RecordMessage::Athlete(at) => self.athlete = at,
            RecordMessage::RemoveAthlete => {
                if self.athlete < self.noted.athletes.len() {
                    self.noted.athletes.remove(self.athlete);
                }
                self.athlete = self.athlete.min(self.noted.athletes.len().saturating_sub(1));
            }
            RecordMessage::Purpose(purpose) => {
                if !self.consent.purposes.remove(&purpose) {
                    self.consent.purposes.insert(purpose);
                }
            }
            RecordMessage::Agrees(agrees) => self.consent.agrees = agrees,
            RecordMessage::NoteConsent => self.note_consent(),
            RecordMessage::RemoveConsent(at) => {
                if let Some(athlete) = self.noted.athletes.get_mut(self.athlete)
                    && at < athlete.consents.len()
                {
                    athlete.consents.remove(at);
                }
            }
            RecordMessage::Others(others) => self.noted.others = others,
            RecordMessage::Injury(seen) => self.noted.injury_or_distress = seen,
            RecordMessage::Shows(shows) => self.noted.shows = shows,
            RecordMessage::StillHolds => self.still_holds = !self.still_holds,
            RecordMessage::Save => return self.save(),
            RecordMessage::Written(Ok(())) => return RecordAction::Done,
            RecordMessage::Written(Err(why)) => {
                (self.is_writing, self.complaint) = (false, Some(why));
            }
            RecordMessage::Leave => return RecordAction::Leave,
        }
        RecordAction::None
    }

    fn key_pressed(&mut self, event: &Event) -> RecordAction {
        let Event::KeyPressed { key, physical_key, modifiers, .. } = event else {
            return RecordAction::None;
        };
        let letter = key.to_latin(*physical_key).filter(|_| modifiers.command());
        match (key, letter) {
            (Key::Named(Named::Escape), _) => return RecordAction::Leave,
            (_, Some('s')) => return self.save(),
            (Key::Named(Named::Tab), _) => self.turn(modifiers.shift()),
            (Key::Named(Named::Enter), _) => match self.current {
                Field::Code => self.add_code(),
                Field::By | Field::Until => self.note_consent(),
                _ => return self.save(),
            },
            _ => {
                return typing::typed(event)
                    .map_or(RecordAction::None, |typed| self.update(RecordMessage::Typed(typed)));
            }
        }
        RecordAction::None
    }

    fn turn(&mut self, is_back: bool) {
        let all = Field::ALL;
        let here = self.current as usize;
        let by = if is_back { all.len() - 1 } else { 1 };
        self.current = all[(here + by) % all.len()];
    }

    pub(super) fn is_read(&self) -> bool {
        self.was.is_some()
    }

    fn text(&self, field: Field) -> String {
        self.lines[field as usize].text().trim().to_owned()
    }

    fn take_in(&mut self, read: ReadRecord) {
        (self.is_altered, self.today) = (read.is_altered, read.today);
        let day = |day: Option<Date>| day.map(|day| day.to_string()).unwrap_or_default();
        let noted = read.noted;
        for (field, text) in [
            (Field::DeleteBy, day(noted.delete_by)),
            (Field::Filmed, day(noted.filmed)),
            (Field::Source, noted.source.clone()),
            (Field::Notes, noted.notes.clone()),
        ] {
            self.lines[field as usize] = Line::new(text);
        }
        // Who is judged on it is offered as long as nobody is noted.
        if !noted.athletes.is_empty() {
            self.lines[Field::Code as usize] = Line::default();
        }
        self.noted = noted.clone();
        self.was = Some(noted);
    }

    fn add_code(&mut self) {
        match self.text(Field::Code).parse::<Code>() {
            Ok(code) => {
                self.noted.shows = Shows::People;
                self.noted.athlete_mut(code.as_str());
                let at = self.noted.athletes.iter().position(|it| it.code == code.as_str());
                self.athlete = at.unwrap_or(0);
                self.lines[Field::Code as usize] = Line::default();
                (self.current, self.complaint) = (Field::By, None);
            }
            Err(why) => self.complaint = Some(why.to_string()),
        }
    }

    fn day(&self, field: Field) -> Result<Option<Date>, String> {
        let text = self.text(field);
        if text.is_empty() {
            return Ok(None);
        }
        let wrong = |_| format!("{}: write a day as 2026-10-17, not \"{text}\".", field.says());
        text.parse().map(Some).map_err(wrong)
    }

    fn note_consent(&mut self) {
        let complain = |form: &mut Self, why: &str| form.complaint = Some(why.to_owned());
        let Some(athlete) = self.noted.athletes.get(self.athlete) else {
            return complain(self, "Add the athlete's code first.");
        };
        let Ok(code) = athlete.code.parse::<Code>() else {
            return complain(self, "What is noted here as a code is none; remove it first.");
        };
        if self.consent.purposes.is_empty() {
            return complain(self, "Press what the consent is for.");
        }
        let by = self.text(Field::By);
        if by.is_empty() {
            self.current = Field::By;
            return complain(self, "Write who holds the signed form.");
        }
        match self.day(Field::Until) {
            Ok(until) => {
                let consent = NewConsent { by, until, ..self.consent.clone() };
                self.noted.note_consent(&code, &consent, self.today);
                (self.consent, self.complaint) = (NewConsent::default(), None);
            }
            Err(why) => self.complaint = Some(why),
        }
    }

    fn save(&mut self) -> RecordAction {
        let Some(was) = self.was.clone().filter(|_| !self.is_writing) else {
            return RecordAction::None;
        };
        let mut now = self.noted.clone();
        (now.source, now.notes) = (self.text(Field::Source), self.text(Field::Notes));
        match (self.day(Field::DeleteBy), self.day(Field::Filmed)) {
            (Ok(delete_by), Ok(filmed)) => (now.delete_by, now.filmed) = (delete_by, filmed),
            (Err(why), _) | (_, Err(why)) => {
                self.complaint = Some(why);
                return RecordAction::None;
            }
        }
        self.is_writing = true;
        let (clip, holds) = (self.clip.clone(), self.still_holds);
        let writing = tokio::task::spawn_blocking(move || {
            write_record(&clip, (&was, &now), holds).map_err(|error| error.to_string())
        });
        RecordAction::Run(Task::perform(writing, |written| {
            RecordMessage::Written(written.unwrap_or_else(|error| Err(error.to_string())))
        }))
    }
}
