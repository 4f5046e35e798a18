//! Planes of known size on the clip screen: chosen, clicked, taken over.

use std::path::PathBuf;

use crate::{
    geometry::input::Lies,
    marks::{self, Edit, Item, PlaneKind, ReferencePlane, Sheaf, Step, measured},
    window::{
        keymap::PointCommand,
        placing::{PlaneForm, PlaneMessage, Planing},
        screens::clip::{Action, Clip, Dialogue},
        viewer::frame::Pointer,
    },
};

/// At most so many marks files of the folder are looked through for planes.
const FILES_LOOKED_AT: usize = 200;

impl Clip {
    /// Opens the form in which a plane is chosen.
    pub(crate) fn open_planes(&mut self) -> Action {
        self.stop();
        let Some(sheaf) = self.session.sheaf() else { return self.open_header() };
        let own = sheaf.planes.clone();
        let others = self.planes_of_others(sheaf);
        let form = PlaneForm::new(self.likely_kind(), own, others);
        self.dialogue = Dialogue::Planes(Box::new(form));
        Action::None
    }

    fn likely_kind(&self) -> PlaneKind {
        let quantity = self.measuring.as_ref().map(|it| it.reading.quantity);
        if quantity.is_some_and(|quantity| quantity.lies() == Some(Lies::Flat)) {
            return PlaneKind::FloorMat;
        }
        match self.session.sheaf().map_or("", |sheaf| sheaf.routine.event.as_str()) {
            "bars" => PlaneKind::BarsSide,
            "vault" => PlaneKind::TableSide,
            "floor" => PlaneKind::FloorMat,
            _ => PlaneKind::BeamSide,
        }
    }

    /// Planes in other marks of the folder whose pictures have the same size and stand the same.
    fn planes_of_others(&self, sheaf: &Sheaf) -> Vec<(PathBuf, ReferencePlane)> {
        let folder = self.stage.path().parent();
        let entries = folder.and_then(|folder| std::fs::read_dir(folder).ok());
        let paths = entries.into_iter().flatten().flatten().map(|entry| entry.path());
        let is_marks = |path: &PathBuf| path.to_string_lossy().ends_with(".marks.json");
        let mut paths: Vec<PathBuf> = paths.filter(is_marks).take(FILES_LOOKED_AT).collect();
        paths.sort();
        let mut found: Vec<(PathBuf, ReferencePlane)> = Vec::new();
        for path in paths {
            // A file that cannot be read has no planes to offer; opening it will say why.
            let Ok(other) = marks::load(&path, None) else { continue };
            let same = other.clip.as_ref().map(|clip| clip.upright)
                == sheaf.clip.as_ref().map(|clip| clip.upright);
            let is_new = |plane: &ReferencePlane| {
                let same = |it: &ReferencePlane| it.points == plane.points;
                !sheaf.planes.iter().any(same) && !found.iter().any(|(_, it)| same(it))
            };
            let planes = other.planes.into_iter().filter(|it| same && it.is_clicked());
            let planes: Vec<_> = planes.filter(is_new).map(|it| (path.clone(), it)).collect();
            found.extend(planes);
        }
        found
    }

    pub(crate) fn planes(&mut self, message: PlaneMessage) -> Action {
        let Dialogue::Planes(form) = &mut self.dialogue else { return Action::None };
        match message {
            PlaneMessage::KindChosen(kind) => form.choose(kind),
            PlaneMessage::KindTurned(by) => form.turn(by),
            PlaneMessage::Typed(typed) => {
                return Action::Run(
                    form.typed(&typed).task(crate::window::screens::clip::Message::Typed),
                );
            }
            PlaneMessage::FieldChosen(field, typed) => {
                form.choose_field(field);
                return Action::Run(
                    form.typed(&typed).task(crate::window::screens::clip::Message::Typed),
                );
            }
            PlaneMessage::FieldTurned(by) => form.turn_field(by),
            PlaneMessage::Left => self.dialogue = Dialogue::None,
            PlaneMessage::ClickAgain(place) => {
                let plane = form.own(place).cloned();
                return plane.map_or(Action::None, |plane| self.click_plane(plane));
            }
            PlaneMessage::Removed(place) => {
                let name = form.own(place).map(|plane| plane.name.clone());
                return name.map_or(Action::None, |name| self.remove_plane(&name));
            }
            PlaneMessage::TakenOver(place) => {
                let plane = form.other(place);
                return plane.map_or(Action::None, |plane| self.take_over(&plane));
            }
            PlaneMessage::Submitted => match form.plane() {
                Ok(plane) => return self.click_plane(plane),
                Err(complaint) => form.complaint = Some(complaint),
            },
        }
        Action::None
    }

    fn click_plane(&mut self, plane: ReferencePlane) -> Action {
        self.dialogue = Dialogue::None;
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let plane = ReferencePlane { frame: Some(self.stage.frame_ref(self.frame)), ..plane };
        self.planing = Some(Planing::begin(plane, sheaf));
        Action::None
    }

    /// A plane in use stays: readings in it would lose their meaning.
    fn remove_plane(&mut self, name: &str) -> Action {
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let in_use = |it: &marks::Reading| it.how.plane.as_deref() == Some(name);
        if sheaf.readings.iter().chain(&sheaf.unfinished).any(in_use) {
            if let Dialogue::Planes(form) = &mut self.dialogue {
                form.complaint = Some(format!("“{name}” is used by an angle and stays."));
            }
            return Action::None;
        }
        self.dialogue = Dialogue::None;
        let edit = Edit::plane(sheaf, name, None);
        self.take(Step::Do(edit), self.chosen)
    }

    fn take_over(&mut self, plane: &ReferencePlane) -> Action {
        self.dialogue = Dialogue::None;
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let edit = Edit::plane(sheaf, &plane.name, Some(plane.clone()));
        let action = self.take(Step::Do(edit), self.chosen);
        self.use_plane(plane);
        action
    }

    /// Does what a command means while a plane is clicked.
    pub(crate) fn points_of_plane(&mut self, command: PointCommand) -> Action {
        match command {
            PointCommand::Nudge(right, down) => self.nudge_corner([right, down]),
            PointCommand::PutPoint => self.put_corner(self.middle_in_sight()),
            PointCommand::TakeBack => self.corner_back(),
            PointCommand::Skip => self.skip_corner(),
            PointCommand::Again => self.corners_again(),
            PointCommand::Keep => self.keep_plane(),
            PointCommand::Step(by) => self.step(by),
            // One after the other, and an angle's keys mean nothing on a plane.
            PointCommand::Planes | PointCommand::Angle(_) => Action::None,
        }
    }

    pub(super) fn has_plane(&self) -> bool {
        let name = self.planing.as_ref().map(|it| it.plane.name.as_str());
        name.and_then(|name| self.session.sheaf()?.plane(name)).is_some()
    }

    /// Does what the pointer did on the picture.
    pub(crate) fn pointed_at_plane(&mut self, pointer: Pointer) -> Action {
        let upright = self.stage.upright(self.turn());
        let Some(planing) = &mut self.planing else { return Action::None };
        planing.look = Some(pointer.at());
        match pointer {
            Pointer::At(_) => Action::None,
            Pointer::Held(handle, at) => {
                let places = planing.in_sight(&upright);
                planing.held = places.get(handle).map(|handle| (handle.0, at));
                Action::None
            }
            Pointer::LetGo(_, at) => match planing.held.take() {
                Some((place, _)) => self.move_corner(place, at),
                None => Action::None,
            },
            Pointer::Clicked(at) => self.put_corner(at),
        }
    }

    fn put_corner(&mut self, at: [f64; 2]) -> Action {
        let upright = self.stage.upright(self.turn());
        let Some(planing) = &mut self.planing else { return Action::None };
        let Some(place) = planing.asked() else { return Action::None };
        (planing.look, planing.chosen) = (Some(at), Some(place));
        let mut after = planing.plane.clone();
        after.points[place].coded.push(upright.to_coded(at));
        self.store_plane(&after)
    }

    fn nudge_corner(&mut self, tenths: [i16; 2]) -> Action {
        let upright = self.stage.upright(self.turn());
        let Some(planing) = &self.planing else { return Action::None };
        let chosen = |(place, _): &(usize, [f64; 2])| Some(*place) == planing.chosen;
        let Some((place, [x, y])) = planing.in_sight(&upright).into_iter().find(chosen) else {
            return Action::None;
        };
        let [right, down] = tenths.map(|tenths| f64::from(tenths) / 10.0);
        self.viewport = self.viewport.showing([x + right, y + down], self.room());
        self.move_corner(place, [x + right, y + down])
    }

    /// Moves a corner as a whole: all its clicks by as much.
    fn move_corner(&mut self, place: usize, to: [f64; 2]) -> Action {
        let upright = self.stage.upright(self.turn());
        let Some(planing) = &mut self.planing else { return Action::None };
        (planing.look, planing.chosen) = (Some(to), Some(place));
        let mut after = planing.plane.clone();
        let Some(point) = after.points.get_mut(place) else { return Action::None };
        let from = crate::geometry::placing::mean(&point.coded);
        let to = upright.to_coded(to);
        for coded in &mut point.coded {
            *coded = [0, 1].map(|axis| coded[axis] + to[axis] - from[axis]);
        }
        self.store_plane(&after)
    }

    /// Takes back the last click: of the points clicked most often the last in order.
    fn corner_back(&mut self) -> Action {
        let Some(planing) = &mut self.planing else { return Action::None };
        let mut after = planing.plane.clone();
        let last = after.points.iter_mut().max_by_key(|point| point.coded.len());
        if last.and_then(|point| point.coded.pop()).is_none() {
            return Action::None;
        }
        planing.chosen = None;
        self.store_plane(&after)
    }

    fn skip_corner(&mut self) -> Action {
        if let Some(planing) = &mut self.planing
            && let Some(place) = planing.asked()
        {
            planing.skipped.push(place);
        }
        Action::None
    }

    fn corners_again(&mut self) -> Action {
        if let Some(planing) = &mut self.planing
            && planing.asked().is_none()
        {
            planing.again += 1;
        }
        Action::None
    }

    fn keep_plane(&mut self) -> Action {
        let Some(planing) = &self.planing else { return Action::None };
        if !planing.is_good() {
            return self.complain("Four good corners are needed before a plane can be kept.");
        }
        let plane = planing.plane.clicked();
        let action = self.store_plane(&plane);
        self.planing = None;
        self.use_plane(&plane);
        action
    }

    /// Measures what is being placed in a plane that has just come, where it lies as needed.
    fn use_plane(&mut self, plane: &ReferencePlane) {
        let Some(measuring) = &self.measuring else { return };
        if measuring.reading.quantity.lies().is_none_or(|lies| plane.lies == lies) {
            self.measure_in(Some(plane.name.clone()));
        }
    }

    /// Puts a plane into the marks, and with it the values of what is measured in it.
    fn store_plane(&mut self, plane: &ReferencePlane) -> Action {
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let own = Edit::plane(sheaf, &plane.name, Some(plane.clone()));
        let mut after = sheaf.clone();
        own.apply(&mut after);
        let hang = sheaf.readings.iter().filter(|it| it.how.plane.as_deref() == Some(&plane.name));
        // What cannot be measured in the plane as it is keeps its value until it can.
        let renewed = hang.filter_map(|it| measured(&after, it).ok()).map(|(reading, _)| reading);
        let renewed = renewed.map(|reading| Edit::change(sheaf, Item::Reading(reading)));
        let edits: Vec<Edit> = std::iter::once(own).chain(renewed).collect();
        self.take_plane_step(Step::Do(Edit::Together(edits)))
    }

    pub(super) fn take_plane_step(&mut self, step: Step) -> Action {
        let action = self.take(step, self.chosen);
        if let Some(sheaf) = self.session.sheaf() {
            if let Some(planing) = &mut self.planing {
                planing.follow(sheaf);
            }
            if let Some(measuring) = &mut self.measuring {
                measuring.follow(sheaf);
            }
        }
        action
    }
}
