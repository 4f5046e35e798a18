//! Who sits? Asked before a sitting where nobody said so.

use iced::{
    Alignment, Element, Length, Task,
    keyboard::{Event, Key, key::Named},
    widget::{center, column, container, row, space},
};

use crate::{
    library::Code,
    practice::{gather, sitting::Mode},
    sheet::CAUTION,
    units::counted,
    window::{
        controls::button,
        theme::{self, Current, part, size, text},
        typing::{self, Line, Typed},
    },
};

use super::loaded::Loaded;

/// Code that a group has where nobody says another.
const GROUP: &str = "group";

/// The form.
pub(crate) struct Begin {
    loaded: Loaded,
    /// Code of one person and of a group.
    codes: [Line; 2],
    mode: Mode,
    complaint: Option<String>,
}

/// What happened on it.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// Something was done to the code.
    Typed(Typed),
    /// Somebody else answers: one person, or a group.
    ModeChosen(Mode),
    /// The other one answers.
    ModeTurned,
    /// It is so.
    Submitted,
    /// Everybody's sittings are to be compared.
    CompareAsked,
    /// The start screen is wanted.
    Left,
}

/// What the form asks for.
pub(crate) enum Asked {
    /// Nothing.
    Nothing,
    /// A task of its own.
    Run(Task<Message>),
    /// To open the sitting of this code.
    Sit(Box<Loaded>, String, Mode),
    /// To show how well these calls agree.
    Compare(gather::AgreementWanted),
    /// The start screen.
    Leave,
}

impl Begin {
    /// Returns the form with a code that is offered.
    pub(crate) fn new(loaded: Loaded, code: &str, mode: Mode) -> Self {
        let (one, group) = match mode {
            Mode::Person => (code, GROUP),
            Mode::Group => ("", code),
        };
        let mut codes = [Line::new(one), Line::new(group)];
        codes.iter_mut().for_each(Line::select_all);
        Self { loaded, codes, mode, complaint: None }
    }

    /// Returns the form with what went wrong.
    #[must_use]
    pub(crate) fn complaining(mut self, why: String) -> Self {
        self.complaint = Some(why);
        self
    }

    /// Says what went wrong.
    pub(crate) fn complain(&mut self, why: String) {
        self.complaint = Some(why);
    }

    /// Returns the window's title.
    pub(crate) fn title(&self) -> String {
        format!("{} · Stillcall", self.loaded.set.title)
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Asked {
        match message {
            Message::Typed(typed) => {
                self.complaint = None;
                Asked::Run(self.code().take(&typed).task(Message::Typed))
            }
            Message::ModeChosen(mode) => {
                self.mode = mode;
                Asked::Nothing
            }
            Message::ModeTurned => {
                self.mode = match self.mode {
                    Mode::Person => Mode::Group,
                    Mode::Group => Mode::Person,
                };
                Asked::Nothing
            }
            Message::Submitted => self.submit(),
            Message::CompareAsked if self.loaded.sittings.is_empty() => {
                self.complaint = Some("Nobody has sat this set yet.".to_owned());
                Asked::Nothing
            }
            Message::CompareAsked => Asked::Compare(gather::AgreementWanted {
                reference: self.loaded.file.clone(),
                others: self.loaded.sittings.clone(),
                rulebook: None,
            }),
            Message::Left => Asked::Leave,
        }
    }

    fn code(&mut self) -> &mut Line {
        &mut self.codes[self.mode as usize]
    }

    fn submit(&mut self) -> Asked {
        let code = self.code().text().trim().to_owned();
        if code.is_empty() {
            self.complaint = Some("Write a code, such as J-2. Never a name.".to_owned());
            return Asked::Nothing;
        }
        if self.mode == Mode::Person
            && let Err(error) = code.parse::<Code>()
        {
            self.complaint = Some(format!("{error}."));
            return Asked::Nothing;
        }
        Asked::Sit(Box::new(self.loaded.clone()), code, self.mode)
    }

    /// Draws the form.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let set = &self.loaded.set;
        let looks = counted(set.looks.iter().filter(|look| look.may_be_shown()).count(), "look");
        let limit = match set.seconds {
            0 => "no time limit".to_owned(),
            seconds => format!("{seconds} s to answer"),
        };
        let about = format!("{looks}, {limit} · {}", self.loaded.book.title);
        let heading = column![
            text(&set.title).size(size::LEAD).font(theme::STRONG),
            text(about).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        ]
        .spacing(theme::space::HAIR);
        let line = &self.codes[self.mode as usize];
        let (label, hint) = match self.mode {
            Mode::Person => ("Judge", "code, never a name: J-2"),
            Mode::Group => ("Group", "code: group"),
        };
        let field = typing::field(line, hint, Current::Yes, Message::Typed);
        let modes = [("One person", Mode::Person), ("A group, by hands", Mode::Group)];
        let modes = modes.map(|(label, mode)| {
            button(text(label))
                .padding([theme::space::TIGHT, theme::space::SMALL])
                .style(if mode == self.mode { theme::main_button } else { theme::other_button })
                .on_press(Message::ModeChosen(mode))
                .into()
        });
        let said = text(
            "Each look plays once. Answers are kept in a file beside the set; the same code goes \
             on where it was broken off.",
        )
        .size(size::SMALL)
        .style(theme::ink(theme::INK_QUIET));
        let complaint = self.complaint.as_ref();
        let complaint = complaint.map(|why| text(why).style(theme::ink(theme::INK_MISSED)));
        let warnings = (!self.loaded.warnings.is_empty()).then(|| {
            text(&self.loaded.warnings).size(size::SMALL).style(theme::ink(theme::INK_OPEN))
        });
        let content = column![
            heading,
            labelled("Who", row(modes).spacing(theme::space::TIGHT).into()),
            labelled(label, field),
        ]
        .push(complaint)
        .push(warnings)
        .push(said)
        .push(text(CAUTION).size(size::SMALL).style(theme::ink(theme::INK_QUIET)))
        .push(foot())
        .spacing(theme::space::MIDDLE);
        let sheet = container(content)
            .width(part::DIALOGUE)
            .padding(theme::space::LARGE)
            .style(theme::sheet);
        center(sheet).padding(theme::space::MIDDLE).style(theme::stage).into()
    }
}

fn labelled<'a>(label: &'a str, content: Element<'a, Message>) -> Element<'a, Message> {
    row![text(label).width(part::LABEL).style(theme::ink(theme::INK_QUIET)), content]
        .align_y(Alignment::Center)
        .into()
}

fn foot<'a>() -> Element<'a, Message> {
    row![
        text("↓ one person, a group").size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        space().width(Length::Fill),
        button("Agreement (Ctrl Enter)").style(theme::other_button).on_press(Message::CompareAsked),
        button("Cancel").style(theme::other_button).on_press(Message::Left),
        button("Begin (Enter)").style(theme::main_button).on_press(Message::Submitted),
    ]
    .spacing(theme::space::SMALL)
    .align_y(Alignment::Center)
    .into()
}

/// Returns what a key means on the form.
pub(crate) fn message_for(event: &Event) -> Option<Message> {
    let Event::KeyPressed { key, modifiers, .. } = event else { return None };
    match key {
        Key::Named(Named::Enter) if modifiers.command() => Some(Message::CompareAsked),
        Key::Named(Named::Enter) => Some(Message::Submitted),
        Key::Named(Named::ArrowDown | Named::ArrowUp) => Some(Message::ModeTurned),
        Key::Named(Named::Escape) => Some(Message::Left),
        _ => typing::typed(event).map(Message::Typed),
    }
}
