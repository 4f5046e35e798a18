//! Placing the points of an angle on the clip screen.

use std::time::Instant;

use crate::{
    geometry::input::Travel,
    marks::{
        Edit, Item, Quantity, Reading, Step, measured,
        placing::{self, Ask, Dial},
    },
    units::Degrees,
    window::{
        keymap::{self, AngleCommand, ClipCommand, PointCommand, Work},
        paper::Key,
        screens::clip::{Action, Clip},
        viewer::frame::Pointer,
    },
};

/// How far off square a camera may be said to stand, in degrees.
const OFF_SQUARE: [f64; 6] = [0.0, 10.0, 20.0, 30.0, 40.0, 50.0];

impl Clip {
    /// Does what a command means while points are placed; nothing where none are.
    pub(crate) fn points(&mut self, command: PointCommand) -> Action {
        if self.planing.is_some() {
            return self.points_of_plane(command);
        }
        if self.measuring.is_none() {
            return Action::None;
        }
        match command {
            PointCommand::Nudge(right, down) => self.nudge([right, down]),
            PointCommand::PutPoint => self.put_point(self.middle_in_sight()),
            PointCommand::TakeBack => self.take_back(),
            PointCommand::Keep => self.keep(),
            PointCommand::Skip => self.skip(),
            PointCommand::Again => self.place_again(),
            PointCommand::Step(by) => self.step(by),
            PointCommand::Planes => self.open_planes(),
            PointCommand::Angle(command) => self.angle(command),
        }
    }

    fn angle(&mut self, command: AngleCommand) -> Action {
        match command {
            AngleCommand::Bent => self.bend(),
            AngleCommand::Line => self.ask_for_line(),
            AngleCommand::NextPlane => self.next_plane(),
            AngleCommand::OffSquare => self.next_off_square(),
            AngleCommand::HalfTurns(n) => self.half_turns(n),
        }
    }

    /// Undoes or does again while points are placed; nothing where none are.
    pub(crate) fn step_of_points(&mut self, step: Step) -> Option<Action> {
        let placed = match (&self.planing, &self.measuring) {
            (Some(_), _) => self.has_plane(),
            (None, Some(_)) => self.has_placed(),
            (None, None) => return None,
        };
        Some(match step {
            Step::Undo if !placed => Action::None,
            step if self.planing.is_some() => self.take_plane_step(step),
            step => self.take_and_follow(step),
        })
    }

    /// Stops placing points; returns whether any were being placed.
    pub(crate) fn stop_placing(&mut self) -> bool {
        if self.planing.take().is_some() {
            return true;
        }
        self.measuring.is_some() && {
            self.leave_points();
            true
        }
    }

    /// Undo goes back to the first point and no further, so that it never changes what is not in
    /// sight.
    fn has_placed(&self) -> bool {
        let id = self.measuring.as_ref().map(|measuring| measuring.reading.id);
        id.and_then(|id| self.session.sheaf()?.unfinished(id)).is_some()
    }

    /// Does what the pointer did on the picture.
    pub(crate) fn pointed(&mut self, pointer: Pointer) -> Action {
        let upright = self.stage.upright(self.turn());
        let frame = self.stage.frame_ref(self.frame);
        if self.planing.is_some() {
            return self.pointed_at_plane(pointer);
        }
        let Some(measuring) = &mut self.measuring else {
            if let Pointer::Clicked(at) = pointer {
                self.early_click = Some((at, Instant::now()));
            }
            return Action::None;
        };
        measuring.look = Some(pointer.at());
        let handles = measuring.in_sight(&frame, &upright);
        match pointer {
            Pointer::At(_) => Action::None,
            Pointer::Held(handle, at) => {
                measuring.held = handles.get(handle).map(|handle| (handle.0, at));
                Action::None
            }
            Pointer::LetGo(_, at) => {
                let Some((point, _)) = measuring.held.take() else { return Action::None };
                measuring.chosen = Some(point);
                let after = placing::moved(&measuring.reading, point, upright.to_coded(at));
                self.store(after)
            }
            Pointer::Clicked(at) => self.put_point(at),
        }
    }

    /// Puts what is asked for at a place of the upright picture.
    pub(crate) fn put_point(&mut self, at: [f64; 2]) -> Action {
        let upright = self.stage.upright(self.turn());
        let frame = self.stage.frame_ref(self.frame);
        // A click on nothing but the ground beside the picture places nothing.
        let [w, h] = upright.shown_size().map(f64::from);
        if !(0.0..w).contains(&at[0]) || !(0.0..h).contains(&at[1]) {
            return Action::None;
        }
        let Some(measuring) = &mut self.measuring else { return Action::None };
        measuring.look = Some(at);
        measuring.chosen = None;
        let coded = upright.to_coded(at);
        let after = placing::click(&measuring.reading, &mut measuring.aids, &frame, coded);
        if after == measuring.reading { Action::None } else { self.store(after) }
    }

    fn nudge(&mut self, tenths: [i16; 2]) -> Action {
        let upright = self.stage.upright(self.turn());
        let frame = self.stage.frame_ref(self.frame);
        let room = self.room();
        let Some(measuring) = &mut self.measuring else { return Action::None };
        let ask = measuring.ask(&frame);
        if matches!(ask, Ask::Travel | Ask::Rotation) && tenths[0] != 0 {
            let right = if tenths[0] > 0 { Travel::Right } else { Travel::Left };
            let after = placing::directed(&measuring.reading, &ask, right);
            return self.store(after);
        }
        if let Some(dial) = dial_of(&ask)
            && tenths != [0, 0]
        {
            // Up and to the right are more.
            let more = if tenths[0] > 0 || tenths[1] < 0 { 1.0 } else { -1.0 };
            measuring.aids.dial = Some(dial);
            let after = placing::turned(&measuring.reading, dial, more);
            return self.store(after);
        }
        let Some(point) = measuring.moves(&frame) else { return Action::None };
        let [x, y] = upright.to_shown(measuring.reading.points[point].coded);
        let [right, down] = tenths.map(|tenths| f64::from(tenths) / 10.0);
        let [w, h] = room.picture;
        let at = [(x + right).clamp(0.0, w), (y + down).clamp(0.0, h)];
        measuring.look = Some(at);
        measuring.chosen = Some(point);
        let after = placing::moved(&measuring.reading, point, upright.to_coded(at));
        self.viewport = self.viewport.showing(at, room);
        self.store(after)
    }

    fn take_back(&mut self) -> Action {
        let Some(measuring) = &mut self.measuring else { return Action::None };
        measuring.chosen = None;
        match placing::take_back(&measuring.reading, &mut measuring.aids) {
            Some(after) => self.store(after),
            None => Action::None,
        }
    }

    fn skip(&mut self) -> Action {
        let frame = self.stage.frame_ref(self.frame);
        let Some(measuring) = &mut self.measuring else { return Action::None };
        match measuring.ask(&frame) {
            Ask::Point(name) => measuring.aids.skipped.push((frame, name)),
            Ask::Line(_) => (measuring.aids.wants_line, measuring.aids.line) = (false, None),
            _ => {}
        }
        Action::None
    }

    fn place_again(&mut self) -> Action {
        let frame = self.stage.frame_ref(self.frame);
        if let Some(measuring) = &mut self.measuring
            && !matches!(measuring.ask(&frame), Ask::Point(_))
        {
            measuring.aids.again += 1;
        }
        Action::None
    }

    fn bend(&mut self) -> Action {
        let frame = self.stage.frame_ref(self.frame);
        if let Some(measuring) = &mut self.measuring
            && let Ask::Point(name) = measuring.ask(&frame)
        {
            measuring.aids.bent.push(name);
        }
        Action::None
    }

    fn ask_for_line(&mut self) -> Action {
        let Some(measuring) = &mut self.measuring else { return Action::None };
        measuring.aids.wants_line = true;
        let mut after = measuring.reading.clone();
        after.how.line = None;
        if after == measuring.reading { Action::None } else { self.store(after) }
    }

    fn next_plane(&mut self) -> Action {
        let (Some(measuring), Some(sheaf)) = (&self.measuring, self.session.sheaf()) else {
            return Action::None;
        };
        let names: Vec<&String> = sheaf.planes.iter().map(|plane| &plane.name).collect();
        if names.is_empty() {
            return self.open_planes();
        }
        let now = measuring.reading.how.plane.as_ref();
        let place = now.and_then(|now| names.iter().position(|name| *name == now));
        let next = place.map_or(Some(0), |place| Some(place + 1)).and_then(|next| names.get(next));
        self.measure_in(next.map(|name| (*name).clone()))
    }

    /// Ties what is measured to the world by a plane, or by none.
    pub(crate) fn measure_in(&mut self, plane: Option<String>) -> Action {
        let Some(measuring) = &self.measuring else { return Action::None };
        let mut after = measuring.reading.clone();
        after.how.plane = plane;
        // A line that levelled the picture is no line of travel, and the other way round.
        after.how.line = None;
        self.store(after)
    }

    /// Without a plane it is about the camera's angle, with one about the depth of a length.
    fn next_off_square(&mut self) -> Action {
        let Some(measuring) = &mut self.measuring else { return Action::None };
        if measuring.reading.quantity.needs_depth() {
            measuring.aids.dial = match measuring.aids.dial {
                None => Some(Dial::Depth),
                Some(Dial::Depth) => Some(Dial::Distance),
                Some(Dial::Distance) => None,
            };
            return Action::None;
        }
        let now = measuring.reading.how.off_square.unwrap_or(crate::marks::USUAL_OFF_SQUARE);
        let next = OFF_SQUARE.into_iter().find(|off| *off > now.0).unwrap_or(OFF_SQUARE[0]);
        let mut after = measuring.reading.clone();
        after.how.off_square = Some(Degrees(next));
        self.store(after)
    }

    fn half_turns(&mut self, n: u8) -> Action {
        let Some(measuring) = &self.measuring else { return Action::None };
        if measuring.reading.quantity != Quantity::Turn {
            return Action::None;
        }
        let after = placing::about(&measuring.reading, n);
        self.store(after)
    }

    /// Leaves with everything kept as it is, so that one can go on later.
    fn leave_points(&mut self) -> Action {
        self.measuring = None;
        Action::None
    }

    /// Returns what the button for measuring says: whether points wait to be gone on with.
    pub(crate) fn measure_label(&self) -> String {
        let is_begun = self.session.sheaf().is_some_and(|sheaf| !sheaf.unfinished.is_empty());
        let says = if is_begun { "Go on measuring" } else { "Measure" };
        format!("{says} {}", keymap::key_of(ClipCommand::Work(Work::Measure)))
    }

    /// Turns the unfinished reading into one that counts.
    fn keep(&mut self) -> Action {
        let frame = self.stage.frame_ref(self.frame);
        if let Some(measuring) = &mut self.measuring
            && let Some(dial) = dial_of(&measuring.ask(&frame))
        {
            measuring.aids.dial = None;
            let after = placing::turned(&measuring.reading, dial, 0.0);
            return self.store(after);
        }
        let (Some(measuring), Some(sheaf)) = (&self.measuring, self.session.sheaf()) else {
            return Action::None;
        };
        match measured(sheaf, &measuring.reading) {
            Err(refusal) => self.complain(&format!("It cannot be kept yet: {refusal}.")),
            Ok((reading, _)) => {
                let id = reading.id;
                let done = Edit::unfinished(sheaf, id, None);
                let kept = Edit::change(sheaf, Item::Reading(reading));
                self.measuring = None;
                self.take(Step::Do(Edit::Together(vec![done, kept])), Some(Key::Item(id)))
            }
        }
    }

    fn store(&mut self, after: Reading) -> Action {
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let edit = Edit::unfinished(sheaf, after.id, Some(after));
        self.take_and_follow(Step::Do(edit))
    }

    fn take_and_follow(&mut self, step: Step) -> Action {
        let action = self.take(step, self.chosen);
        if let (Some(measuring), Some(sheaf)) = (&mut self.measuring, self.session.sheaf()) {
            measuring.follow(sheaf);
        }
        let goal = match &self.measuring {
            Some(measuring) => measuring.ask(&self.stage.frame_ref(self.frame)),
            None => Ask::Nothing,
        };
        // Where it is known which frame comes next, it is shown.
        if let Ask::GoTo(Some(frame)) = goal {
            return self.go_to(frame.index);
        }
        action
    }

    pub(crate) fn middle_in_sight(&self) -> [f64; 2] {
        let room = self.room();
        self.viewport.placement(room).to_picture(room.room.map(|side| side / 2.0))
    }
}

const fn dial_of(ask: &Ask) -> Option<Dial> {
    match ask {
        Ask::Depth => Some(Dial::Depth),
        Ask::Distance => Some(Dial::Distance),
        _ => None,
    }
}
