//! What messages do while something is to be erased.

use iced::widget::{
    Id,
    operation::{AbsoluteOffset, scroll_by},
};

use crate::{
    library::ErasePlan,
    window::{
        keymap::EraseCommand,
        screens::library::{Action, Library, Message, aside::aside},
        typing::Typed,
    },
};

use super::{
    carrying::Carrying,
    form::{EraseField, EraseFocus, EraseForm, EraseSubject},
    groups::groups_of,
    jobs,
    message::EraseMessage,
    outcome::EraseOutcome,
    stage::{EraseAsked, EraseStage, ShownPlan},
    view::LIST,
};

/// How far one line of the list is moved, in logical pixels.
const LINE: f32 = 40.0;

impl Library {
    /// Asks about deleting the chosen clip.
    pub(in crate::window::screens::library) fn ask_to_delete(&mut self) -> Action {
        let tile = self.chosen.and_then(|place| self.tile(place));
        let why = match tile.map(|tile| (&tile.hit.clip, tile.hit.away)) {
            None => "Choose a clip first.",
            Some((Some(_), true)) => "Its clip is out of reach; plug its disk in, then F5.",
            Some((None, _)) => "Its clip is not there; a withdrawal erases what is left of it.",
            Some((Some(clip), false)) => {
                let subject = EraseSubject::Clip(clip.clone());
                self.ask_to_erase(subject, "");
                return Action::None;
            }
        };
        self.said = Some(why.to_owned());
        Action::None
    }

    /// Asks who withdraws; the athlete of the chosen routine is likely.
    pub(in crate::window::screens::library) fn ask_who_withdraws(&mut self) -> Action {
        let tile = self.chosen.and_then(|place| self.tile(place));
        let code = tile.map(|tile| tile.hit.athlete.clone()).unwrap_or_default();
        self.ask_to_erase(EraseSubject::Athlete, &code);
        Action::None
    }

    fn ask_to_erase(&mut self, subject: EraseSubject, code: &str) {
        self.erasings += 1;
        (self.asking, self.said) = (None, None);
        self.erasing = Some(EraseAsked {
            number: self.erasings,
            form: EraseForm::new(subject, code),
            stage: EraseStage::Filled,
            complaint: None,
        });
    }

    pub(in crate::window::screens::library) fn erase(&mut self, message: EraseMessage) -> Action {
        let Some(asked) = &mut self.erasing else { return Action::None };
        match message {
            EraseMessage::Asked(command) => return self.erase_asked(command),
            EraseMessage::PointedAt(field, typed) => {
                asked.form.go_to(EraseFocus::Field(field));
                return self.write_in(field, &typed);
            }
            EraseMessage::Turned(choice) => asked.form.turn(choice),
            EraseMessage::Planned(number, plan) if number == asked.number => asked.planned(*plan),
            EraseMessage::Planned(..) => {}
            EraseMessage::Carried(outcome) => asked.carried(*outcome),
        }
        Action::None
    }

    pub(super) fn write_in(&mut self, field: EraseField, typed: &Typed) -> Action {
        let Some(asked) = &mut self.erasing else { return Action::None };
        let wish = asked.form.line_mut(field).take(typed);
        // A wrong code is told with the letter that makes it one.
        let is_other = asked.is_other_code();
        let code = asked.code_again().filter(|_| is_other);
        asked.complaint = code.map(|code| format!("This is not {code}."));
        Action::Run(wish.task(Message::Typed))
    }

    pub(super) fn erase_asked(&mut self, command: EraseCommand) -> Action {
        let Some(asked) = &mut self.erasing else { return Action::None };
        match (command, &asked.stage) {
            (EraseCommand::Field(by) | EraseCommand::Scroll(by), EraseStage::Filled) => {
                asked.form.turn_focus(by);
            }
            (EraseCommand::Turn, EraseStage::Filled) => {
                if let EraseFocus::Choice(choice) = asked.form.focus() {
                    asked.form.turn(choice);
                }
            }
            (EraseCommand::Preview, EraseStage::Filled) => return self.find_out(),
            (EraseCommand::Erase, EraseStage::Shown(_)) => return self.carry_out(),
            (EraseCommand::Scroll(by), EraseStage::Shown(_) | EraseStage::Over(_)) => {
                let by = AbsoluteOffset { x: 0.0, y: f32::from(by) * LINE };
                return Action::Run(scroll_by(Id::new(LIST), by));
            }
            (EraseCommand::Leave, EraseStage::Carried(carrying)) => carrying.stop(),
            (EraseCommand::Leave, EraseStage::Over(outcome)) => {
                let is_stopped = outcome.is_stopped;
                self.erasing = None;
                let next = if is_stopped { self.search_again() } else { self.look() };
                return Action::Run(next);
            }
            (EraseCommand::Leave, _) => self.erasing = None,
            _ => {}
        }
        Action::None
    }

    /// Finds out what would go.
    fn find_out(&mut self) -> Action {
        let Some(asked) = &mut self.erasing else { return Action::None };
        let (wish, witnessed) = match asked.form.wish() {
            Ok(wish) => wish,
            Err(missing) => {
                asked.complaint = Some(missing);
                return Action::None;
            }
        };
        (asked.stage, asked.complaint) = (EraseStage::Planning, None);
        let (kept, number) = (self.kept.clone(), asked.number);
        let done = move |plan| Message::Erase(EraseMessage::Planned(number, Box::new(plan)));
        Action::Run(aside(move || jobs::plan(&kept, &wish, &witnessed), done))
    }

    /// Erases what was shown.
    fn carry_out(&mut self) -> Action {
        let Some(asked) = &mut self.erasing else { return Action::None };
        let EraseStage::Shown(shown) = &asked.stage else { return Action::None };
        if !asked.is_confirmed() {
            let code = asked.code_again().unwrap_or_default();
            asked.complaint = Some(format!("Write {code} once more, and nothing else."));
            return Action::None;
        }
        let (wish, witnessed) = (shown.plan.wish.clone(), shown.plan.witnessed.clone());
        let carrying = Carrying::new(shown.plan.steps.len(), self.arrived.clone());
        (asked.stage, asked.complaint) = (EraseStage::Carried(carrying.clone()), None);
        if let Some(looking) = &self.looking {
            looking.stop();
        }
        let kept = self.kept.clone();
        let done = |outcome| Message::Erase(EraseMessage::Carried(Box::new(outcome)));
        let work = move || jobs::carry_out(&kept, (&wish, &witnessed), &carrying);
        Action::Run(aside(work, done))
    }
}

impl EraseAsked {
    fn planned(&mut self, plan: Result<ErasePlan, String>) {
        match plan {
            Ok(plan) => {
                let groups = groups_of(&plan);
                self.stage = EraseStage::Shown(Box::new(ShownPlan { plan, groups }));
            }
            Err(why) => (self.stage, self.complaint) = (EraseStage::Filled, Some(why)),
        }
    }

    fn carried(&mut self, outcome: Result<EraseOutcome, String>) {
        match outcome {
            Ok(outcome) => self.stage = EraseStage::Over(Box::new(outcome)),
            Err(why) => (self.stage, self.complaint) = (EraseStage::Filled, Some(why)),
        }
    }
}
