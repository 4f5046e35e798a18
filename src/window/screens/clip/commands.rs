//! Keys and commands of the clip screen: which part of it they are for.

use iced::keyboard;

use crate::{
    marks::Answer,
    units::Orientation,
    window::{
        keymap::{self, Command},
        placing::{PlaneMessage, plane_message_for},
        typing::Typed,
        viewer::playback::Speed,
    },
};

use super::{
    Action, Clip, Dialogue,
    pages::reference::Page,
    routine::{header, routines},
    writing::offers::{self, WriteKey, WriteLine},
};

impl Clip {
    pub(crate) fn key_pressed(&mut self, event: &keyboard::Event) -> Action {
        match self.dialogue {
            Dialogue::Header(_) => {
                let message = header::message_for(event);
                return message.map_or(Action::None, |message| self.header(message));
            }
            Dialogue::Routines(picked) => return self.key_in_routines(event, picked),
            Dialogue::Help | Dialogue::Page(_) => return self.key_over_page(event),
            Dialogue::Planes(_) => {
                let message = plane_message_for(event);
                return message.map_or(Action::None, |message| self.planes(message));
            }
            Dialogue::None => {}
        }
        if self.write.is_open() {
            return self.key_while_writing(event);
        }
        if self.measuring.is_some() || self.planing.is_some() {
            let command = keymap::command_while_placing(event);
            return command.map_or(Action::None, |command| self.command(command));
        }
        keymap::command_for(event).map_or(Action::None, |command| self.command(command))
    }

    pub(crate) fn key_while_writing(&mut self, event: &keyboard::Event) -> Action {
        match offers::key_for(event, self.write.text()) {
            Some(WriteKey::Move(by)) => self.move_offer(by),
            Some(WriteKey::Step(by)) => self.step(by),
            Some(WriteKey::Submit) => self.submit(),
            Some(WriteKey::Leave) => self.leave(),
            Some(WriteKey::Typed(typed)) => self.typed(typed),
            // What writes nothing still does what it does: undo, save, a larger picture.
            None => keymap::command_for(event).map_or(Action::None, |it| self.command(it)),
        }
    }

    pub(crate) fn typed(&mut self, typed: Typed) -> Action {
        match self.dialogue {
            Dialogue::Header(_) => self.header(header::Message::Typed(typed)),
            Dialogue::Planes(_) => self.planes(PlaneMessage::Typed(typed)),
            _ if self.write.is_open() => self.written(&typed),
            _ => Action::None,
        }
    }

    pub(crate) fn command(&mut self, command: Command) -> Action {
        // What waits for its picture was meant for the frame that was asked for, and whatever
        // comes next was meant to come after it.
        self.put_what_waits();
        if matches!(self.dialogue, Dialogue::None)
            && let Some(action) = self.command_while_placing(command)
        {
            return action;
        }
        match command {
            Command::Step(by) => self.step(by),
            Command::First => self.go_to(0),
            Command::Last => self.go_to(self.stage.last_frame()),
            Command::Play => self.toggle_play(),
            Command::Speed(n) => self.set_speed(Speed::one_nth(n)),
            Command::ZoomIn => self.zoom(1.0),
            Command::ZoomOut => self.zoom(-1.0),
            Command::Fit => self.show_whole(),
            Command::OneToOne => self.show_one_to_one(),
            Command::Pan(right, down) => self.pan(right, down),
            Command::NextMark => self.next_mark(),
            Command::MarkBefore => self.mark_before(),
            Command::NextLine => self.next_line(1),
            Command::LineBefore => self.next_line(-1),
            Command::MoveHere => self.move_here(),
            Command::Hang(by) => self.hang_further(by),
            Command::Remove => self.remove(),
            Command::Undo => self.undo(),
            Command::Redo => self.redo(),
            Command::Save => self.save(),
            Command::Remedy(place) => self.remedy(place),
            Command::Write => self.begin_to_write(),
            Command::Put(moment) => self.put_moment(moment),
            Command::CallMet => self.call(Answer::Met),
            Command::CallNotMet => self.call(Answer::NotMet),
            Command::CallCantTell => self.call(Answer::CantTell),
            Command::EditLine => self.rewrite(),
            Command::TurnSeen => self.turn_seen(),
            Command::Measure => self.begin_to_measure(),
            Command::Planes => self.open_planes(),
            Command::Asked => self.toggle_asked(),
            Command::Nudge(..)
            | Command::PutPoint
            | Command::TakeBack
            | Command::Keep
            | Command::Skip
            | Command::Again
            | Command::Bent
            | Command::Line
            | Command::NextPlane
            | Command::OffSquare
            | Command::HalfTurns(_)
            | Command::GoOn
            | Command::TurnAnswer(_)
            | Command::HandIn
            | Command::Tie
            | Command::Demo
            | Command::TrainEye
            | Command::OtherSide
            | Command::Alone
            | Command::Library
            | Command::Tile(..)
            | Command::Complete
            | Command::AddFolder
            | Command::LookAgain
            | Command::SaveSearch
            | Command::MakeSet
            | Command::Assign
            | Command::Judges => Action::None,
            Command::Header => self.open_header(),
            Command::Routines => self.ask_which_routine(),
            Command::NewRoutine => self.begin_another(),
            Command::TurnRoutine(by) => self.turn_routine(by),
            Command::BeginsHere => self.cut(routines::Cut::Begins),
            Command::EndsHere => self.cut(routines::Cut::Ends),
            Command::Card => self.show_page(Page::card),
            Command::Chart => self.show_page(Page::chart),
            Command::Walk => self.walk_on(),
            Command::Loop => self.toggle_loop(),
            Command::TurnPicture => self.turn_picture(Orientation::turned),
            Command::MirrorPicture => self.turn_picture(Orientation::flipped),
            Command::NextLook | Command::TextSize(_) => Action::Own(command),
            Command::Open => Action::OpenOther,
            Command::LayBeside => self.lay_beside(),
            Command::Help => self.toggle_help(),
            Command::Leave => self.leave(),
        }
    }

    pub(crate) fn toggle_asked(&mut self) -> Action {
        self.shows_asked = !self.shows_asked;
        Action::None
    }

    pub(crate) fn toggle_help(&mut self) -> Action {
        self.dialogue = match self.dialogue {
            Dialogue::Help => Dialogue::None,
            _ => Dialogue::Help,
        };
        Action::None
    }

    /// Closes the topmost of what is open; with nothing open, lets go of the chosen line.
    pub(crate) fn leave(&mut self) -> Action {
        if !matches!(self.dialogue, Dialogue::None) {
            self.dialogue = Dialogue::None;
            self.put_later = None;
        } else if self.write.is_open() {
            self.write = WriteLine::default();
        } else if self.complaint.is_some() {
            return self.close_complaint();
        } else if self.walk.is_some() {
            self.walk = None;
        } else {
            self.chosen = None;
        }
        Action::None
    }
}
