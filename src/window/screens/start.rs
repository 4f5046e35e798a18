//! The start screen: which clip?

use std::path::{Path, PathBuf};

use iced::{
    Alignment, Element, Length, Task,
    keyboard::Event,
    widget::{center, column, container, row, scrollable, space},
};

use crate::{
    units::counted,
    window::{
        controls::{button, quiet_button},
        keymap::{self, Command, Everywhere, StartCommand},
        memory::{Kept, Memory},
        theme::{self, part, size, text},
        typing::Typed,
    },
};

use super::choice::{self, Choice, ChoiceKey};

/// What the start screen knows.
#[derive(Debug, Default)]
pub(crate) struct Start {
    choice: Choice,
    busy: Option<Busy>,
    complaint: Option<String>,
    /// Marks that wait for their clip to be pointed at.
    marks: Option<PathBuf>,
}

/// What is being waited for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Busy {
    /// A clip is read.
    Opening(PathBuf),
    /// The sample clips are drawn.
    Demo,
    /// Calls are compared with this reference.
    Comparing(PathBuf),
}

/// What happened on the start screen.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// Something was done to the path.
    Typed(Typed),
    /// A file is to be chosen.
    Asked,
    /// A file was chosen, or none.
    Chosen(Option<PathBuf>),
    /// A recent clip was pressed.
    RecentPressed(PathBuf),
    /// Recent clips are to be forgotten.
    Forget,
    /// Recent clips are to be remembered from now on, or no longer.
    TurnRecent,
    /// The sample clips are wanted.
    DemoAsked,
    /// Figures for the eye are wanted.
    EyeAsked,
    /// The library is wanted, with these words searched for.
    LibraryAsked(&'static str),
    /// A rule book of one's own is wanted.
    BooksAsked,
    /// What is waited for is no longer wanted.
    Stopped,
    /// The program's own commands.
    Own(Everywhere),
    /// A key was pressed.
    KeyPressed(Event),
}

/// What the start screen asks of the program.
pub(crate) enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To open a clip, with marks where some wait for it.
    Open(PathBuf, Option<PathBuf>),
    /// To draw the sample clips and open one.
    Demo,
    /// To show figures for the eye.
    TrainEye,
    /// To show the library with these words searched for.
    ShowLibrary(&'static str),
    /// To ask for a rule book of one's own.
    ShowBooks,
    /// To stop what it waits for.
    Stop,
    /// To change what is remembered.
    Remember(Change),
    /// A command that every screen has.
    Own(Everywhere),
}

/// A change of what is remembered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Change {
    /// Recent clips are forgotten.
    Forget,
    /// They are kept from now on, or no longer.
    Turn,
}

impl Start {
    /// Returns the screen while something is waited for.
    pub(crate) fn waiting(busy: Busy) -> Self {
        Self { busy: Some(busy), ..Self::default() }
    }

    /// Returns the screen with what went wrong.
    pub(crate) fn complaining(path: &Path, complaint: String) -> Self {
        Self { choice: Choice::of(path), complaint: Some(complaint), ..Self::default() }
    }

    /// Returns the screen that asks for the clip of these marks.
    pub(crate) fn looking_for_clip_of(marks: PathBuf, complaint: String) -> Self {
        Self { marks: Some(marks), complaint: Some(complaint), ..Self::default() }
    }

    /// Returns what is waited for.
    pub(crate) fn busy(&self) -> Option<&Busy> {
        self.busy.as_ref()
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message, memory: &Memory) -> Action {
        match message {
            Message::Typed(typed) => self.typed(&typed),
            Message::Asked => Self::ask(memory),
            Message::Chosen(path) => path.map_or(Action::None, |path| self.open(path)),
            Message::RecentPressed(path) => self.open(path),
            Message::Forget => Action::Remember(Change::Forget),
            Message::TurnRecent => Action::Remember(Change::Turn),
            Message::DemoAsked => Action::Demo,
            Message::EyeAsked => Action::TrainEye,
            Message::LibraryAsked(words) => Action::ShowLibrary(words),
            Message::BooksAsked => Action::ShowBooks,
            Message::Stopped => Action::Stop,
            Message::Own(command) => Action::Own(command),
            Message::KeyPressed(event) => self.key_pressed(&event, memory),
        }
    }

    fn typed(&mut self, typed: &Typed) -> Action {
        self.complaint = None;
        Action::Run(self.choice.take(typed).task(Message::Typed))
    }

    fn key_pressed(&mut self, event: &Event, memory: &Memory) -> Action {
        match (keymap::at_start(event), choice::key_for(event)) {
            (_, Some(ChoiceKey::Leave)) if self.busy.is_some() => Action::Stop,
            _ if self.busy.is_some() => Action::None,
            (Some(StartCommand::Demo), _) => Action::Demo,
            (Some(StartCommand::TrainEye), _) => Action::TrainEye,
            (Some(StartCommand::Library), _) => Action::ShowLibrary(""),
            (Some(StartCommand::Books), _) => Action::ShowBooks,
            (_, Some(key)) => self.choose(key, memory),
            (_, None) => Action::None,
        }
    }

    fn choose(&mut self, key: ChoiceKey, memory: &Memory) -> Action {
        match key {
            ChoiceKey::Leave => return self.typed(&Typed::Text(String::new())),
            ChoiceKey::Pick(by) => self.choice.pick(by, memory.recent.len()),
            ChoiceKey::Submit => match self.choice.chosen(&memory.recent) {
                Some(path) => return self.open(path),
                None => return Self::ask(memory),
            },
            ChoiceKey::Ask => return Self::ask(memory),
            ChoiceKey::Typed(typed) => return self.typed(&typed),
        }
        Action::None
    }

    fn ask(memory: &Memory) -> Action {
        Action::Run(choice::ask(memory.recent.first().map(PathBuf::as_path), Message::Chosen))
    }

    fn open(&mut self, path: PathBuf) -> Action {
        Action::Open(path, self.marks.take())
    }

    /// Draws the screen.
    pub(crate) fn view<'a>(&'a self, memory: &'a Memory, due: usize) -> Element<'a, Message> {
        let name = column![
            text("Stillcall").size(size::TITLE).font(theme::STRONG),
            text("Find the deciding frame, write down what you see, get a sheet to talk about.")
                .style(theme::ink(theme::INK_QUIET)),
        ]
        .spacing(theme::space::TIGHT);
        let body = match &self.busy {
            Some(busy) => waiting(busy),
            None => self.asking(memory),
        };
        let due = (due > 0).then(|| due_line(due));
        let card = column![name].push(due).push(body).push(foot(memory));
        let card = scrollable(card.spacing(theme::space::LARGE)).style(theme::lane);
        let card =
            container(card).width(part::DIALOGUE).padding(theme::space::WIDE).style(theme::sheet);
        center(card).padding(theme::space::MIDDLE).style(theme::stage).into()
    }

    fn asking<'a>(&'a self, memory: &'a Memory) -> Element<'a, Message> {
        let path = self.choice.field(Message::Typed);
        let open = button("Open a clip …")
            .padding([theme::space::SMALL, theme::space::MIDDLE])
            .style(theme::main_button)
            .on_press(Message::Asked);
        let ask = row![open, path].spacing(theme::space::SMALL).align_y(Alignment::Center);
        let mut body = column![ask].spacing(theme::space::MIDDLE);
        if let Some(complaint) = &self.complaint {
            let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
            let said = text(complaint).width(Length::Fill);
            body = body.push(row![sign, said].spacing(theme::space::SMALL));
        }
        body.push(self.recent(memory)).into()
    }

    fn recent<'a>(&self, memory: &'a Memory) -> Element<'a, Message> {
        let heading = text("Opened last").size(size::SMALL).font(theme::STRONG);
        let forget = (!memory.recent.is_empty()).then(|| quiet_button("Clear", Message::Forget));
        let turn = match memory.recent_kept {
            Kept::Yes => "Stop listing",
            Kept::No => "List again",
        };
        let head = row![heading, space().width(Length::Fill)]
            .push(forget)
            .push(quiet_button(turn, Message::TurnRecent))
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center);
        let list: Element<'_, Message> = if memory.recent.is_empty() {
            text(match memory.recent_kept {
                Kept::Yes => "Clips that you open are listed here.",
                Kept::No => "Clips are not listed on this computer.",
            })
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET))
            .into()
        } else {
            self.choice.list(&memory.recent, Message::RecentPressed)
        };
        column![head, list].spacing(theme::space::TIGHT).into()
    }
}

fn foot(memory: &Memory) -> Element<'_, Message> {
    let said = "Marks are kept in a file beside the clip; the clip itself is never changed. A \
                clip, a marks file, a set to practise or a folder of clips may also be dropped on \
                this window.";
    let said = text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
    let demo = quiet_button(keyed("Sample clips", StartCommand::Demo), Message::DemoAsked);
    let eye = quiet_button(keyed("Train the eye", StartCommand::TrainEye), Message::EyeAsked);
    let library = quiet_button(keyed("Library", StartCommand::Library), Message::LibraryAsked(""));
    let books = quiet_button(keyed("Your rule book", StartCommand::Books), Message::BooksAsked);
    let look = keyed(memory.look.says(), Everywhere::NextLook);
    let size_now = format!("Size {} % (Ctrl + −)", memory.text_size);
    let look = quiet_button(look, Message::Own(Everywhere::NextLook));
    let size_now = quiet_button(size_now, Message::Own(Everywhere::TextSize(1)));
    let rows = column![
        row![library, books, eye].spacing(theme::space::SMALL).wrap(),
        row![demo, look, size_now].spacing(theme::space::SMALL).wrap(),
    ]
    .spacing(theme::space::SMALL);
    column![said, rows].spacing(theme::space::MIDDLE).into()
}

/// Clips that are to be deleted by today, which lead to the library.
fn due_line<'a>(due: usize) -> Element<'a, Message> {
    let said = format!("! {} of the library to be deleted by today", counted(due, "clip"));
    let said = text(said).style(theme::ink(theme::INK_MISSED)).width(Length::Fill);
    row![said, quiet_button("Show", Message::LibraryAsked("due"))]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
}

fn keyed(label: &str, command: impl Command) -> String {
    format!("{label} ({})", keymap::key_of(command))
}

fn waiting<'a>(busy: &Busy) -> Element<'a, Message> {
    let (what, why) = match busy {
        Busy::Opening(path) => {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            (
                format!("Reading {name} …"),
                "Every frame is counted once, so that each has its number.",
            )
        }
        Busy::Comparing(_) => ("Comparing …".to_owned(), "Every file is read and scored."),
        Busy::Demo => (
            "Drawing the sample clips …".to_owned(),
            "This takes a few minutes the first time. They are kept for the next.",
        ),
    };
    column![
        text(what),
        text(why).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        quiet_button("Stop (Esc)", Message::Stopped),
    ]
    .spacing(theme::space::SMALL)
    .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_that_wait_for_their_clip_are_opened_with_it() {
        let marks = PathBuf::from("/clips/a.mp4.1.J.marks.json");
        let mut start = Start::looking_for_clip_of(marks.clone(), "gone".to_owned());
        let chosen = Message::Chosen(Some("/new/a.mp4".into()));
        let action = start.update(chosen, &Memory::default());
        assert!(matches!(action, Action::Open(_, Some(with)) if with == marks));
    }
}
