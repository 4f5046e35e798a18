//! Several judges of one routine side by side, and what they agree on.

use std::{path::PathBuf, sync::Arc};

use iced::{
    Alignment, Element, Length,
    widget::{column, row, scrollable, space},
};

use crate::{
    judged::{Judging, is_watched},
    library::{Beside, Hit, Judges},
    marks::{self, StateFolder},
    units::counted,
    window::{
        controls::quiet_button,
        keymap::{self, LibraryCommand},
        theme::{self, size, text},
    },
};

use super::{
    aside::aside,
    message::{Action, Message},
    screen::Library,
};

/// Reads what the judges of a routine saw. Slow.
fn read(hit: &Hit) -> Result<Arc<Judges>, String> {
    let state = StateFolder::of_user();
    let of_routine = |path: &PathBuf| {
        marks::load(path, state.as_ref())
            .is_ok_and(|sheaf| sheaf.routine.id == hit.routine && is_watched(&sheaf))
    };
    let beside = hit.clip.as_deref().map(marks::beside).unwrap_or_default();
    let files: Vec<PathBuf> = beside.into_iter().filter(of_routine).collect();
    if files.len() < 2 {
        return Err("Only one judge has marked this routine.".to_owned());
    }
    let judges = Judges::of(&files, &mut Judging::new(state.as_ref()));
    judges.map(Arc::new).map_err(|error| error.to_string())
}

/// Records that they agreed on one judge's marks. Slow.
fn agree(judges: &Judges, place: usize) -> Result<String, String> {
    let version = judges.marks.get(place).ok_or("there is no such judge")?;
    let record = judges.agree_on(version, &Judging::new(StateFolder::of_user().as_ref()));
    record
        .map(|_| format!("Agreed on what {} saw", judges.codes[place]))
        .map_err(|it| it.to_string())
}

impl Library {
    /// Puts the judges of the chosen routine side by side.
    pub(crate) fn show_judges(&mut self) -> Action {
        let Some(tile) = self.chosen.and_then(|place| self.tile(place)) else {
            self.said = Some("Choose a clip first.".to_owned());
            return Action::None;
        };
        let hit = tile.hit.clone();
        Action::Run(aside(move || read(&hit), Message::JudgesRead))
    }

    /// Records that the judges on screen agreed on what one of them saw.
    pub(crate) fn agree_on(&mut self, place: usize) -> Action {
        let Some(judges) = self.judges.take() else { return Action::None };
        Action::Run(aside(move || agree(&judges, place), Message::Done))
    }
}

/// Draws them.
pub(crate) fn view(judges: &Judges) -> Element<'_, Message> {
    let differing = judges.rows.iter().filter(|row| row.differs()).count();
    let said = format!(
        "{}, {} the same · {}",
        counted(differing, "difference"),
        judges.rows.len() - differing,
        judges.ruled.title()
    );
    let cell = |said: String| text(said).width(Length::FillPortion(2));
    let agree = judges.codes.iter().enumerate().map(|(place, code)| {
        let agree = quiet_button("All agree on this", Message::AgreedOn(place));
        let code = text(code.as_str()).font(theme::STRONG);
        column![code, agree].spacing(theme::space::TIGHT).width(Length::FillPortion(2)).into()
    });
    let head = row![space().width(Length::FillPortion(5))]
        .extend(agree)
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::End);
    let line = |asked: &Beside| -> Element<'_, Message> {
        let (sign, tint): (_, theme::Tint) =
            if asked.differs() { ("≠", theme::INK_MISSED) } else { ("=", theme::INK_QUIET) };
        let sign = text(sign).style(theme::ink(tint));
        let label = row![sign, text(asked.label.clone())].spacing(theme::space::SMALL);
        let answers = asked
            .answers
            .iter()
            .map(|answer| cell(answer.clone().unwrap_or_else(|| "–".to_owned())).into());
        row![label.width(Length::FillPortion(5))]
            .extend(answers)
            .spacing(theme::space::MIDDLE)
            .into()
    };
    let lines = column(judges.rows.iter().map(line)).spacing(theme::space::TIGHT);
    let leave = format!("Back ({})", keymap::key_of(LibraryCommand::Leave));
    let title = row![
        text("Judges side by side").font(theme::STRONG),
        text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).width(Length::Fill),
        quiet_button(leave, Message::Asked(LibraryCommand::Leave)),
    ]
    .spacing(theme::space::MIDDLE)
    .align_y(Alignment::Center);
    let remarks =
        judges.remarks.iter().map(|remark| text(remark.as_str()).size(size::SMALL).into());
    let lines = scrollable(lines).width(Length::Fill).height(Length::Fill).style(theme::lane);
    column![title, column(remarks), head, lines].spacing(theme::space::MIDDLE).into()
}
