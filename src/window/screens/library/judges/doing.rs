//! What messages do.

use iced::{
    keyboard::Event,
    widget::{
        Id,
        operation::{RelativeOffset, snap_to},
    },
};

use crate::{
    units::Ticks,
    window::{
        keymap::{self, JudgesCommand},
        screens::{
            clip::{First, Wanted},
            library::{Action, Library, Message, aside::aside},
            underway::Underway,
        },
    },
};

use super::{
    jobs,
    shown::{JudgesMessage, JudgesShown},
    view::LIST,
};

impl Library {
    /// Puts the judges of the chosen routine side by side.
    pub(in crate::window::screens::library) fn show_judges(&mut self) -> Action {
        let Some(tile) = self.chosen.and_then(|place| self.tile(place)) else {
            self.said = Some("Choose a clip first.".to_owned());
            return Action::None;
        };
        let there = tile.hit.clip.clone().filter(|_| !tile.hit.away);
        let Some(clip) = there else {
            self.said = Some("Its clip is not there; plug its disk in, then F5.".to_owned());
            return Action::None;
        };
        let hit = tile.hit.clone();
        let read = move |judges| Message::Judges(JudgesMessage::Read(clip.clone(), judges));
        Action::Run(aside(move || jobs::read(&hit), read))
    }

    pub(in crate::window::screens::library) fn judge(&mut self, message: JudgesMessage) -> Action {
        match message {
            JudgesMessage::Read(clip, Ok(judges)) => {
                self.over_wall += 1;
                self.judges = Some(JudgesShown::new(self.over_wall, clip, judges));
                return self.fetch_frames();
            }
            JudgesMessage::Read(_, Err(why)) => self.said = Some(why),
            JudgesMessage::Asked(command) => return self.judges_asked(command),
            JudgesMessage::RowPressed(row) => return self.choose_row(row),
            JudgesMessage::AgreedOn(place) => return self.agree_on(place),
            JudgesMessage::Alone(place) => return self.refer_to(place),
            JudgesMessage::Open(place, at) => return self.open_judge(place, at),
            JudgesMessage::Fetched(number, fetched) => {
                let Some(shown) = self.judges.as_mut().filter(|it| it.number == number) else {
                    return Action::None;
                };
                shown.frames.underway = None;
                match fetched {
                    Ok(Some(fetched)) => {
                        shown.frames.footage = Some(fetched.footage);
                        shown.frames.pictures.extend(fetched.pictures);
                        // Another question may be at hand by now.
                        return self.fetch_frames();
                    }
                    Ok(None) => {}
                    Err(why) => shown.frames.trouble = Some(why),
                }
            }
        }
        Action::None
    }

    pub(in crate::window::screens::library) fn key_among_judges(
        &mut self,
        event: &Event,
    ) -> Action {
        keymap::among_judges(event).map_or(Action::None, |command| self.judges_asked(command))
    }

    fn judges_asked(&mut self, command: JudgesCommand) -> Action {
        let Some(shown) = &mut self.judges else { return Action::None };
        let judge = shown.judge;
        match command {
            JudgesCommand::Row(by) => {
                let last = shown.judges.rows.len().saturating_sub(1);
                let row = shown.row.saturating_add_signed(isize::from(by)).min(last);
                let share = row as f32 / last.max(1) as f32;
                let scroll = snap_to(Id::new(LIST), RelativeOffset { x: 0.0, y: share });
                return match self.choose_row(row) {
                    Action::Run(task) => Action::Run(iced::Task::batch([scroll, task])),
                    _ => Action::Run(scroll),
                };
            }
            JudgesCommand::Judge(by) => {
                let all = shown.judges.codes.len().max(1) as isize;
                shown.judge = (judge as isize + isize::from(by)).rem_euclid(all) as usize;
            }
            JudgesCommand::Open => {
                let at = shown.instants(judge).first().map(|(ticks, _)| *ticks);
                return self.open_judge(judge, at);
            }
            JudgesCommand::Agree => return self.agree_on(judge),
            JudgesCommand::Alone => return self.refer_to(judge),
            JudgesCommand::Leave => self.judges = None,
        }
        Action::None
    }

    fn choose_row(&mut self, row: usize) -> Action {
        if let Some(shown) = &mut self.judges {
            shown.row = row;
        }
        self.fetch_frames()
    }

    /// Fetches the pictures of the question at hand, unless some are being fetched.
    fn fetch_frames(&mut self) -> Action {
        let arrived = self.arrived.clone();
        let Some(shown) = &mut self.judges else { return Action::None };
        let missing = shown.missing();
        let frames = &mut shown.frames;
        if missing.is_empty() || frames.underway.is_some() || frames.trouble.is_some() {
            return Action::None;
        }
        let underway = Underway::new("Fetching the frames …", arrived);
        let (clip, number) = (shown.clip.clone(), shown.number);
        let known = (frames.footage.clone(), shown.judges.turn);
        let over = move |fetched: Result<Result<_, String>, String>| {
            let fetched = fetched.and_then(|fetched| fetched);
            Message::Judges(JudgesMessage::Fetched(number, fetched))
        };
        let run = underway.run(move |underway| jobs::fetch(&clip, known, &missing, underway), over);
        frames.underway = Some(underway);
        Action::Run(run)
    }

    /// Writes down that the judges on screen agreed on what one of them saw.
    fn agree_on(&mut self, place: usize) -> Action {
        let Some(shown) = self.judges.take() else { return Action::None };
        let judges = std::sync::Arc::clone(&shown.judges);
        Action::Run(aside(move || jobs::agree(&judges, place), Message::Done))
    }

    fn refer_to(&mut self, place: usize) -> Action {
        let Some(shown) = self.judges.take() else { return Action::None };
        let judges = std::sync::Arc::clone(&shown.judges);
        Action::Run(aside(move || jobs::refer_to(&judges, place), Message::Done))
    }

    fn open_judge(&mut self, place: usize, at: Option<Ticks>) -> Action {
        let Some(shown) = &self.judges else { return Action::None };
        let first = at.map_or(First::OfClip, First::At);
        let marks = shown.judges.marks.get(place).cloned();
        Action::OpenAt(Wanted { clip: shown.clip.clone(), marks, first })
    }
}
