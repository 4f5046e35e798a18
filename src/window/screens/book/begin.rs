//! Which book, and what a new one begins with.

use std::path::PathBuf;

use iced::{
    Element, Length, Task,
    keyboard::{Event, Key, key::Named},
    widget::{center, column, container, row, scrollable},
};

use crate::{
    rulebook::SHAPES,
    window::{
        controls::{button, quiet_button},
        theme::{self, Current, part, size, text},
        typing::{self, Line, Typed},
    },
};

/// The question for a book.
#[derive(Debug, Default)]
pub(crate) struct Begin {
    path: Line,
    shape: usize,
    is_opening: bool,
    complaint: Option<String>,
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum BeginMessage {
    /// A key was pressed.
    KeyPressed(Event),
    /// Something was done to the path.
    Typed(Typed),
    /// A shape was pressed.
    Shape(usize),
    /// A book is to be chosen in the system's dialogue, or a place for a new one.
    Asked {
        /// A new one is to be begun.
        is_new: bool,
    },
    /// A place was chosen, or none.
    Chosen(Option<PathBuf>),
    /// A book that was opened last was pressed.
    Recent(PathBuf),
    /// What is typed is to be opened or begun.
    Go,
    /// Back.
    Leave,
}

/// What the question asks of the program.
pub(crate) enum BeginAction {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<BeginMessage>),
    /// To open this book, or to begin it with the shape of this number.
    Open(PathBuf, usize),
    /// To go back.
    Leave,
}

impl Begin {
    /// Returns the question with what went wrong.
    pub(crate) fn complaining(path: &std::path::Path, why: String) -> Self {
        let path = Line::new(path.to_string_lossy());
        Self { path, complaint: Some(why), ..Self::default() }
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: BeginMessage) -> BeginAction {
        match message {
            BeginMessage::KeyPressed(event) => return self.key_pressed(&event),
            BeginMessage::Typed(typed) => {
                self.complaint = None;
                return BeginAction::Run(self.path.take(&typed).task(BeginMessage::Typed));
            }
            BeginMessage::Shape(shape) => self.shape = shape,
            BeginMessage::Asked { is_new } => return BeginAction::Run(ask(is_new)),
            BeginMessage::Chosen(None) => {}
            BeginMessage::Chosen(Some(path)) | BeginMessage::Recent(path) => {
                return self.open(path);
            }
            BeginMessage::Go => {
                let path = self.path.text().trim().trim_matches(['"', '\'']);
                if path.is_empty() {
                    self.complaint =
                        Some("Type where the book is to be kept, or choose it.".to_owned());
                } else {
                    let path = PathBuf::from(path);
                    return self.open(path);
                }
            }
            BeginMessage::Leave => return BeginAction::Leave,
        }
        BeginAction::None
    }

    fn open(&mut self, path: PathBuf) -> BeginAction {
        self.is_opening = true;
        // A book without an ending would be found by no dialogue again.
        let path = if path.extension().is_some() { path } else { path.with_extension("toml") };
        BeginAction::Open(path, self.shape)
    }

    fn key_pressed(&mut self, event: &Event) -> BeginAction {
        let Event::KeyPressed { key, .. } = event else { return BeginAction::None };
        match key {
            Key::Named(Named::Escape) => BeginAction::Leave,
            Key::Named(Named::Enter) => self.update(BeginMessage::Go),
            Key::Named(Named::ArrowDown) => {
                self.shape = (self.shape + 1).min(SHAPES.len() - 1);
                BeginAction::None
            }
            Key::Named(Named::ArrowUp) => {
                self.shape = self.shape.saturating_sub(1);
                BeginAction::None
            }
            _ => match typing::typed(event) {
                Some(typed) => self.update(BeginMessage::Typed(typed)),
                None => BeginAction::None,
            },
        }
    }

    /// Draws the question; `recent` are the books opened last.
    pub(crate) fn view<'a>(&'a self, recent: &'a [PathBuf]) -> Element<'a, BeginMessage> {
        let quiet =
            |said: &'static str| text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
        let strong = |said: &'static str| text(said).font(theme::STRONG);
        let shapes = SHAPES.iter().enumerate().map(|(at, shape)| {
            let mark = if at == self.shape { "● " } else { "○ " };
            let words = column![
                text(format!("{mark}{}", shape.says)),
                text(shape.example).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
            ];
            button(words)
                .width(Length::Fill)
                .padding([theme::space::TIGHT, theme::space::SMALL])
                .style(theme::paper_line(Current::from(at == self.shape)))
                .on_press(BeginMessage::Shape(at))
                .into()
        });
        let field = typing::field(
            &self.path,
            "or type its file: my-league.toml",
            Current::Yes,
            BeginMessage::Typed,
        );
        let new = button("Begin a new book …")
            .padding([theme::space::SMALL, theme::space::MIDDLE])
            .style(theme::main_button)
            .on_press(BeginMessage::Asked { is_new: true });
        let go = row![new, field, quiet_button("Go (Enter)", BeginMessage::Go)]
            .spacing(theme::space::SMALL)
            .align_y(iced::Alignment::Center);
        let complaint = self
            .complaint
            .as_ref()
            .map(|why| text(format!("✗ {why}")).style(theme::ink(theme::INK_MISSED)));
        let known = recent.iter().map(|path| {
            quiet_button(path.display().to_string(), BeginMessage::Recent(path.clone()))
        });
        let known = column(known).spacing(theme::space::TIGHT);
        let open = quiet_button("Open one …", BeginMessage::Asked { is_new: false });
        let opening = self.is_opening.then(|| quiet("Opening …"));
        let card = column![
            text("Your rule book").size(size::LEAD).font(theme::STRONG),
            quiet(
                "The divisions, elements and amounts of your own programme, typed in once from its \
                   current printed book. That book decides, not this one."
            ),
            strong("A new one: what does a score look like?"),
            column(shapes),
            go,
        ]
        .push(complaint)
        .push(opening)
        .push(strong("One that is there"))
        .push(known)
        .push(
            row![open, quiet_button("Back (Esc)", BeginMessage::Leave)]
                .spacing(theme::space::SMALL),
        )
        .spacing(theme::space::MIDDLE);
        let card = scrollable(card).style(theme::lane);
        let card =
            container(card).width(part::PAGE).padding(theme::space::LARGE).style(theme::sheet);
        center(card).padding(theme::space::MIDDLE).style(theme::stage).into()
    }
}

fn ask(is_new: bool) -> Task<BeginMessage> {
    let dialogue = rfd::AsyncFileDialog::new().add_filter("Rule books", &["toml", "TOML"]);
    let chosen = |file: Option<rfd::FileHandle>| {
        BeginMessage::Chosen(file.map(|file| file.path().to_owned()))
    };
    if is_new {
        let dialogue =
            dialogue.set_title("Where the new book is kept").set_file_name("my-league.toml");
        Task::perform(dialogue.save_file(), chosen)
    } else {
        Task::perform(dialogue.set_title("Open a rule book").pick_file(), chosen)
    }
}
