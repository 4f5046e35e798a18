//! Placing points on the clip screen: keys and pointer go to the machine, and what it makes of them
//! into the marks.

use std::time::Instant;

use crate::{
    marks::{ReferencePlane, Step},
    units::Shown,
    window::{
        keymap::{self, AngleCommand, ClipCommand, PointCommand, Work},
        paper::Key,
        placing::{Change, Placing, Sight, What},
        screens::clip::{Action, Clip, mode::Mode},
        viewer::frame::Pointer,
    },
};

impl Clip {
    /// Returns what is looked at while points are placed.
    pub(crate) fn sight(&self) -> Sight {
        let upright = self.viewer.stage().upright(self.turn());
        Sight { frame: self.viewer.stage().frame_ref(self.viewer.frame()), upright }
    }

    /// Does what a command means while points are placed; nothing where none are.
    pub(crate) fn points(&mut self, command: PointCommand) -> Action {
        let sight = self.sight();
        let Some(placing) = self.mode.placing_mut() else { return Action::None };
        let change = match command {
            PointCommand::Nudge(right, down) => return self.nudge([right, down]),
            PointCommand::PutPoint => return self.put_point(self.middle_in_sight()),
            PointCommand::Keep => return self.keep(),
            PointCommand::Step(by) => return self.step(by),
            PointCommand::Planes => return self.open_planes(),
            PointCommand::Angle(command) => return self.angle(command),
            PointCommand::TakeBack => placing.take_back(),
            PointCommand::Skip => {
                placing.skip(&sight);
                None
            }
            PointCommand::Again => {
                placing.again(&sight);
                None
            }
        };
        self.store(change)
    }

    /// Does what only an angle has; on a plane it means nothing.
    fn angle(&mut self, command: AngleCommand) -> Action {
        let frame = self.viewer.stage().frame_ref(self.viewer.frame());
        let Some(placing) =
            self.mode.placing_mut().filter(|it| matches!(it.what(), What::Angle(_)))
        else {
            return Action::None;
        };
        let (Some(angle), Some(sheaf)) = (placing.measuring_mut(), self.session.sheaf()) else {
            return Action::None;
        };
        let change = match command {
            AngleCommand::ForgetClicks => {
                self.forget_clicks();
                return Action::None;
            }
            AngleCommand::Bent => {
                angle.bend(&frame);
                None
            }
            AngleCommand::Line => angle.ask_for_line(),
            AngleCommand::NextPlane => match angle.next_plane(sheaf) {
                Some(change) => Some(change),
                None => return self.open_planes(),
            },
            AngleCommand::OffSquare => angle.next_off_square(),
            AngleCommand::Beside => angle.next_beside(),
            AngleCommand::HalfTurns(n) => angle.half_turns(n),
        };
        self.store(change)
    }

    /// Undoes or does again while points are placed; nothing where none are.
    pub(crate) fn step_of_points(&mut self, step: Step) -> Option<Action> {
        let (placing, sheaf) = (self.mode.placing()?, self.session.sheaf()?);
        let goes_too_far = matches!(step, Step::Undo) && !placing.has_begun(sheaf);
        Some(if goes_too_far { Action::None } else { self.take_and_follow(step) })
    }

    /// Stops placing points, with everything kept as it is, so that one can go on later; returns
    /// whether any were being placed. After a plane its angle goes on.
    pub(crate) fn stop_placing(&mut self) -> bool {
        let Some(placing) = self.mode.take_placing() else { return false };
        self.mode = placing.stop().map_or_else(Mode::default, Mode::Placing);
        true
    }

    /// Does what the pointer did on the picture.
    pub(crate) fn pointed(&mut self, pointer: Pointer) -> Action {
        let sight = self.sight();
        let placing = match &mut self.mode {
            Mode::Placing(placing) => placing,
            Mode::Looking { click } => {
                if let Pointer::Clicked(at) = pointer {
                    *click = Some((at, Instant::now()));
                }
                return Action::None;
            }
            Mode::Writing(_) => return Action::None,
        };
        let change = placing.pointed(pointer, &sight);
        self.store(change)
    }

    /// Puts what is asked for at a place of the upright picture.
    pub(crate) fn put_point(&mut self, at: Shown) -> Action {
        let sight = self.sight();
        let change = self.mode.placing_mut().and_then(|placing| placing.place(at, &sight));
        self.store(change)
    }

    /// Keeps the point that is moved in sight.
    fn nudge(&mut self, tenths: [i16; 2]) -> Action {
        let (sight, room) = (self.sight(), self.room());
        let Some(placing) = self.mode.placing_mut() else { return Action::None };
        let before = placing.look();
        let change = placing.nudge(tenths, &sight);
        if let Some(at) = placing.look().filter(|at| Some(*at) != before) {
            self.viewer.set_viewport(self.viewer.viewport().showing(at, room));
        }
        self.store(change)
    }

    /// Measures what is being placed in a plane that has just come, where it lies as needed.
    pub(crate) fn use_plane(&mut self, plane: &ReferencePlane) {
        let Some(angle) = self.mode.placing().and_then(Placing::measuring) else { return };
        if angle.reading.quantity.lies().is_none_or(|lies| plane.lies == lies) {
            let change = angle.tie_to(Some(plane.name.clone()));
            self.store(Some(change));
        }
    }

    /// Lets what was placed count, as soon as it can.
    fn keep(&mut self) -> Action {
        let sight = self.sight();
        let Some(placing) = self.mode.placing_mut() else { return Action::None };
        if let Some(change) = placing.settle(&sight) {
            return self.store(Some(change));
        }
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let kept = match placing.finish(sheaf) {
            Ok(kept) => kept,
            Err(why) => return self.complain(&why),
        };
        let edit = kept.edit(sheaf);
        self.stop_placing();
        let action = self.take(Step::Do(edit), kept.line().map(Key::Item).or(self.chosen));
        self.follow_marks();
        match &kept {
            Change::Plane(plane) => self.use_plane(plane),
            Change::Reading(reading) => {
                self.learn_clicks(reading);
                return action.and(self.learn_together());
            }
            Change::Unfinished(_) => {}
        }
        action
    }

    pub(super) fn store(&mut self, change: Option<Change>) -> Action {
        let (Some(change), Some(sheaf)) = (change, self.session.sheaf()) else {
            return Action::None;
        };
        let edit = change.edit(sheaf);
        self.take_and_follow(Step::Do(edit))
    }

    fn take_and_follow(&mut self, step: Step) -> Action {
        let action = self.take(step, self.chosen);
        self.follow_marks();
        let sight = self.sight();
        // Where it is known which frame comes next, it is shown.
        match self.mode.placing().and_then(|placing| placing.goal(&sight)) {
            Some(frame) => self.go_to(frame),
            None => action,
        }
    }

    fn follow_marks(&mut self) {
        if let (Some(placing), Some(sheaf)) = (self.mode.placing_mut(), self.session.sheaf()) {
            placing.follow(sheaf);
        }
    }

    /// Returns what the button for measuring says: whether points wait to be gone on with.
    pub(crate) fn measure_label(&self) -> String {
        let is_begun = self.session.sheaf().is_some_and(|sheaf| !sheaf.unfinished.is_empty());
        let says = if is_begun { "Go on measuring" } else { "Measure" };
        format!("{says} {}", keymap::key_of(ClipCommand::Work(Work::Measure)))
    }

    pub(crate) fn middle_in_sight(&self) -> Shown {
        let room = self.room();
        self.viewer.viewport().placement(room).to_shown(room.middle())
    }
}
