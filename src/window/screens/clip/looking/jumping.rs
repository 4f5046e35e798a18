//! Going to a time or a frame that a person writes.

use iced::keyboard::{Event, Key, key::Named};

use super::jump::{Jump, Place, read};
use crate::{
    units::{Ticks, TimeBase},
    window::{
        screens::clip::{Action, Clip, Dialogue, Message},
        typing::{self, Typed},
        words,
    },
};

impl Clip {
    /// Asks where to go.
    pub(crate) fn ask_where(&mut self) -> Action {
        self.viewer.stop();
        self.dialogue = Dialogue::Jump(Jump::default());
        Action::None
    }

    pub(crate) fn key_in_jump(&mut self, event: &Event) -> Action {
        match event {
            Event::KeyPressed { key: Key::Named(Named::Enter), .. } => self.jump(),
            Event::KeyPressed { key: Key::Named(Named::Escape), .. } => self.leave(),
            _ => typing::typed(event).map_or(Action::None, |typed| self.typed(typed)),
        }
    }

    pub(crate) fn typed_in_jump(&mut self, typed: &Typed) -> Action {
        let Dialogue::Jump(jump) = &mut self.dialogue else { return Action::None };
        jump.fault = None;
        Action::Run(jump.line.take(typed).task(Message::Typed))
    }

    /// Goes where the line says, or says what is wrong with it.
    pub(crate) fn jump(&mut self) -> Action {
        let stage = self.viewer.stage();
        let Dialogue::Jump(jump) = &mut self.dialogue else { return Action::None };
        let last = stage.last_frame();
        let frame = match read(jump.line.text()) {
            None => Err("Write a time such as 4.6 or 1:04.6, or frame 138.".to_owned()),
            Some(Place::Frame(frame)) if frame > last => Err(format!("The last frame is {last}.")),
            Some(Place::Frame(frame)) => Ok(frame),
            Some(Place::Time(millionths)) => stage
                .nearest(in_ticks(millionths, stage.time_base()))
                .map(|frame| frame.index)
                .ok_or_else(|| {
                    let end = words::clock(stage.time_base(), stage.ticks_of(last));
                    format!("The clip's last frame is at {end}.")
                }),
        };
        match frame {
            Ok(frame) => {
                self.dialogue = Dialogue::None;
                self.go_to(frame)
            }
            Err(fault) => {
                jump.fault = Some(fault);
                Action::None
            }
        }
    }
}

fn in_ticks(millionths: i64, base: TimeBase) -> Ticks {
    let [down, _] = TimeBase::MILLIONTHS.in_base(Ticks(millionths), base);
    down
}
