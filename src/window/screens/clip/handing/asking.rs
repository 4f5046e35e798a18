//! What messages do.

use std::path::PathBuf;

use crate::{
    handout::{Drawings, Subject},
    window::{
        screens::{
            clip::{Action, Clip, Dialogue, Message, errand::Errand},
            place::Wish,
        },
        typing::Line,
    },
};

use super::{
    form::{HandField, HandForm, HandLook, HandMessage, HandWhat, WORDS},
    job::HandJob,
};

impl Clip {
    /// Asks what is handed over: a still of the frame on screen with its drawing is offered.
    pub(in crate::window::screens::clip) fn ask_what_is_handed_over(&mut self) -> Action {
        let here = self.viewer.stop();
        let stage = self.viewer.stage();
        if stage.whole().is_none() {
            return self.complain("There is no frame to hand over.");
        }
        let around = [-1, 1].map(|by| stage.seconds_on(here, by).to_string());
        let [first, last] = around.map(Line::new);
        self.dialogue = Dialogue::HandOver(Box::new(HandForm {
            errand: Errand::new(&WORDS),
            what: HandWhat::Still,
            look: HandLook::Drawn,
            lines: [first, last, Line::new(String::new())],
            current: HandField::First,
            here,
            damage: stage.soundness_of(here).says(),
            last: stage.last_frame(),
            drawings: self.drawings(),
        }));
        Action::None
    }

    /// Returns what was measured on every frame, with what the rules ask.
    fn drawings(&self) -> Drawings {
        let Some(sheaf) = self.session.sheaf() else { return Drawings::none(self.turn()) };
        let footage = self.viewer.stage().footage();
        let limit = |it: &crate::marks::Reading| {
            self.session.rules_for(it.of, it.quantity).first().map(|rule| rule.limit)
        };
        Drawings::of(sheaf, &footage, &limit, true)
    }

    pub(in crate::window::screens::clip) fn handing(&mut self, message: HandMessage) -> Action {
        let Dialogue::HandOver(form) = &mut self.dialogue else { return Action::None };
        form.errand.complain(None);
        match message {
            HandMessage::What(what) => form.what = what,
            HandMessage::Look(look) => form.look = look,
            HandMessage::Pointed(field, typed) => {
                form.current = field;
                let wish = form.line_mut(field).take(&typed);
                return Action::Run(wish.task(Message::Typed));
            }
            HandMessage::Here(field) => {
                *form.line_mut(field) = Line::new(form.here.to_string());
            }
        }
        Action::None
    }

    pub(in crate::window::screens::clip) fn ask_where_handed_goes(&mut self) -> Action {
        let Dialogue::HandOver(form) = &mut self.dialogue else { return Action::None };
        if let Err(why) = form.frames() {
            form.errand.complain(Some(why));
            return Action::None;
        }
        let (what, here) = (form.what, form.here);
        let clip = self.path().to_owned();
        let stem = clip.file_stem().unwrap_or_default().to_string_lossy();
        let (title, name, kind) = match what {
            HandWhat::Still => ("Where the still goes", format!("{stem}-{here}.png"), "png"),
            HandWhat::Replay => {
                ("Where the replay goes", format!("{stem}-{here}-replay.mp4"), "mp4")
            }
        };
        let kind = (if what == HandWhat::Still { "Picture" } else { "Video" }, kind);
        self.ask_where_to(&Wish { title, near: Some(&clip), name: &name, kind })
    }

    pub(in crate::window::screens::clip) fn hand_over(&mut self, out: PathBuf) -> Action {
        let Dialogue::HandOver(form) = &self.dialogue else { return Action::None };
        let Ok(frames) = form.frames() else { return Action::None };
        let look = form.look();
        let drawings = match look {
            HandLook::Picture => Drawings::none(form.drawings.turn()),
            HandLook::Drawn | HandLook::Lines => form.drawings.clone(),
        };
        let [_, _, caption] = &form.lines;
        let (athlete, routine) = self
            .routine()
            .map_or_else(Default::default, |routine| (routine.athlete.clone(), routine.id.clone()));
        let job = HandJob {
            subject: Subject { footage: self.viewer.stage().footage(), drawings },
            what: form.what,
            look,
            here: form.here.into(),
            frames: frames.map(usize::from),
            caption: caption.text().trim().to_owned(),
            purpose: form.errand.purpose,
            athlete,
            routine,
            out,
        };
        self.make(|underway| job.run(underway))
    }
}
