//! The start screen: which clip?

use std::path::{Path, PathBuf};

use iced::{
    Alignment, Element, Length, Task,
    keyboard::{Event, Key, key::Named},
    widget::{button, center, column, container, row, scrollable, space, text},
};

use super::{
    keymap::{self, Command},
    memory::{Kept, Memory},
    theme::{self, Current, part, size},
    typing::{self, Line, Typed},
};

/// What the start screen knows.
#[derive(Debug, Default)]
pub struct Start {
    path: Line,
    /// The recent clip that is picked, by its place.
    picked: Option<usize>,
    busy: Option<Busy>,
    complaint: Option<String>,
    /// Marks that wait for their clip to be pointed at.
    marks: Option<PathBuf>,
}

/// What is being waited for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Busy {
    /// A clip is read.
    Opening(PathBuf),
    /// The sample clips are drawn.
    Demo,
    /// Calls are compared with this reference.
    Comparing(PathBuf),
}

/// What happened on the start screen.
#[derive(Clone, Debug)]
pub enum Message {
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
    /// What is waited for is no longer wanted.
    Stopped,
    /// The program's own commands.
    Own(Command),
    /// A key was pressed.
    KeyPressed(Event),
}

/// What the start screen asks of the program.
pub enum Action {
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
    /// To stop what it waits for.
    Stop,
    /// To change what is remembered.
    Remember(Change),
    /// A command that every screen has.
    Own(Command),
}

/// A change of what is remembered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// Recent clips are forgotten.
    Forget,
    /// They are kept from now on, or no longer.
    Turn,
}

impl Start {
    /// Returns the screen while something is waited for.
    pub fn waiting(busy: Busy) -> Self {
        Self { busy: Some(busy), ..Self::default() }
    }

    /// Returns the screen with what went wrong.
    pub fn complaining(path: &Path, complaint: String) -> Self {
        let path = Line::new(path.to_string_lossy());
        Self { path, complaint: Some(complaint), ..Self::default() }
    }

    /// Returns the screen that asks for the clip of these marks.
    pub fn looking_for_clip_of(marks: PathBuf, complaint: String) -> Self {
        Self { marks: Some(marks), complaint: Some(complaint), ..Self::default() }
    }

    /// Returns what is waited for.
    pub fn busy(&self) -> Option<&Busy> {
        self.busy.as_ref()
    }

    /// Does what a message asks for.
    pub fn update(&mut self, message: Message, memory: &Memory) -> Action {
        match message {
            Message::Typed(typed) => self.typed(&typed),
            Message::Asked => Action::Run(ask()),
            Message::Chosen(path) => path.map_or(Action::None, |path| self.open(path)),
            Message::RecentPressed(path) => self.open(path),
            Message::Forget => Action::Remember(Change::Forget),
            Message::TurnRecent => Action::Remember(Change::Turn),
            Message::DemoAsked => Action::Demo,
            Message::EyeAsked => Action::TrainEye,
            Message::Stopped => Action::Stop,
            Message::Own(command) => Action::Own(command),
            Message::KeyPressed(event) => self.key_pressed(&event, memory),
        }
    }

    fn typed(&mut self, typed: &Typed) -> Action {
        self.complaint = None;
        self.picked = None;
        Action::Run(self.path.take(typed).task(Message::Typed))
    }

    fn key_pressed(&mut self, event: &Event, memory: &Memory) -> Action {
        match key_for(event) {
            Some(StartKey::Stop) if self.busy.is_some() => Action::Stop,
            _ if self.busy.is_some() => Action::None,
            Some(StartKey::Stop) => self.typed(&Typed::Text(String::new())),
            Some(StartKey::Pick(by)) => self.pick(by, memory.recent.len()),
            Some(StartKey::Submit) => self.submit(memory),
            Some(StartKey::Ask) => Action::Run(ask()),
            Some(StartKey::Demo) => Action::Demo,
            Some(StartKey::Eye) => Action::TrainEye,
            Some(StartKey::Typed(typed)) => self.typed(&typed),
            None => Action::None,
        }
    }

    fn pick(&mut self, by: isize, count: usize) -> Action {
        self.picked = match (self.picked, count) {
            (_, 0) => None,
            (None, _) => Some(if by > 0 { 0 } else { count - 1 }),
            (Some(here), _) => Some(here.saturating_add_signed(by).min(count - 1)),
        };
        Action::None
    }

    /// Opens what is written, else what is picked, else asks.
    fn submit(&mut self, memory: &Memory) -> Action {
        if let Some(path) = self.picked.and_then(|place| memory.recent.get(place)) {
            return self.open(path.clone());
        }
        // A path that was copied from a terminal or a file manager may come in quotes.
        let path = self.path.text().trim().trim_matches(['"', '\'']).to_owned();
        if path.is_empty() { Action::Run(ask()) } else { self.open(path.into()) }
    }

    fn open(&mut self, path: PathBuf) -> Action {
        Action::Open(path, self.marks.take())
    }

    /// Draws the screen.
    pub fn view<'a>(&'a self, memory: &'a Memory) -> Element<'a, Message> {
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
        let card = container(column![name, body, foot(memory)].spacing(theme::space::LARGE))
            .width(part::DIALOGUE)
            .padding(theme::space::WIDE)
            .style(theme::sheet);
        center(card).padding(theme::space::MIDDLE).style(theme::stage).into()
    }

    fn asking<'a>(&'a self, memory: &'a Memory) -> Element<'a, Message> {
        let current = Current::from(self.picked.is_none());
        let path = typing::field(&self.path, "or type its path", current, Message::Typed);
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
            Kept::Yes => "Do not keep",
            Kept::No => "Keep again",
        };
        let head = row![heading, space().width(Length::Fill)]
            .push(forget)
            .push(quiet_button(turn, Message::TurnRecent))
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center);
        let clips = memory.recent.iter().enumerate();
        let clips = clips.map(|(place, path)| recent_line(path, self.picked == Some(place)));
        let list: Element<'_, Message> = if memory.recent.is_empty() {
            text(match memory.recent_kept {
                Kept::Yes => "Clips that you open are listed here.",
                Kept::No => "Clips are not listed on this computer.",
            })
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET))
            .into()
        } else {
            scrollable(column(clips)).style(theme::lane).into()
        };
        column![head, container(list).max_height(part::RECENT)].spacing(theme::space::TIGHT).into()
    }
}

fn recent_line(path: &Path, picked: bool) -> Element<'_, Message> {
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
        .on_press(Message::RecentPressed(path.to_owned()))
        .into()
}

fn foot(memory: &Memory) -> Element<'_, Message> {
    let said = "Marks are kept in a file beside the clip; the clip itself is never changed. A \
                clip, a marks file or a set to practise may also be dropped on this window.";
    let said = text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
    let demo = quiet_button("Sample clips (Ctrl D)", Message::DemoAsked);
    let eye = quiet_button("Train the eye (Ctrl E)", Message::EyeAsked);
    let look = format!("{} ({})", memory.look.says(), keymap::key_of(Command::NextLook));
    let size_now = format!("Size {} % (Ctrl + −)", memory.text_size);
    let buttons = row![
        demo,
        eye,
        quiet_button(look, Message::Own(Command::NextLook)),
        quiet_button(size_now, Message::Own(Command::TextSize(1))),
    ]
    .spacing(theme::space::SMALL)
    .wrap();
    column![said, buttons].spacing(theme::space::MIDDLE).into()
}

fn quiet_button<'a>(label: impl text::IntoFragment<'a>, message: Message) -> Element<'a, Message> {
    button(text(label).size(size::SMALL))
        .padding([theme::space::HAIR, theme::space::SMALL])
        .style(theme::other_button)
        .on_press(message)
        .into()
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

/// What a key means on the start screen.
#[derive(Debug, PartialEq)]
enum StartKey {
    Submit,
    Ask,
    Demo,
    Eye,
    Stop,
    Pick(isize),
    Typed(Typed),
}

fn key_for(event: &Event) -> Option<StartKey> {
    let Event::KeyPressed { key, physical_key, modifiers, .. } = event else { return None };
    let letter = key.to_latin(*physical_key).filter(|_| modifiers.command());
    match (key, letter) {
        (Key::Named(Named::Enter), _) => Some(StartKey::Submit),
        (Key::Named(Named::Escape), _) => Some(StartKey::Stop),
        (Key::Named(Named::ArrowDown), _) => Some(StartKey::Pick(1)),
        (Key::Named(Named::ArrowUp), _) => Some(StartKey::Pick(-1)),
        (_, Some('o')) => Some(StartKey::Ask),
        (_, Some('d')) => Some(StartKey::Demo),
        (_, Some('e')) => Some(StartKey::Eye),
        _ => typing::typed(event).map(StartKey::Typed),
    }
}

/// Lets the person choose a clip in the system's own dialogue.
pub fn ask() -> Task<Message> {
    let video = ["mp4", "mov", "m4v", "mkv", "webm", "avi", "mts", "m2ts", "ts", "3gp"];
    let dialogue = rfd::AsyncFileDialog::new()
        .set_title("Open a clip")
        .add_filter("Video", &video)
        .add_filter("Marks", &["json"])
        .add_filter("Sets", &["toml"])
        .add_filter("All files", &["*"]);
    Task::perform(dialogue.pick_file(), |chosen| {
        Message::Chosen(chosen.map(|file| file.path().to_owned()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn remembering(clips: &[&str]) -> Memory {
        let mut memory = Memory::default();
        memory.recent = clips.iter().map(PathBuf::from).collect();
        memory
    }

    #[test]
    fn what_is_written_is_opened_and_quotes_do_not_matter() {
        let mut start = Start::default();
        let written = Typed::Text("\"/clips/a b.mp4\"".to_owned());
        start.update(Message::Typed(written), &Memory::default());
        let action = start.submit(&Memory::default());
        assert!(matches!(action, Action::Open(path, None) if path == Path::new("/clips/a b.mp4")));
    }

    #[test]
    fn a_recent_clip_is_two_keys_away() {
        let memory = remembering(&["/clips/new.mp4", "/clips/old.mp4"]);
        let mut start = Start::default();
        start.pick(1, 2);
        start.pick(1, 2);
        start.pick(1, 2);
        let action = start.submit(&memory);
        assert!(matches!(action, Action::Open(path, _) if path == Path::new("/clips/old.mp4")));
    }

    #[test]
    fn marks_that_wait_for_their_clip_are_opened_with_it() {
        let marks = PathBuf::from("/clips/a.mp4.1.J.marks.json");
        let mut start = Start::looking_for_clip_of(marks.clone(), "gone".to_owned());
        let chosen = Message::Chosen(Some("/new/a.mp4".into()));
        let action = start.update(chosen, &Memory::default());
        assert!(matches!(action, Action::Open(_, Some(with)) if with == marks));
    }
}
