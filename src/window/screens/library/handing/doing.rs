//! What messages do.

use iced::keyboard::Event;

use crate::{
    library::clock_day,
    window::{
        keymap::{self, HandCommand},
        screens::{
            library::{Action, Library, Message, aside::aside},
            place::{self, Wish},
            record::RecordForm,
            underway::Underway,
        },
        typing::{self, Typed},
    },
};

use super::{
    form::{HandEnd, HandMessage, HandOf, HandOut, HandStage},
    jobs::{self, HandJob},
};

impl Library {
    /// Asks for whom the chosen clip is to be handed out.
    pub(in crate::window::screens::library) fn hand_out_chosen(&mut self) -> Action {
        let Some(tile) = self.chosen.and_then(|place| self.tile(place)) else {
            self.said = Some("Choose a clip first.".to_owned());
            return Action::None;
        };
        let of = HandOf::Clip(Box::new(tile.hit.clone()));
        self.hand_out(of)
    }

    /// The same of all that is found.
    pub(in crate::window::screens::library) fn hand_out_found(&mut self) -> Action {
        match self.found.as_ref().map_or(0, |found| found.all) {
            0 => self.said = Some("There is nothing to hand out.".to_owned()),
            all => return self.hand_out(HandOf::Found(self.searched.clone(), all)),
        }
        Action::None
    }

    fn hand_out(&mut self, of: HandOf) -> Action {
        (self.asking, self.said) = (None, None);
        self.over_wall += 1;
        self.handing = Some(HandOut::new(self.over_wall, of));
        Action::None
    }

    pub(in crate::window::screens::library) fn hand(&mut self, message: HandMessage) -> Action {
        let Some(hand) = &mut self.handing else { return Action::None };
        match message {
            HandMessage::Asked(command) => return self.hand_asked(command),
            HandMessage::Purpose(purpose) => hand.change(purpose),
            HandMessage::WouldGo(number, found) if number == hand.number => {
                // It may have been asked otherwise meanwhile.
                if matches!(hand.stage, HandStage::Looking) {
                    match *found {
                        Ok(would_go) => hand.stage = HandStage::Shown(Box::new(would_go)),
                        Err(why) => {
                            (hand.stage, hand.complaint) = (HandStage::Asked, Some(why));
                        }
                    }
                }
            }
            HandMessage::Chosen(number, Some(out)) if number == hand.number => {
                return self.let_go(out);
            }
            HandMessage::Over(number, end) if number == hand.number => hand.take(end),
            HandMessage::WouldGo(..) | HandMessage::Chosen(..) | HandMessage::Over(..) => {}
        }
        Action::None
    }

    pub(in crate::window::screens::library) fn key_while_handing(
        &mut self,
        event: &Event,
    ) -> Action {
        match keymap::while_handing(event) {
            Some(command) => self.hand_asked(command),
            None => {
                typing::typed(event).map_or(Action::None, |typed| self.typed_while_handing(&typed))
            }
        }
    }

    pub(in crate::window::screens::library) fn typed_while_handing(
        &mut self,
        typed: &Typed,
    ) -> Action {
        let Some(hand) = self.handing.as_mut().filter(|hand| hand.is_written()) else {
            return Action::None;
        };
        hand.complaint = None;
        Action::Run(hand.to.take(typed).task(Message::Typed))
    }

    fn hand_asked(&mut self, command: HandCommand) -> Action {
        let Some(hand) = &mut self.handing else { return Action::None };
        match (command, &hand.stage) {
            (HandCommand::GoOn, HandStage::Asked) => return self.find_what_would_go(),
            (HandCommand::GoOn, HandStage::Shown(_)) => return self.ask_where_bundle_goes(),
            (HandCommand::Choose(by), HandStage::Asked | HandStage::Shown(_)) => hand.choose(by),
            (HandCommand::Sound, HandStage::Asked | HandStage::Shown(_)) => {
                hand.sound = !hand.sound;
            }
            (HandCommand::Record, HandStage::Shown(would_go)) => {
                if let Some(first) = would_go.stay.first() {
                    let (form, read) = RecordForm::open(first.clip.clone(), "");
                    self.record = Some(form);
                    return Action::Run(read.map(Message::Record));
                }
            }
            (HandCommand::Leave, HandStage::Going(underway)) => underway.stop(),
            (HandCommand::GoOn, HandStage::Gone(_)) | (HandCommand::Leave, _) => {
                self.handing = None;
            }
            _ => {}
        }
        Action::None
    }

    fn find_what_would_go(&mut self) -> Action {
        let Some(hand) = &mut self.handing else { return Action::None };
        if hand.to.text().trim().is_empty() {
            let why = "Write for whom it is: a club or a role, no person's name.";
            hand.complaint = Some(why.to_owned());
            return Action::None;
        }
        (hand.stage, hand.complaint) = (HandStage::Looking, None);
        let (kept, of, purpose) = (self.kept.clone(), hand.of.clone(), hand.purpose);
        let number = hand.number;
        let done = move |found| Message::Hand(HandMessage::WouldGo(number, Box::new(found)));
        Action::Run(aside(move || jobs::would_go(&kept, &of, purpose), done))
    }

    fn ask_where_bundle_goes(&mut self) -> Action {
        let Some(hand) = &mut self.handing else { return Action::None };
        if hand.to.text().trim().is_empty() {
            return self.find_what_would_go();
        }
        let number = hand.number;
        let name = format!("bundle-{}.zip", clock_day());
        let wish = Wish {
            title: "Where the bundle goes",
            near: None,
            name: &name,
            kind: ("Bundle", "zip"),
        };
        let chosen = move |out| Message::Hand(HandMessage::Chosen(number, out));
        Action::Run(place::ask_where(&wish, chosen))
    }

    fn let_go(&mut self, out: std::path::PathBuf) -> Action {
        let Some(hand) = &mut self.handing else { return Action::None };
        let HandStage::Shown(would_go) = &hand.stage else { return Action::None };
        let job = HandJob {
            kept: self.kept.clone(),
            marks: would_go.marks.clone(),
            clips: would_go.clips,
            purpose: hand.purpose,
            sound: hand.sound,
            out,
            to: hand.to.text().trim().to_owned(),
        };
        let underway = Underway::new("Putting it together …", self.arrived.clone());
        let number = hand.number;
        let over = move |end: Result<HandEnd, String>| {
            Message::Hand(HandMessage::Over(number, end.unwrap_or_else(HandEnd::Failed)))
        };
        let run = underway.run(|underway| job.run(underway), over);
        (hand.stage, hand.complaint) = (HandStage::Going(underway), None);
        Action::Run(run)
    }
}

impl HandOut {
    fn take(&mut self, end: HandEnd) {
        (self.stage, self.complaint) = match end {
            HandEnd::Gone(handed) => (HandStage::Gone(handed), None),
            HandEnd::Stopped => {
                (HandStage::Asked, Some("Stopped; nothing was handed out.".to_owned()))
            }
            HandEnd::Failed(why) => (HandStage::Asked, Some(why)),
        };
    }
}
