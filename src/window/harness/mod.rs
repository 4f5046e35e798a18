//! Drives the whole program without a window: for tests of its screens, for the pictures in docs
//! and for benchmarks.

mod input;
mod laid;

use std::{
    path::{Path, PathBuf},
    sync::Arc,
    thread,
    time::{Duration, Instant},
};

use iced::{
    Color, Event, Pixels, Point, Rectangle, Size,
    advanced::{
        clipboard,
        graphics::text::font_system,
        renderer::Headless,
        renderer::Style,
        widget::{Id, Operation, operation::Outcome},
    },
    futures::{StreamExt as _, executor::block_on},
    keyboard, mouse, window,
};
use iced_test::runtime::{
    Action, UserInterface,
    clipboard::Action as ClipboardAction,
    task::{Task, into_stream},
    user_interface::Cache,
};
use tokio::runtime::Runtime;

use crate::{rulebook, store::NoReading};

use super::{
    OpensOn,
    memory::Memory,
    program::{Message, Program, Screen},
    screens::{clip, pair, place, practice::Practice},
    theme,
};

pub use laid::Laid;

/// How long anything may take.
const PATIENCE: Duration = Duration::from_secs(60);

/// The program with a headless renderer in the place of a window.
pub struct Harness {
    program: Program,
    renderer: iced::Renderer,
    runtime: Runtime,
    cache: Cache,
    /// Size of the window in physical pixels.
    size: [u32; 2],
    clipboard: String,
    /// A key that is pressed as soon as this is on screen.
    once_said: Option<(String, keyboard::Event)>,
}

/// A picture of the window.
pub struct Shot {
    /// Four bytes for each pixel, row by row from the top.
    pub rgba: Vec<u8>,
    /// Width and height in pixels.
    pub size: [u32; 2],
}

/// A text on screen with its place in logical pixels.
pub(crate) type TextAt = (String, Rectangle);

impl Harness {
    /// Opens the program on a clip, or on the start screen; nothing where the renderer is not to
    /// be had.
    ///
    /// # Errors
    ///
    /// Says in words what is missing on this machine.
    pub fn open(clip: Option<&Path>, size: [u32; 2], backend: &str) -> Result<Self, String> {
        let clip = clip.map(|clip| OpensOn::Clip(clip.to_owned(), None));
        Self::open_on(clip.unwrap_or(OpensOn::Start), size, backend)
    }

    /// Opens the program on whatever is wanted; nothing where the renderer is not to be had.
    ///
    /// # Errors
    ///
    /// Says in words what is missing on this machine.
    pub fn open_on(opens_on: OpensOn, size: [u32; 2], backend: &str) -> Result<Self, String> {
        load_fonts();
        let renderer = <iced::Renderer as Headless>::new(
            theme::FONT,
            Pixels(theme::size::BODY),
            Some(backend),
        );
        let renderer = block_on(renderer).ok_or("there is no headless renderer")?;
        if renderer.name() != backend {
            return Err(format!("the {backend} renderer needs a driver that is not installed"));
        }
        let runtime = tokio::runtime::Builder::new_current_thread().enable_time().build();
        let runtime = runtime.map_err(|error| error.to_string())?;
        let guard = runtime.enter();
        let quiet = NoReading::begin();
        let (program, task) = Program::new(opens_on, Memory::default());
        drop((quiet, guard));
        let (cache, clipboard) = (Cache::new(), String::new());
        let once_said = None;
        let mut harness = Self { program, renderer, runtime, cache, size, clipboard, once_said };
        harness.run(task);
        harness.settle();
        Ok(harness)
    }

    /// Presses keys by name, `Enter`, `ctrl+z`, `a`, and waits for the picture after each.
    pub fn press(&mut self, keys: &[&str]) {
        for key in keys {
            self.press_at_once(key);
            self.settle();
        }
    }

    /// Presses a key and waits for nothing.
    pub fn press_at_once(&mut self, key: &str) {
        if let Some(event) = input::key(key) {
            self.press_event(event);
        }
    }

    /// Gives a key to the widgets, and to the program where none takes it, as a window does.
    fn press_event(&mut self, event: keyboard::Event) {
        let all = [Event::Keyboard(event.clone())];
        let (messages, taken) = self.turn_told(&all, mouse::Cursor::Unavailable);
        for message in messages {
            self.take(message);
        }
        if !taken {
            self.take(Message::KeyPressed(event));
        }
    }

    /// Has a key pressed as soon as something is on screen, whatever else goes on then.
    pub fn press_once_it_says(&mut self, said: &str, key: &str) {
        self.once_said = input::key(key).map(|event| (said.to_owned(), event));
    }

    /// Presses keys one after the other before anything that they began is done, as on a slow disk.
    pub fn press_meanwhile(&mut self, keys: &[&str]) {
        let guard = self.runtime.enter();
        let quiet = NoReading::begin();
        let pressed = keys.iter().filter_map(|key| input::key(key)).map(Message::KeyPressed);
        let tasks: Vec<_> = pressed.map(|message| self.program.update(message)).collect();
        drop((quiet, guard));
        for task in tasks {
            self.run(task);
        }
        self.settle();
    }

    /// Writes a text letter by letter.
    pub fn write(&mut self, text: &str) {
        for letter in text.chars() {
            self.take(Message::KeyPressed(input::letter(letter)));
        }
        self.settle();
    }

    /// Puts a text on the clipboard, as another program would.
    pub fn put_on_clipboard(&mut self, text: &str) {
        text.clone_into(&mut self.clipboard);
    }

    /// Drops a file on the window.
    pub fn drop_file(&mut self, path: PathBuf) {
        self.take(Message::FileDropped(path));
        self.settle();
    }

    /// Answers the next of the system's dialogues, which no test can press: with a place, or with
    /// nothing, as one that is closed.
    pub fn answer_dialogue(&mut self, place: Option<&Path>) {
        place::answers::give(place.map(Path::to_owned));
    }

    /// Presses the mouse on the first text that reads so; returns whether there is one.
    pub fn click(&mut self, text: &str) -> bool {
        let Some((_, bounds)) = self.texts().into_iter().find(|(said, _)| said == text) else {
            return false;
        };
        self.click_at(bounds.center());
        true
    }

    /// Presses the mouse at a point in logical pixels.
    pub fn click_at(&mut self, at: Point) {
        for message in self.clicked(at) {
            self.take(message);
        }
        self.settle();
    }

    /// Presses a key and the mouse in one batch of events: what the widgets make of it comes first,
    /// and was made of the window as it was before the key.
    pub fn press_and_click_at(&mut self, key: &str, at: Point) {
        let messages = self.clicked(at);
        for message in messages {
            self.take(message);
        }
        self.press_at_once(key);
        self.settle();
    }

    /// Drags the first text that reads `from` onto the first one that reads `onto`; returns whether
    /// both are there.
    pub fn drag(&mut self, from: &str, onto: &str) -> bool {
        let texts = self.texts();
        let at = |said: &str| texts.iter().find(|(text, _)| text == said).map(|it| it.1.center());
        let (Some(from), Some(onto)) = (at(from), at(onto)) else { return false };
        let button = mouse::Button::Left;
        for (at, event) in [
            (from, mouse::Event::ButtonPressed(button)),
            (onto, mouse::Event::CursorMoved { position: onto }),
            (onto, mouse::Event::ButtonReleased(button)),
        ] {
            for message in self.turn(&[Event::Mouse(event)], mouse::Cursor::Available(at)) {
                self.take(message);
            }
        }
        self.settle();
        true
    }

    fn clicked(&mut self, at: Point) -> Vec<Message> {
        let button = mouse::Button::Left;
        let events = [
            Event::Mouse(mouse::Event::CursorMoved { position: at }),
            Event::Mouse(mouse::Event::ButtonPressed(button)),
            Event::Mouse(mouse::Event::ButtonReleased(button)),
        ];
        self.turn(&events, mouse::Cursor::Available(at))
    }

    /// Waits until the picture asked for, those of the ribbon and the sheet are there.
    pub fn settle(&mut self) {
        let end = Instant::now() + PATIENCE;
        while let Screen::Clip(clip) = &self.program.screen
            && !clip.is_settled()
            && Instant::now() < end
        {
            thread::sleep(Duration::from_millis(3));
            self.take(Message::Clip(clip::Message::Arrived));
        }
        while let Screen::Pair(pair) = &self.program.screen
            && !pair.is_settled()
            && Instant::now() < end
        {
            thread::sleep(Duration::from_millis(3));
            self.take(Message::Pair(pair::Message::Arrived(pair::Which::First)));
            self.take(Message::Pair(pair::Message::Arrived(pair::Which::Second)));
        }
        while let Screen::Practice(practice) = &self.program.screen
            && !practice.is_settled()
            && Instant::now() < end
        {
            thread::sleep(Duration::from_millis(3));
            self.take(Message::Practice(Practice::arrival()));
        }
    }

    /// Draws the window over and over until the look of a sitting is over.
    pub fn play_out(&mut self) {
        let end = Instant::now() + PATIENCE;
        while let Screen::Practice(practice) = &self.program.screen
            && practice.is_playing()
            && Instant::now() < end
        {
            self.shot();
        }
        self.settle();
    }

    /// Tells a screen of practice that time went on.
    pub fn tick(&mut self) {
        if let Screen::Practice(practice) = &self.program.screen {
            let tick = practice.tick();
            self.take(Message::Practice(tick));
        }
        self.settle();
    }

    /// Saves what is to be saved.
    pub fn save(&mut self) {
        self.take(Message::Clip(clip::Message::SaveDue));
    }

    /// Looks what became of the clip's file and of the book's, as a window does every few seconds.
    pub fn look_at_files(&mut self) {
        if let Screen::Clip(clip) = &self.program.screen {
            let (state, book) = (clip.file_state(), clip.book_file().map(rulebook::load));
            self.take(Message::Clip(clip::Message::ClipChanged(state)));
            if let Some(book) = book {
                let book = Arc::new(book.map_err(|error| error.to_string()));
                self.take(Message::Clip(clip::Message::BookChanged(book)));
            }
        }
        self.settle();
    }

    /// Takes in what has arrived and returns whether the picture asked for is among it.
    pub fn is_picture_shown(&mut self) -> bool {
        self.take(Message::Clip(clip::Message::Arrived));
        matches!(&self.program.screen, Screen::Clip(clip) if clip.is_picture_shown())
    }

    /// Returns the window's title.
    pub fn title(&self) -> String {
        self.program.title()
    }

    /// Returns every text on screen, from top to bottom as the program lays them out.
    pub fn texts(&mut self) -> Vec<TextAt> {
        let size = self.logical();
        let quiet = NoReading::begin();
        let cache = std::mem::take(&mut self.cache);
        let mut interface =
            UserInterface::build(self.program.view(), size, cache, &mut self.renderer);
        let mut texts = Texts::default();
        interface.operate(&self.renderer, &mut texts);
        self.cache = interface.into_cache();
        drop(quiet);
        texts.0
    }

    fn look(&mut self) -> laid::Looking {
        let mut looking = laid::Looking::at(self.logical());
        self.operate(&mut looking);
        looking
    }

    /// Returns every text and every button that can be reached, as they are laid out.
    pub fn laid(&mut self) -> Vec<Laid> {
        self.look().all
    }

    /// Returns which button has the focus, by its place among all.
    pub fn focus(&mut self) -> Option<usize> {
        self.look().focus
    }

    /// Returns how many buttons there are, in sight or not.
    pub fn buttons(&mut self) -> usize {
        self.look().buttons
    }

    /// Returns whether a text on screen contains this.
    pub fn says(&mut self, part: &str) -> bool {
        self.texts().iter().any(|(text, _)| text.contains(part))
    }

    /// Builds the interface anew and lays it out, as after every message.
    pub fn view(&mut self) {
        let size = self.logical();
        let quiet = NoReading::begin();
        let cache = std::mem::take(&mut self.cache);
        let interface = UserInterface::build(self.program.view(), size, cache, &mut self.renderer);
        self.cache = interface.into_cache();
        drop(quiet);
    }

    /// Returns a picture of the window.
    pub fn shot(&mut self) -> Shot {
        // The first turn tells the program how much room things have, which may change them.
        for _ in 0..2 {
            for message in self.turn(&[], mouse::Cursor::Unavailable) {
                self.take(message);
            }
        }
        let (size, scale) = (self.logical(), self.program.memory.scale());
        let quiet = NoReading::begin();
        let cache = std::mem::take(&mut self.cache);
        let mut interface =
            UserInterface::build(self.program.view(), size, cache, &mut self.renderer);
        // Buttons look as if they were off until they have been told of a redraw.
        let redraw = [Event::Window(window::Event::RedrawRequested(Instant::now()))];
        let (nowhere, mut told) = (&mut clipboard::Null, Vec::new());
        let nobody = mouse::Cursor::Unavailable;
        let _ = interface.update(&redraw, nobody, &mut self.renderer, nowhere, &mut told);
        let style = Style { text_color: Color::BLACK };
        let cursor = mouse::Cursor::Unavailable;
        interface.draw(&mut self.renderer, &self.program.theme(), &style, cursor);
        self.cache = interface.into_cache();
        drop(quiet);
        for message in told {
            self.take(message);
        }
        let [w, h] = self.size;
        let rgba = self.renderer.screenshot(Size::new(w, h), scale, Color::BLACK);
        Shot { rgba, size: self.size }
    }

    /// Size of the window in logical pixels.
    pub fn logical(&self) -> Size {
        let [w, h] = self.size.map(|side| side as f32 / self.program.memory.scale());
        Size::new(w, h)
    }

    /// Gives events to the interface and returns what it makes of them.
    fn turn(&mut self, events: &[Event], cursor: mouse::Cursor) -> Vec<Message> {
        self.turn_told(events, cursor).0
    }

    /// The same, and whether a widget took the first of them.
    fn turn_told(&mut self, events: &[Event], cursor: mouse::Cursor) -> (Vec<Message>, bool) {
        let size = self.logical();
        let quiet = NoReading::begin();
        let cache = std::mem::take(&mut self.cache);
        let mut interface =
            UserInterface::build(self.program.view(), size, cache, &mut self.renderer);
        let mut messages = Vec::new();
        let mut all = events.to_vec();
        all.push(Event::Window(window::Event::RedrawRequested(Instant::now())));
        let nowhere = &mut clipboard::Null;
        let (_, told) = interface.update(&all, cursor, &mut self.renderer, nowhere, &mut messages);
        self.cache = interface.into_cache();
        drop(quiet);
        (messages, told.first() == Some(&iced::event::Status::Captured))
    }

    fn take(&mut self, message: Message) {
        let guard = self.runtime.enter();
        let quiet = NoReading::begin();
        let task = self.program.update(message);
        drop((quiet, guard));
        self.run(task);
    }

    /// Carries a task out to its end, and what follows from it.
    fn run(&mut self, task: Task<Message>) {
        if let Some((said, event)) = self.once_said.take() {
            if self.says(&said) {
                self.take(Message::KeyPressed(event));
            } else {
                self.once_said = Some((said, event));
            }
        }
        let Some(mut actions) = into_stream(task) else { return };
        while let Some(action) = self.runtime.block_on(actions.next()) {
            match action {
                Action::Output(message) => self.take(message),
                Action::Widget(operation) => {
                    let mut next = Some(operation);
                    while let Some(mut operation) = next.take() {
                        self.operate(operation.as_mut());
                        if let Outcome::Chain(further) = operation.finish() {
                            next = Some(further);
                        }
                    }
                }
                Action::Clipboard(ClipboardAction::Write { contents, .. }) => {
                    self.clipboard = contents;
                }
                Action::Clipboard(ClipboardAction::Read { channel, .. }) => {
                    // Nobody may be waiting for it any more.
                    let _ = channel.send(Some(self.clipboard.clone()));
                }
                _ => {}
            }
        }
    }

    fn operate(&mut self, operation: &mut dyn Operation) {
        let size = self.logical();
        let quiet = NoReading::begin();
        let cache = std::mem::take(&mut self.cache);
        let mut interface =
            UserInterface::build(self.program.view(), size, cache, &mut self.renderer);
        interface.operate(&self.renderer, operation);
        self.cache = interface.into_cache();
        drop(quiet);
    }
}

fn load_fonts() {
    if let Ok(mut fonts) = font_system().write() {
        for file in theme::FONT_FILES {
            fonts.load_font(file.into());
        }
    }
}

/// Collects every text.
#[derive(Default)]
struct Texts(Vec<TextAt>);

impl Operation for Texts {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
        operate(self);
    }

    fn text(&mut self, _: Option<&Id>, bounds: Rectangle, text: &str) {
        self.0.push((text.to_owned(), bounds));
    }
}
