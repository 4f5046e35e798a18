//! What messages do.

use std::sync::Arc;

use iced::{
    Task,
    keyboard::Event,
    widget::{
        Id,
        operation::{RelativeOffset, snap_to},
    },
};

use crate::{
    library::{Beside, Hit},
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
        if tile.hit.clip.is_none() || tile.hit.away {
            self.said = Some("Its clip is not there; plug its disk in, then F5.".to_owned());
            return Action::None;
        }
        let hit = Box::new(tile.hit.clone());
        Action::Run(read(hit))
    }

    /// Reads the judges that are side by side anew: one's marks may have been opened from there.
    pub(in crate::window::screens::library) fn read_judges_again(&self) -> Task<Message> {
        self.judges.as_ref().map_or_else(Task::none, |shown| read(shown.hit.clone()))
    }

    pub(in crate::window::screens::library) fn judge(&mut self, message: JudgesMessage) -> Action {
        match message {
            JudgesMessage::Read(hit, Ok(judges)) => {
                let Some(clip) = hit.clip.clone() else { return Action::None };
                self.over_wall += 1;
                let before = self.judges.take();
                let mut shown = JudgesShown::new(self.over_wall, (hit, clip), judges);
                let asked = before.as_ref().and_then(|before| Some(&before.question()?.asks));
                let same = asked
                    .and_then(|asks| shown.judges.rows.iter().position(|row| row.asks == *asks));
                shown.row = same.unwrap_or(shown.row);
                self.judges = Some(shown);
                return self.fetch_frames();
            }
            JudgesMessage::Read(_, Err(why)) => (self.judges, self.said) = (None, Some(why)),
            JudgesMessage::Asked(command) => return self.judges_asked(command),
            JudgesMessage::RowPressed(row) => return self.choose_row(row),
            JudgesMessage::AgreedOn(place) => return self.agree_on(place),
            JudgesMessage::Alone(place) => return self.refer_to(place),
            JudgesMessage::Take(place) => return self.take_answer(place),
            JudgesMessage::Drafted(number, drafted) => {
                if let Some(shown) = self.judges.as_mut().filter(|it| it.number == number) {
                    match drafted {
                        Ok(draft) => (shown.draft, shown.complaint) = (Some(draft), None),
                        Err(why) => shown.complaint = Some(why),
                    }
                }
            }
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
                    Action::Run(task) => Action::Run(Task::batch([scroll, task])),
                    _ => Action::Run(scroll),
                };
            }
            JudgesCommand::Judge(by) => {
                let all = shown.columns().max(1) as isize;
                shown.judge = (judge as isize + isize::from(by)).rem_euclid(all) as usize;
            }
            JudgesCommand::Open => {
                let at = shown.instants(judge).first().map(|(ticks, _)| *ticks);
                return self.open_judge(judge, at);
            }
            JudgesCommand::Panel => return Action::Run(Self::show_panel(&shown.judges)),
            JudgesCommand::Take => return self.take_answer(judge),
            JudgesCommand::Begin => {
                if let Some(draft) = shown.judges.draft(judge).filter(|_| shown.draft.is_some()) {
                    (shown.draft, shown.complaint) = (Some(Arc::new(draft)), None);
                }
            }
            JudgesCommand::Agree => return self.agree_on(judge),
            JudgesCommand::Alone => return self.refer_to(judge),
            JudgesCommand::Leave => self.judges = None,
        }
        Action::None
    }

    fn choose_row(&mut self, row: usize) -> Action {
        if let Some(shown) = &mut self.judges {
            (shown.row, shown.complaint) = (row, None);
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

    /// Says why sheets could not be put together, where they were to be.
    pub(in crate::window::screens::library) fn say_of_sheets(&mut self, why: String) {
        match &mut self.judges {
            Some(shown) => shown.complaint = Some(why),
            None => self.said = Some(why),
        }
    }

    /// Takes a judge's answer to the question at hand into the reference.
    fn take_answer(&mut self, place: usize) -> Action {
        let Some(shown) = &mut self.judges else { return Action::None };
        let differs = shown.question().is_some_and(Beside::differs);
        if place >= shown.judges.codes.len() || !differs {
            return Action::None;
        }
        let Some(draft) = shown.draft_for(place) else { return Action::None };
        let (judges, number, row) = (Arc::clone(&shown.judges), shown.number, shown.row);
        let done = move |drafted| Message::Judges(JudgesMessage::Drafted(number, drafted));
        Action::Run(aside(move || jobs::settle(&judges, &draft, (row, place)), done))
    }

    /// Writes down that the judges on screen agreed on what one of them saw, or on what was put
    /// together.
    fn agree_on(&mut self, place: usize) -> Action {
        let Some(shown) = self.judges.take() else { return Action::None };
        let judges = Arc::clone(&shown.judges);
        let draft = shown.draft.clone().filter(|_| place >= judges.codes.len());
        Action::Run(match draft {
            Some(draft) => aside(move || jobs::agree_on_draft(&judges, &draft), Message::Done),
            None => aside(move || jobs::agree(&judges, place), Message::Done),
        })
    }

    fn refer_to(&mut self, place: usize) -> Action {
        let is_judge = |shown: &mut JudgesShown| place < shown.judges.codes.len();
        let Some(shown) = self.judges.take_if(is_judge) else { return Action::None };
        let judges = Arc::clone(&shown.judges);
        Action::Run(aside(move || jobs::refer_to(&judges, place), Message::Done))
    }

    fn open_judge(&mut self, place: usize, at: Option<Ticks>) -> Action {
        let Some(shown) = self.judges.as_ref().filter(|it| place < it.judges.codes.len()) else {
            return Action::None;
        };
        let first = at.map_or(First::OfClip, First::At);
        let marks = shown.judges.marks.get(place).cloned();
        Action::OpenAt(Wanted { clip: shown.clip.clone(), marks, first })
    }
}

fn read(hit: Box<Hit>) -> Task<Message> {
    let of = hit.clone();
    let done = move |judges| Message::Judges(JudgesMessage::Read(hit.clone(), judges));
    aside(move || jobs::read(&of), done)
}
