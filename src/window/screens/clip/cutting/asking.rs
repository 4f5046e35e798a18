//! What messages do.

use std::sync::atomic::{AtomicU64, Ordering};

use crate::{
    library::Purpose,
    window::{
        screens::{
            clip::{Action, Clip, Dialogue, Message, Wanted},
            place::{self, Wish},
            record::{RecordAction, RecordForm, RecordMessage},
            underway::Underway,
        },
        typing::Line,
    },
};

use super::{
    form::{CutEdge, CutForm, CutMessage, CutStage},
    job::{CutEnd, CutJob},
};

/// Of all forms: what ends for one that is closed is for no other.
static FORMS: AtomicU64 = AtomicU64::new(0);

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
            number: FORMS.fetch_add(1, Ordering::Relaxed),
            lines: [first, last].map(|frame| Line::new(frame.to_string())),
            current: CutEdge::First,
            here,
            routines: self.named_spans(),
            sound: false,
            purpose: Purpose::Training,
            stage: CutStage::Asked(None),
            record: None,
        }));
        Action::None
    }

    pub(in crate::window::screens::clip) fn cutting(&mut self, message: CutMessage) -> Action {
        let Dialogue::Cut(form) = &mut self.dialogue else { return Action::None };
        match message {
            CutMessage::Pointed(edge, typed) => {
                form.current = edge;
                form.complain(None);
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
            CutMessage::Purpose(purpose) => form.purpose = purpose,
            CutMessage::Ask => return self.ask_where_cut_goes(),
            CutMessage::Chosen(number, Some(out)) if number == form.number => {
                return self.cut_out(out);
            }
            CutMessage::Over(number, end) if number == form.number => form.take(end),
            CutMessage::Chosen(..) | CutMessage::Over(..) => {}
            CutMessage::ShowRecord => return self.show_record_over_cut(),
            CutMessage::Record(message) => return self.noted_over_cut(message),
            CutMessage::Open => {
                if let CutStage::Made(made) = &form.stage {
                    return Action::Open(Wanted::of(made.path.clone(), None));
                }
            }
            CutMessage::Leave => self.leave_cut(),
        }
        Action::None
    }

    fn ask_where_cut_goes(&mut self) -> Action {
        let footage = self.viewer.stage().footage();
        let last = self.viewer.stage().last_frame();
        let Dialogue::Cut(form) = &mut self.dialogue else { return Action::None };
        if matches!(form.stage, CutStage::Cut(_) | CutStage::Made(_)) {
            return Action::None;
        }
        let [first, last] = match form.frames(last) {
            Ok(frames) => frames,
            Err(why) => {
                form.complain(Some(why));
                return Action::None;
            }
        };
        let (number, ending) = (form.number, footage.ending_of_copy());
        let clip = footage.path();
        let stem = clip.file_stem().unwrap_or_default().to_string_lossy();
        let wish = Wish {
            title: "Where the new clip goes",
            near: Some(clip),
            name: &format!("{stem}-{first}-{last}.{ending}"),
            kind: ("Video", ending),
        };
        let chosen = move |out| Message::Cut(CutMessage::Chosen(number, out));
        Action::Run(place::ask_where(&wish, chosen))
    }

    fn cut_out(&mut self, out: std::path::PathBuf) -> Action {
        let footage = self.viewer.stage().footage();
        let last = self.viewer.stage().last_frame();
        let Dialogue::Cut(form) = &mut self.dialogue else { return Action::None };
        let Ok(frames) = form.frames(last) else { return Action::None };
        let span = frames.map(|frame| self.viewer.stage().ticks_of(frame));
        let (sound, purpose, number) = (form.sound, form.purpose, form.number);
        let underway =
            Underway::new("Looking at what is noted of the clip …", self.arrived.clone());
        let job = CutJob { footage, span, sound, purpose, out };
        let over = move |end: Result<CutEnd, String>| {
            Message::Cut(CutMessage::Over(number, end.unwrap_or_else(CutEnd::Failed)))
        };
        let run = underway.run(|underway| job.run(underway), over);
        form.stage = CutStage::Cut(underway);
        Action::Run(run)
    }

    fn show_record_over_cut(&mut self) -> Action {
        let athlete = self.routine().map(|routine| routine.athlete.clone()).unwrap_or_default();
        let (form, read) = RecordForm::open(self.path().to_owned(), &athlete);
        if let Dialogue::Cut(cut) = &mut self.dialogue {
            cut.record = Some(form);
        }
        Action::Run(read.map(|message| Message::Cut(CutMessage::Record(message))))
    }

    fn noted_over_cut(&mut self, message: RecordMessage) -> Action {
        let Dialogue::Cut(cut) = &mut self.dialogue else { return Action::None };
        let Some(form) = &mut cut.record else { return Action::None };
        match form.update(message) {
            RecordAction::None => {}
            RecordAction::Run(task) => {
                return Action::Run(task.map(|it| Message::Cut(CutMessage::Record(it))));
            }
            RecordAction::Leave => cut.record = None,
            RecordAction::Done => {
                cut.record = None;
                // It was refused by what was noted before.
                cut.complain(None);
            }
        }
        Action::None
    }

    /// Stops what is under way, and else closes the form.
    pub(in crate::window::screens::clip) fn leave_cut(&mut self) {
        let Dialogue::Cut(form) = &self.dialogue else { return };
        match &form.stage {
            CutStage::Cut(underway) => underway.stop(),
            _ => self.dialogue = Dialogue::None,
        }
    }
}

impl CutForm {
    fn take(&mut self, end: CutEnd) {
        self.stage = match end {
            CutEnd::Made(made) => CutStage::Made(made),
            CutEnd::Refused(reasons) => CutStage::Refused(reasons),
            CutEnd::Stopped => CutStage::Asked(Some("Stopped; nothing was kept.".to_owned())),
            CutEnd::Failed(why) => CutStage::Asked(Some(why)),
        };
    }
}
