//! What messages do.

use std::path::PathBuf;

use crate::window::{
    screens::{
        clip::{Action, Clip, Dialogue, Message, errand::Errand},
        place::Wish,
    },
    typing::Line,
};

use super::{
    form::{CutEdge, CutForm, CutMessage, WORDS},
    job::CutJob,
};

impl Clip {
    /// Asks which part is to be cut out: the open routine, or else the whole clip, is offered.
    pub(in crate::window::screens::clip) fn ask_to_cut(&mut self) -> Action {
        let here = self.viewer.stop();
        let span = self.routine().and_then(|routine| routine.span);
        let span = span.or_else(|| self.viewer.stage().whole());
        let Some([first, last]) = span.map(|span| span.map(|at| at.index)) else {
            return self.complain("There is no frame to cut out.");
        };
        self.dialogue = Dialogue::Cut(Box::new(CutForm {
            errand: Errand::new(&WORDS),
            lines: [first, last].map(|frame| Line::new(frame.to_string())),
            current: CutEdge::First,
            here,
            routines: self.named_spans(),
            sound: false,
        }));
        Action::None
    }

    pub(in crate::window::screens::clip) fn cutting(&mut self, message: CutMessage) -> Action {
        let Dialogue::Cut(form) = &mut self.dialogue else { return Action::None };
        match message {
            CutMessage::Pointed(edge, typed) => {
                form.current = edge;
                form.errand.complain(None);
                let wish = form.line_mut(edge).take(&typed);
                return Action::Run(wish.task(Message::Typed));
            }
            CutMessage::Here(edge) => form.write(edge, form.here),
            CutMessage::Routine(place) => {
                if let Some((_, [first, last])) = form.routines.get(place) {
                    let (first, last) = (*first, *last);
                    form.write(CutEdge::First, first);
                    form.write(CutEdge::Last, last);
                }
            }
            CutMessage::Sound => form.sound = !form.sound,
        }
        Action::None
    }

    pub(in crate::window::screens::clip) fn ask_where_cut_goes(&mut self) -> Action {
        let footage = self.viewer.stage().footage();
        let last = self.viewer.stage().last_frame();
        let Dialogue::Cut(form) = &mut self.dialogue else { return Action::None };
        let [first, last] = match form.frames(last) {
            Ok(frames) => frames,
            Err(why) => {
                form.errand.complain(Some(why));
                return Action::None;
            }
        };
        let (clip, ending) = (footage.path(), footage.ending_of_copy());
        let stem = clip.file_stem().unwrap_or_default().to_string_lossy();
        self.ask_where_to(&Wish {
            title: "Where the new clip goes",
            near: Some(clip),
            name: &format!("{stem}-{first}-{last}.{ending}"),
            kind: ("Video", ending),
        })
    }

    pub(in crate::window::screens::clip) fn cut_out(&mut self, out: PathBuf) -> Action {
        let footage = self.viewer.stage().footage();
        let last = self.viewer.stage().last_frame();
        let Dialogue::Cut(form) = &self.dialogue else { return Action::None };
        let Ok(frames) = form.frames(last) else { return Action::None };
        let span = frames.map(|frame| self.viewer.stage().ticks_of(frame));
        let (sound, purpose) = (form.sound, form.errand.purpose);
        let job = CutJob { footage, span, sound, purpose, out };
        self.make(|underway| job.run(underway))
    }
}
