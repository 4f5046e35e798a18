//! The start screen: which clip?

use std::path::{Path, PathBuf};

use iced::{
    Alignment, Element, Length, Task,
    keyboard::{Event, Key, key::Named},
    widget::{button, center, column, container, row, text, text_input},
};

use super::theme::{self, part, size};

/// What the start screen knows.
#[derive(Debug, Default)]
pub struct Start {
    path: String,
    opening: Option<PathBuf>,
    complaint: Option<String>,
}

/// What happened on the start screen.
#[derive(Clone, Debug)]
pub enum Message {
    /// The path was edited.
    PathWritten(String),
    /// The path is to be opened.
    PathSubmitted,
    /// A file is to be chosen.
    Asked,
    /// A file was chosen, or none.
    Chosen(Option<PathBuf>),
    /// A key was pressed.
    KeyPressed(Event),
}

/// What the start screen asks of the program.
pub enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To open a clip.
    Open(PathBuf),
}

impl Start {
    /// Returns the screen while a clip is being opened.
    pub fn opening(path: PathBuf) -> Self {
        Self { opening: Some(path), ..Self::default() }
    }

    /// Returns the screen with what went wrong.
    pub fn complaining(path: &Path, complaint: String) -> Self {
        Self {
            path: path.to_string_lossy().into_owned(),
            opening: None,
            complaint: Some(complaint),
        }
    }

    /// Does what a message asks for.
    pub fn update(&mut self, message: Message) -> Action {
        match message {
            Message::PathWritten(path) => self.path_written(path),
            Message::PathSubmitted => self.path_submitted(),
            Message::Asked => Action::Run(ask()),
            Message::Chosen(path) => path.map_or(Action::None, Action::Open),
            Message::KeyPressed(event) => key_pressed(&event),
        }
    }

    fn path_written(&mut self, path: String) -> Action {
        self.path = path;
        self.complaint = None;
        Action::None
    }

    fn path_submitted(&mut self) -> Action {
        // A path that was copied from a terminal or a file manager may come in quotes.
        let path = self.path.trim().trim_matches(['"', '\'']);
        if path.is_empty() { Action::Run(ask()) } else { Action::Open(path.into()) }
    }

    /// Draws the screen.
    pub fn view(&self) -> Element<'_, Message> {
        let name = column![
            text("Stillcall").size(size::TITLE).font(theme::STRONG),
            text("Find the deciding frame, write down what you see, get a sheet to talk about.")
                .style(theme::ink(theme::INK_QUIET)),
        ]
        .spacing(theme::space::TIGHT);
        let body: Element<'_, Message> = match &self.opening {
            Some(path) => opening(path),
            None => self.asking(),
        };
        let card = container(column![name, body].spacing(theme::space::LARGE))
            .width(part::DIALOGUE)
            .padding(theme::space::WIDE)
            .style(theme::sheet);
        center(card).style(theme::stage).into()
    }

    fn asking(&self) -> Element<'_, Message> {
        let path = text_input("or type its path", &self.path)
            .on_input(Message::PathWritten)
            .on_submit(Message::PathSubmitted)
            .padding(theme::space::SMALL)
            .style(theme::field);
        let open = button("Open a clip …")
            .padding([theme::space::SMALL, theme::space::MIDDLE])
            .style(theme::main_button)
            .on_press(Message::Asked);
        let ask = row![open, path].spacing(theme::space::SMALL).align_y(Alignment::Center);
        let mut body = column![ask].spacing(theme::space::MIDDLE);
        if let Some(complaint) = &self.complaint {
            body = body.push(
                row![
                    text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED)),
                    text(complaint).width(Length::Fill),
                ]
                .spacing(theme::space::SMALL),
            );
        }
        body.push(
            text("Enter opens a clip. Marks are kept in a file beside it; the clip itself is never changed.")
                .size(size::SMALL)
                .style(theme::ink(theme::INK_QUIET)),
        )
        .into()
    }
}

fn opening<'a>(path: &Path) -> Element<'a, Message> {
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    column![
        text(format!("Reading {name} …")),
        text("Every frame is counted once, so that each has its number.")
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET)),
    ]
    .spacing(theme::space::TIGHT)
    .into()
}

fn key_pressed(event: &Event) -> Action {
    let Event::KeyPressed { key, physical_key, modifiers, .. } = event else {
        return Action::None;
    };
    let open = *key == Key::Named(Named::Enter)
        || (modifiers.command() && key.to_latin(*physical_key) == Some('o'));
    if open { Action::Run(ask()) } else { Action::None }
}

/// Lets the person choose a clip in the system's own dialogue.
pub fn ask() -> Task<Message> {
    let dialogue = rfd::AsyncFileDialog::new()
        .set_title("Open a clip")
        .add_filter(
            "Video",
            &["mp4", "mov", "m4v", "mkv", "webm", "avi", "mts", "m2ts", "ts", "3gp"],
        )
        .add_filter("All files", &["*"]);
    Task::perform(dialogue.pick_file(), |chosen| {
        Message::Chosen(chosen.map(|file| file.path().to_owned()))
    })
}
