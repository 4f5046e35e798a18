//! Choosing a clip: its path is typed, or it is one of those opened last.

use std::path::{Path, PathBuf};

use iced::{
    Element, Length, Task,
    keyboard::{Event, Key, key::Named},
    widget::{column, container, scrollable},
};

use crate::units;
use crate::window::{
    controls::button,
    theme::{self, Current, part, size, text},
    typing::{self, Line, Typed, Wish},
};

/// What is typed, and which of the recent clips is picked.
#[derive(Debug, Default)]
pub(crate) struct Choice {
    path: Line,
    /// The recent clip that is picked, by its place.
    picked: Option<usize>,
}

impl Choice {
    /// Returns the choice with a path that is typed already.
    pub(crate) fn of(path: &Path) -> Self {
        Self { path: Line::new(path.to_string_lossy()), picked: None }
    }

    /// Takes in what is done to the path.
    pub(crate) fn take(&mut self, typed: &Typed) -> Wish {
        self.picked = None;
        self.path.take(typed)
    }

    /// Picks another of so many recent clips.
    pub(crate) fn pick(&mut self, by: isize, count: usize) {
        self.picked = match (self.picked, count) {
            (_, 0) => None,
            (None, _) => Some(if by > 0 { 0 } else { count - 1 }),
            (Some(here), _) => Some(here.saturating_add_signed(by).min(count - 1)),
        };
    }

    /// Returns what is picked, else what is typed; nothing where neither is.
    pub(crate) fn chosen(&self, recent: &[PathBuf]) -> Option<PathBuf> {
        if let Some(path) = self.picked.and_then(|place| recent.get(place)) {
            return Some(path.clone());
        }
        // A path that was copied from a terminal or a file manager may come in quotes.
        let path = self.path.text().trim().trim_matches(['"', '\'']);
        (!path.is_empty()).then(|| path.into())
    }

    /// Draws the field of the path.
    pub(crate) fn field<'a, M: 'a>(&'a self, typed: impl Fn(Typed) -> M + 'a) -> Element<'a, M> {
        let current = Current::from(self.picked.is_none());
        typing::field(&self.path, "or type its path", current, typed)
    }

    /// Draws the recent clips.
    pub(crate) fn list<'a, M: Clone + 'a>(
        &self,
        recent: &'a [PathBuf],
        pressed: impl Fn(PathBuf) -> M,
    ) -> Element<'a, M> {
        let clips = recent.iter().enumerate();
        let clips = clips.map(|(place, path)| {
            recent_line(path, self.picked == Some(place), pressed(path.clone()))
        });
        let list = scrollable(column(clips)).style(theme::lane);
        container(list).max_height(part::RECENT).into()
    }
}

fn recent_line<'a, M: Clone + 'a>(path: &Path, picked: bool, pressed: M) -> Element<'a, M> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let folder = path.parent().unwrap_or(Path::new("")).to_string_lossy().into_owned();
    let line = column![
        text(name),
        text(folder)
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET))
            .wrapping(text::Wrapping::None),
    ];
    button(line)
        .width(Length::Fill)
        .clip(true)
        .padding([theme::space::TIGHT, theme::space::SMALL])
        .style(theme::paper_line(Current::from(picked)))
        .on_press(pressed)
        .into()
}

/// What a key means while a clip is chosen.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum ChoiceKey {
    /// What is typed or picked is to be opened.
    Submit,
    /// The system's dialogue is wanted.
    Ask,
    /// Another recent clip is picked.
    Pick(isize),
    /// Leaves, or stops what is waited for.
    Leave,
    /// Something is written.
    Typed(Typed),
}

/// Returns what a key means while a clip is chosen.
pub(crate) fn key_for(event: &Event) -> Option<ChoiceKey> {
    let Event::KeyPressed { key, physical_key, modifiers, .. } = event else { return None };
    let letter = key.to_latin(*physical_key).filter(|_| modifiers.command());
    match (key, letter) {
        (Key::Named(Named::Enter), _) => Some(ChoiceKey::Submit),
        (Key::Named(Named::Escape), _) => Some(ChoiceKey::Leave),
        (Key::Named(Named::ArrowDown), _) => Some(ChoiceKey::Pick(1)),
        (Key::Named(Named::ArrowUp), _) => Some(ChoiceKey::Pick(-1)),
        (_, Some('o')) => Some(ChoiceKey::Ask),
        _ => typing::typed(event).map(ChoiceKey::Typed),
    }
}

/// Lets the person choose a file in the system's own dialogue, which opens in the folder of `near`.
pub(crate) fn ask<M: Send + 'static>(
    near: Option<&Path>,
    chosen: impl Fn(Option<PathBuf>) -> M + Send + 'static,
) -> Task<M> {
    let dialogue = rfd::AsyncFileDialog::new()
        .set_title("Open a clip")
        .add_filter("Video", &video_endings())
        .add_filter("Marks", &["json"])
        .add_filter("Sets", &["toml"])
        .add_filter("All files", &["*"]);
    let dialogue = match near.and_then(Path::parent) {
        Some(folder) => dialogue.set_directory(folder),
        None => dialogue,
    };
    Task::perform(dialogue.pick_file(), move |file| chosen(file.map(|it| it.path().to_owned())))
}

/// Returns the endings of clips. Some systems tell capitals from small letters, and cameras write
/// capitals.
fn video_endings() -> Vec<String> {
    let endings = units::CONTAINERS.iter().flat_map(|row| row.endings);
    endings.flat_map(|ending| [(*ending).to_owned(), ending.to_uppercase()]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_ending_of_a_clip_is_offered_in_small_letters_and_capitals() {
        let offered = video_endings();
        for ending in units::CONTAINERS.iter().flat_map(|row| row.endings) {
            assert!(offered.iter().any(|it| it == ending), "{ending}");
            assert!(offered.contains(&ending.to_uppercase()), "{ending} in capitals");
        }
        assert!(["mp4", "MP4", "MTS"].iter().all(|it| offered.iter().any(|other| other == it)));
    }

    #[test]
    fn what_is_written_is_chosen_and_quotes_do_not_matter() {
        let mut choice = Choice::default();
        choice.take(&Typed::Text("\"/clips/a b.mp4\"".to_owned()));
        assert_eq!(choice.chosen(&[]), Some(PathBuf::from("/clips/a b.mp4")));
        assert_eq!(Choice::default().chosen(&[]), None);
    }

    #[test]
    fn a_recent_clip_is_two_keys_away() {
        let recent = ["/clips/new.mp4", "/clips/old.mp4"].map(PathBuf::from);
        let mut choice = Choice::default();
        for _ in 0..3 {
            choice.pick(1, 2);
        }
        assert_eq!(choice.chosen(&recent).as_ref(), Some(&recent[1]));
        // Whoever writes means what is written.
        choice.take(&Typed::Text("/x.mp4".to_owned()));
        assert_eq!(choice.chosen(&recent), Some(PathBuf::from("/x.mp4")));
    }
}
