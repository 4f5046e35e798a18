//! Keys and commands of the clip screen: which part of it they are for.

use iced::keyboard;

use crate::{
    marks::CallAnswer,
    units::{FrameIndex, Orientation},
    window::{
        keymap::{self, ClipCommand, Going, Steady, View, Work},
        placing::{PlaneMessage, plane_message_for},
        screens::record::RecordMessage,
        typing::Typed,
        viewer::playback::Speed,
    },
};

use super::{
    Action, Clip, Dialogue,
    message::Next,
    mode::Mode,
    pages::reference::Page,
    routine::{header, routines},
    writing::offers::{self, WriteKey},
};

impl Clip {
    pub(crate) fn key_pressed(&mut self, event: &keyboard::Event) -> Action {
        match self.dialogue {
            Dialogue::Header(_) => {
                let message = header::message_for(event);
                return message.map_or(Action::None, |message| self.header(message));
            }
            Dialogue::Routines(picked) => return self.key_in_routines(event, picked),
            Dialogue::Help(_) => return self.key_in_help(event),
            Dialogue::Jump(_) => return self.key_in_jump(event),
            Dialogue::Page(_) => return self.key_over_page(event),
            Dialogue::Asides(_) => return self.key_in_asides(event),
            Dialogue::Planes(_) => {
                let message = plane_message_for(event);
                return message.map_or(Action::None, |message| self.planes(message));
            }
            Dialogue::Record(_) => return self.noted(RecordMessage::KeyPressed(event.clone())),
            Dialogue::Meet(ref mut form) => {
                let message = form.message_for(event);
                return message.map_or(Action::None, |message| self.meet(message));
            }
            Dialogue::Cut(ref mut form) => {
                let message = form.message_for(event);
                return message.map_or(Action::None, |message| self.answer(message));
            }
            Dialogue::HandOver(ref mut form) => {
                let message = form.message_for(event);
                return message.map_or(Action::None, |message| self.answer(message));
            }
            Dialogue::None => {}
        }
        let command = match &self.mode {
            Mode::Writing(line) => {
                let key = offers::key_for(event, line.text());
                return self.key_while_writing(event, key);
            }
            Mode::Placing(_) => keymap::while_placing(event),
            Mode::Looking { .. } => keymap::on_clip(event),
        };
        command.map_or(Action::None, |command| self.command(command))
    }

    fn key_while_writing(&mut self, event: &keyboard::Event, key: Option<WriteKey>) -> Action {
        match key {
            Some(WriteKey::Move(by)) => self.move_offer(by),
            Some(WriteKey::Step(by)) => self.step(by),
            Some(WriteKey::Submit) => self.submit(),
            Some(WriteKey::Leave) => self.leave(),
            Some(WriteKey::Typed(typed)) => self.typed(typed),
            // What writes nothing still does what it does: undo, save, a larger picture.
            None => keymap::on_clip(event).map_or(Action::None, |it| self.command(it)),
        }
    }

    pub(crate) fn typed(&mut self, typed: Typed) -> Action {
        match self.dialogue {
            Dialogue::Header(_) => self.header(header::Message::Typed(typed)),
            Dialogue::Planes(_) => self.planes(PlaneMessage::Typed(typed)),
            Dialogue::Help(_) => self.typed_in_help(&typed),
            Dialogue::Jump(_) => self.typed_in_jump(&typed),
            Dialogue::Record(_) => self.noted(RecordMessage::Typed(typed)),
            Dialogue::Meet(ref form) => {
                let message = form.typed(typed);
                self.meet(message)
            }
            Dialogue::Cut(ref form) => {
                let message = form.typed(typed);
                self.answer(message)
            }
            Dialogue::HandOver(ref form) => {
                let message = form.typed(typed);
                self.answer(message)
            }
            _ => self.written(&typed),
        }
    }

    pub(crate) fn command(&mut self, command: ClipCommand) -> Action {
        // What waits for its picture was meant for the frame that was asked for, and whatever
        // comes next was meant to come after it.
        self.put_what_waits();
        let goes_on = matches!(command, ClipCommand::Work(Work::Turn(_)) | ClipCommand::View(_));
        self.turning = self.turning.take().filter(|_| goes_on);
        match command {
            ClipCommand::Everywhere(command) => Action::Own(command),
            ClipCommand::Going(going) => self.go(going),
            ClipCommand::View(view) => self.look(view),
            ClipCommand::Steady(command) => self.steady(command),
            ClipCommand::Work(work) => self.work(work),
            ClipCommand::Points(command) => self.points(command),
        }
    }

    fn go(&mut self, going: Going) -> Action {
        match going {
            Going::Step(by) => self.step(by),
            Going::Seconds(by) => {
                let from = self.viewer.stop();
                self.go_to(self.viewer.stage().seconds_on(from, by))
            }
            Going::First => self.go_to(FrameIndex::FIRST),
            Going::Last => self.go_to(self.viewer.stage().last_frame()),
            Going::Play => self.toggle_play(),
            Going::Speed(n) => self.set_speed(Speed::one_nth(n)),
            Going::NextMark => self.next_mark(),
            Going::MarkBefore => self.mark_before(),
            Going::TurnRoutine(by) => self.turn_routine(by),
            Going::Open => Action::OpenOther,
        }
    }

    fn steady(&mut self, command: Steady) -> Action {
        match command {
            Steady::Asked => self.toggle_asked(),
            Steady::Undo => self.undo(),
            Steady::Redo => self.redo(),
            Steady::Save => self.save(),
            Steady::CallMet => self.call(CallAnswer::Met),
            Steady::CallNotMet => self.call(CallAnswer::NotMet),
            Steady::CallCantTell => self.call(CallAnswer::CantTell),
            Steady::Help => self.toggle_help(),
            Steady::Leave => self.leave(),
        }
    }

    fn work(&mut self, work: Work) -> Action {
        match work {
            Work::Turn(heading) => self.look_for_turn(heading),
            Work::Jump => self.ask_where(),
            Work::Loop => self.toggle_loop(),
            Work::LayBeside => self.lay_beside(),
            Work::Back => self.put_away(Next::Back),
            Work::Record => self.show_record(),
            Work::CutOut => self.ask_to_cut(),
            Work::HandOver => self.ask_what_is_handed_over(),
            Work::Meet => self.ask_what_was_given(),
            Work::Planes => self.open_planes(),
            Work::TurnPicture => self.turn_picture(Orientation::turned),
            Work::MirrorPicture => self.turn_picture(Orientation::flipped),
            Work::Put(moment) => self.put_moment(moment),
            Work::Write => self.begin_to_write(),
            Work::NextLine => self.next_line(1),
            Work::LineBefore => self.next_line(-1),
            Work::EditLine => self.rewrite(),
            Work::MoveHere => self.move_here(),
            Work::Hang(by) => self.hang_further(by),
            Work::TurnSeen => self.turn_seen(),
            Work::Remove => self.remove(),
            Work::Measure => self.begin_to_measure(),
            Work::Header => self.open_header(),
            Work::BeginsHere => self.cut(routines::Cut::Begins),
            Work::EndsHere => self.cut(routines::Cut::Ends),
            Work::Routines => self.ask_which_routine(),
            Work::NewRoutine => self.begin_another(),
            Work::Card => self.show_page(Page::card),
            Work::Chart => self.show_page(Page::chart),
            Work::Aside => self.list_asides(),
            Work::Walk => self.walk_on(),
            Work::Remedy(place) => self.remedy(place),
        }
    }

    fn look(&mut self, view: View) -> Action {
        self.viewer.look(view, self.turn());
        Action::None
    }

    pub(crate) fn toggle_asked(&mut self) -> Action {
        self.shows_asked = !self.shows_asked;
        Action::None
    }

    /// Closes the topmost of what is open; with nothing open, lets go of the chosen line, and then
    /// goes back to where the clip was opened.
    pub(crate) fn leave(&mut self) -> Action {
        if matches!(self.dialogue, Dialogue::Cut(_) | Dialogue::HandOver(_)) {
            self.leave_errand();
        } else if !matches!(self.dialogue, Dialogue::None) {
            self.dialogue = Dialogue::None;
        } else if self.mode.line().is_some() {
            self.mode = Mode::default();
        } else if self.stop_placing() {
        } else if self.complaint.is_some() {
            return self.close_complaint();
        } else if self.walk.is_some() {
            self.walk = None;
        } else if self.chosen.is_some() {
            self.chosen = None;
        } else {
            return self.put_away(Next::Back);
        }
        Action::None
    }
}
