//! Which clip is to lie beside the first one?

use std::path::{Path, PathBuf};

use iced::{
    Alignment, Element, Length,
    widget::{center, column, row},
};

use crate::window::{
    controls::{button, quiet_button},
    screens::choice::Choice,
    theme::{self, part, size, text},
};

use super::message::Pressed;

/// What is known while the second clip is asked for.
#[derive(Default)]
pub(crate) struct Ask {
    pub(crate) choice: Choice,
    /// Clips opened last, without the first one.
    pub(crate) recent: Vec<PathBuf>,
    /// Why the one that was named could not be opened.
    pub(crate) complaint: Option<String>,
    /// The clip that is being read.
    pub(crate) opening: Option<PathBuf>,
}

impl Ask {
    /// Returns the question beside a clip; `recent` are those opened last.
    pub(crate) fn beside(first: &Path, recent: &[PathBuf]) -> Self {
        let first = std::path::absolute(first).unwrap_or_else(|_| first.to_owned());
        let recent = recent.iter().filter(|path| **path != first).cloned().collect();
        Self { recent, ..Self::default() }
    }

    /// Says that a clip could not be opened.
    pub(crate) fn fail(&mut self, path: &Path, why: String) {
        (self.choice, self.complaint, self.opening) = (Choice::of(path), Some(why), None);
    }

    /// Draws the question, or what is waited for.
    pub(crate) fn view(&self) -> Element<'_, Pressed> {
        let asked = match &self.opening {
            Some(path) => reading(path),
            None => self.question(),
        };
        center(column![asked].max_width(part::DIALOGUE)).padding(theme::space::WIDE).into()
    }

    fn question(&self) -> Element<'_, Pressed> {
        let head = column![
            text("Which clip beside this one?").size(size::LEAD).font(theme::STRONG),
            text("Last month's cast beside today's: both are stepped together from one moment.")
                .style(theme::ink(theme::INK_QUIET)),
        ]
        .spacing(theme::space::TIGHT);
        let open = button("Open a clip …")
            .padding([theme::space::SMALL, theme::space::MIDDLE])
            .style(theme::main_button)
            .on_press(Pressed::Dialogue);
        let path = self.choice.field(Pressed::Typed);
        let ask = row![open, path].spacing(theme::space::SMALL).align_y(Alignment::Center);
        let mut body = column![head, ask].spacing(theme::space::LARGE);
        if let Some(complaint) = &self.complaint {
            let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
            let said = text(complaint).width(Length::Fill);
            body = body.push(row![sign, said].spacing(theme::space::SMALL));
        }
        if !self.recent.is_empty() {
            let heading = text("Opened last").size(size::SMALL).font(theme::STRONG);
            let list = self.choice.list(&self.recent, Pressed::Recent);
            body = body.push(column![heading, list].spacing(theme::space::TIGHT));
        }
        body.push(quiet_button("Back (Esc)", Pressed::Leave)).into()
    }
}

fn reading<'a>(path: &Path) -> Element<'a, Pressed> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    column![text(format!("Reading {name} …")), quiet_button("Stop (Esc)", Pressed::Leave),]
        .spacing(theme::space::SMALL)
        .into()
}
