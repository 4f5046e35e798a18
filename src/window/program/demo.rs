//! Drawing the sample clips, from the window.

use std::path::{Path, PathBuf};

use iced::Task;

use super::{
    drawing::Demo,
    message::Message,
    state::{Program, Screen},
};
use crate::window::screens::{
    clip::Wanted,
    start::{Busy, Start},
};

impl Program {
    pub(crate) fn draw_demo(&mut self) -> Task<Message> {
        let Some(demo) = Demo::begin() else {
            let complaint = "The sample clips could not be drawn here. Try \"stillcall demo\" in a \
                             terminal.";
            self.screen = Screen::Start(Start::complaining(Path::new(""), complaint.to_owned()));
            return Task::none();
        };
        self.screen = Screen::Start(Start::waiting(Busy::Demo));
        let waiting = demo.wait();
        self.demo = Some(demo);
        Task::perform(waiting, Message::DemoDrawn)
    }

    pub(crate) fn demo_drawn(&mut self, drawn: Result<PathBuf, String>) -> Task<Message> {
        if self.demo.take().is_none() {
            // It was stopped meanwhile.
            return Task::none();
        }
        match drawn {
            Ok(clip) => self.open(Wanted::sample(clip)),
            Err(complaint) => {
                self.screen = Screen::Start(Start::complaining(Path::new(""), complaint));
                Task::none()
            }
        }
    }
}
