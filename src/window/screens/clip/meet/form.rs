//! What is written, and which key does what.

use iced::keyboard::{Event, Key, key::Named};

use crate::{
    library::{given, given_by},
    marks::{JudgeScore, RealResult},
    units::Points,
    window::typing::{self, Line, Typed},
};

/// The form.
#[derive(Debug)]
pub(crate) struct MeetForm {
    pub(super) lines: [Line; MeetField::ALL.len()],
    pub(super) current: MeetField,
    pub(super) complaint: Option<String>,
    /// Whether what is written is in the marks.
    pub(super) is_kept: bool,
}

/// A field that is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum MeetField {
    StartValue,
    Judges,
    Average,
}

impl MeetField {
    pub(super) const ALL: [Self; 3] = [Self::StartValue, Self::Judges, Self::Average];

    pub(super) const fn says(self) -> &'static str {
        match self {
            Self::StartValue => "Start value",
            Self::Judges => "Judges",
            Self::Average => "Score",
        }
    }

    pub(super) const fn hint(self) -> &'static str {
        match self {
            Self::StartValue => "10.0",
            Self::Judges => "what each gave, by code: J-2=9.15 J-3=9.2",
            Self::Average => "what theirs came to; 0 when it was void",
        }
    }
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum MeetMessage {
    Pointed(MeetField, Typed),
    Save,
    Leave,
}

impl MeetForm {
    pub(super) fn of(result: &RealResult) -> Self {
        let points = |points: Option<Points>| points.map(|it| it.to_string()).unwrap_or_default();
        let judges = result.judges.iter().map(|given| format!("{}={}", given.judge, given.score));
        let judges: Vec<String> = judges.collect();
        let lines = [points(result.start_value), judges.join(" "), points(result.average)];
        Self {
            lines: lines.map(Line::new),
            current: MeetField::StartValue,
            complaint: None,
            is_kept: !result.is_empty(),
        }
    }

    /// Returns what is written, or what is wrong with it; an empty field is nothing.
    pub(super) fn result(&self) -> Result<RealResult, String> {
        let written = |field: MeetField| self.lines[field as usize].text().trim();
        let points = |field: MeetField| match written(field) {
            "" => Ok(None),
            text => given(text).map(Some).map_err(|why| format!("{}: {why}.", field.says())),
        };
        let each = written(MeetField::Judges).split([' ', ',']).filter(|text| !text.is_empty());
        let judges: Result<Vec<JudgeScore>, String> = each.map(given_by).collect();
        let judges = judges.map_err(|why| format!("{}: {why}.", MeetField::Judges.says()))?;
        let twice = |(place, one): (usize, &JudgeScore)| {
            judges[..place].iter().any(|other| other.judge == one.judge).then(|| one.judge.clone())
        };
        if let Some(judge) = judges.iter().enumerate().find_map(twice) {
            return Err(format!("Judges: {judge} stands there twice."));
        }
        let start_value = points(MeetField::StartValue)?;
        Ok(RealResult { start_value, average: points(MeetField::Average)?, judges })
    }

    /// Returns what a key asks for.
    pub(in crate::window::screens::clip) fn message_for(
        &mut self,
        event: &Event,
    ) -> Option<MeetMessage> {
        let Event::KeyPressed { key, modifiers, .. } = event else { return None };
        match key {
            Key::Named(Named::Escape) => Some(MeetMessage::Leave),
            Key::Named(Named::Enter) => Some(MeetMessage::Save),
            Key::Named(Named::Tab) => {
                let all = MeetField::ALL;
                let by = if modifiers.shift() { all.len() - 1 } else { 1 };
                self.current = all[(self.current as usize + by) % all.len()];
                None
            }
            _ => typing::typed(event).map(|typed| self.typed(typed)),
        }
    }

    pub(in crate::window::screens::clip) fn typed(&self, typed: Typed) -> MeetMessage {
        MeetMessage::Pointed(self.current, typed)
    }
}
