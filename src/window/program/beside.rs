//! What the program does for two clips side by side.

use iced::{Task, window};

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::window::screens::{
    pair::{self, Pair, Which},
    start::Start,
};

impl Program {
    /// Shows the question for a clip beside the one that is open.
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
        let action = pair.update(message);
        self.asked_by_pair(action)
    }

    /// Does what the pair asks for.
    pub(crate) fn asked_by_pair(&mut self, action: pair::Action) -> Task<Message> {
        match action {
            pair::Action::None => Task::none(),
            pair::Action::Run(task) => task.map(Message::Pair),
            pair::Action::Alone(which) => self.show_alone(which),
            pair::Action::Close(id) => window::close(id),
        }
    }

    /// Shows one of two clips on its own screen.
    fn show_alone(&mut self, which: Which) -> Task<Message> {
        let mut started = Task::none();
        let screen = std::mem::replace(&mut self.screen, Screen::Start(Start::default()));
        self.screen = match screen {
            Screen::Pair(pair) => {
                let mut clip = pair.into_clip(which);
                started = clip.started().map(Message::Clip);
                self.memory.opened(clip.path());
                self.memory.keep();
                Screen::Clip(clip)
            }
            other => other,
        };
        started
    }
}
