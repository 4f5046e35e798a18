//! What the program does for two clips side by side.

use iced::Task;

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::window::screens::{
    pair::{self, Pair, Which},
    start::Start,
};

impl Program {
    /// Asks for a clip beside the one that is open.
    pub(crate) fn lay_beside(&mut self) -> Task<Message> {
        let screen = std::mem::replace(&mut self.screen, Screen::Start(Start::default()));
        self.screen = match screen {
            Screen::Clip(clip) => Screen::Pair(Box::new(Pair::beside(clip, &self.memory.recent))),
            other => other,
        };
        Task::none()
    }

    pub(crate) fn pair(&mut self, message: pair::Message) -> Task<Message> {
        let Screen::Pair(pair) = &mut self.screen else { return Task::none() };
        match pair.update(message) {
            pair::Action::None => Task::none(),
            pair::Action::Run(task) => task.map(Message::Pair),
            pair::Action::Alone(which) => self.show_alone(which),
        }
    }

    /// Shows one of two clips on its own screen.
    fn show_alone(&mut self, which: Which) -> Task<Message> {
        let screen = std::mem::replace(&mut self.screen, Screen::Start(Start::default()));
        self.screen = match screen {
            Screen::Pair(pair) => {
                let clip = pair.into_clip(which);
                self.memory.opened(clip.path());
                self.memory.keep();
                Screen::Clip(clip)
            }
            other => other,
        };
        Task::none()
    }
}
