//! The routines of one clip: several exercises, or several judges of one.

use iced::{
    Alignment, Element, Length,
    keyboard::{Event, Key, key::Named},
    widget::{column, container, row, scrollable, space},
};

use crate::{
    marks::{DeskError, Routine, Saving},
    units::FrameIndex,
    window::{
        controls::button,
        keymap::{ClipCommand, Work},
        screens::clip::{
            Action, Clip, Complaint, Dialogue, Message, Session, session::SessionError,
        },
        theme::{self, Current, part, size, text},
    },
};

use super::known::{Known, routines_of};

/// An end of a routine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cut {
    /// Its first frame.
    Begins,
    /// Its last.
    Ends,
}

/// Why another routine is not open.
enum Unopened {
    /// What was written of this one could not be saved.
    Unsaved(DeskError),
    /// It could not be read.
    Unread(SessionError),
}

impl Clip {
    /// Lists the routines: those that are known at once, and what lies on the disk when it is read.
    pub(crate) fn ask_which_routine(&mut self) -> Action {
        self.viewer.stop();
        self.show_routines();
        let clip = self.viewer.stage().path().to_owned();
        self.beside(
            move || routines_of(&clip),
            |clip, routines| {
                clip.routines = routines;
                clip.show_routines();
                Action::None
            },
        )
    }

    /// Shows the routines that are known.
    pub(crate) fn show_routines(&mut self) {
        self.dialogue = Dialogue::Routines(self.current_routine().unwrap_or(0));
    }

    fn current_routine(&self) -> Option<usize> {
        let open = self.session.path()?;
        self.routines.iter().position(|known| known.path() == open)
    }

    /// Returns the frames of the routines with whether each is the one that is open; nothing
    /// where there is but one and it is the whole clip.
    pub(crate) fn spans(&self) -> Vec<([FrameIndex; 2], Current)> {
        let current = self.current_routine();
        let whole = self.viewer.stage().whole().map(|span| span.map(|at| at.index));
        let own = self.routine().and_then(|it| it.span).map(|span| span.map(|at| at.index));
        let known = self.routines.iter().enumerate().filter(|(at, _)| Some(*at) != current);
        let others = known.filter_map(|(_, known)| Some((known.span()?, Current::No)));
        let spans: Vec<_> = others.chain(own.map(|span| (span, Current::Yes))).collect();
        if spans.len() == 1 && own == whole { Vec::new() } else { spans }
    }

    /// Returns what routines with a span are called, each with its first and last frame, once
    /// where several judges gave it the same.
    pub(crate) fn named_spans(&self) -> Vec<(String, [FrameIndex; 2])> {
        let known = self.routines.iter().filter_map(|it| Some((it.id()?.to_owned(), it.span()?)));
        let mut spans: Vec<_> = known.collect();
        spans.sort();
        spans.dedup();
        spans
    }

    /// Opens the routine so many places on.
    pub(crate) fn turn_routine(&mut self, by: i8) -> Action {
        let clip = self.viewer.stage().path().to_owned();
        self.beside(move || routines_of(&clip), move |clip, routines| clip.turn_in(routines, by))
    }

    /// Opens the routine so many places on among those that were found.
    pub(crate) fn turn_in(&mut self, routines: Vec<Known>, by: i8) -> Action {
        self.routines = routines;
        let count = self.routines.len();
        match self.current_routine() {
            None if count == 0 => self.begin_another(),
            None => self.open_routine(0),
            Some(here) => {
                let next = (here as isize + isize::from(by)).rem_euclid(count as isize);
                self.open_routine(next as usize)
            }
        }
    }

    /// Opens another routine; what was written of this one is saved first.
    pub(crate) fn open_routine(&mut self, place: usize) -> Action {
        self.dialogue = Dialogue::None;
        let Some(known) = self.routines.get(place) else { return Action::None };
        if self.current_routine() == Some(place) {
            return Action::None;
        }
        let (path, beginning) = (known.path().to_owned(), self.session.beginning());
        let saving = self.session.begin_save();
        let work = move || -> Result<Session, Unopened> {
            saving.map(Saving::write).transpose().map_err(Unopened::Unsaved)?;
            beginning.open(&path).map_err(Unopened::Unread)
        };
        self.beside(work, |clip, opened| match opened {
            Ok(session) => clip.show_session(session),
            Err(Unopened::Unsaved(error)) => clip.stay_with(&error),
            Err(Unopened::Unread(error)) => clip.complain_of(&error),
        })
    }

    /// Says why another routine is not opened, and what to do.
    fn stay_with(&mut self, error: &DeskError) -> Action {
        let complaint = Complaint::of(error);
        let routine = self.routine().map_or("", |routine| &routine.id);
        let text = format!(
            "{}. So routine {routine} stays open. Nothing of it is lost: it is kept on this computer \
             and tried again. Open the other routine once it is saved, or once its marks are kept in \
             your own folder.",
            complaint.text().trim_end_matches('.')
        );
        self.complaint = Some(Complaint::new(text).with(&complaint.remedies));
        Action::None
    }

    /// Shows other marks of the clip.
    pub(crate) fn show_session(&mut self, session: Session) -> Action {
        self.session = session;
        (self.chosen, self.complaint, self.walk) = (None, None, None);
        self.work_out_anew();
        let first = self.routine().and_then(|routine| routine.span).map(|[first, _]| first.index);
        first.map_or(Action::None, |frame| self.go_to(frame))
    }

    /// Lets the routine begin or end at the frame on screen.
    pub(crate) fn cut(&mut self, cut: Cut) -> Action {
        self.viewer.stop();
        let Some(routine) = self.routine().cloned() else { return self.open_header() };
        let Some([first, last]) = self.viewer.stage().whole() else { return Action::None };
        let here = self.viewer.stage().frame_ref(self.viewer.frame());
        let [from, to] = routine.span.unwrap_or([first, last]);
        // An end that would lie on the wrong side goes as far as the clip.
        let span = match cut {
            Cut::Begins => [here, if to.index < here.index { last } else { to }],
            Cut::Ends => [if from.index > here.index { first } else { from }, here],
        };
        match self.session.change_routine(Routine { span: Some(span), ..routine }) {
            Ok(_) => Action::None,
            Err(error) => self.complain_of(&error),
        }
    }

    pub(crate) fn key_in_routines(&mut self, event: &Event, picked: usize) -> Action {
        let Event::KeyPressed { key, physical_key, .. } = event else { return Action::None };
        let last = self.routines.len().saturating_sub(1);
        match key {
            Key::Named(Named::Escape) => return self.leave(),
            Key::Named(Named::Enter) => return self.open_routine(picked),
            Key::Named(Named::ArrowDown) => {
                self.dialogue = Dialogue::Routines((picked + 1).min(last));
            }
            Key::Named(Named::ArrowUp) => {
                self.dialogue = Dialogue::Routines(picked.saturating_sub(1));
            }
            _ if key.to_latin(*physical_key) == Some('n') => return self.begin_another(),
            _ => {}
        }
        Action::None
    }

    /// Draws the list.
    pub(crate) fn view_routines(&self, picked: usize) -> Element<'_, Message> {
        let heading = text("Routines of this clip").size(size::LEAD).font(theme::STRONG);
        let current = self.current_routine();
        let lines = self.routines.iter().enumerate().map(|(place, known)| {
            let (what, aside) = known.in_words();
            let open = if current == Some(place) { "open" } else { "" };
            let words = column![
                text(what),
                text(aside).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
            ]
            .width(Length::Fill);
            let open = text(open).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
            button(row![words, open].align_y(Alignment::Center))
                .width(Length::Fill)
                .padding([theme::space::TIGHT, theme::space::SMALL])
                .style(theme::paper_line(Current::from(place == picked)))
                .on_press(Message::RoutinePressed(place))
                .into()
        });
        let list: Element<'_, Message> = if self.routines.is_empty() {
            text("None yet. A routine begins when you write the first thing, or with N.")
                .style(theme::ink(theme::INK_QUIET))
                .into()
        } else {
            scrollable(column(lines)).style(theme::lane).into()
        };
        let keys = text("↓ ↑ choose · Enter open · N another · Esc close").size(size::SMALL);
        let foot = row![
            keys.style(theme::ink(theme::INK_QUIET)),
            space().width(Length::Fill),
            button("Another")
                .style(theme::other_button)
                .on_press(Message::Asked(ClipCommand::Work(Work::NewRoutine))),
        ]
        .align_y(Alignment::Center);
        container(column![heading, list, foot].spacing(theme::space::MIDDLE))
            .width(part::DIALOGUE)
            .padding(theme::space::LARGE)
            .style(theme::sheet)
            .into()
    }
}
