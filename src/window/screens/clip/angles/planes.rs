//! Planes of known size on the clip screen: chosen, clicked, taken over.

use std::path::{Path, PathBuf};

use iced::Task;

use crate::{
    geometry::Lies,
    marks::{self, Edit, PlaneKind, ReferencePlane, Sheaf, Step},
    window::{
        placing::{Placing, PlaneForm, PlaneMessage, Planing, What},
        screens::clip::{Action, Clip, Dialogue, Message, mode::Mode},
    },
};

/// At most so many marks files of the folder are looked through for planes.
const FILES_LOOKED_AT: usize = 200;

impl Clip {
    /// Opens the form in which a plane is chosen.
    pub(crate) fn open_planes(&mut self) -> Action {
        self.viewer.stop();
        if self.is_plane_placed() {
            // One after the other.
            return Action::None;
        }
        let Some(sheaf) = self.session.sheaf() else { return self.open_header() };
        let own = sheaf.planes.clone();
        let looked = Looked { clip: self.viewer.stage().path().to_owned(), sheaf: sheaf.clone() };
        let form = PlaneForm::new(self.likely_kind(), own);
        self.dialogue = Dialogue::Planes(Box::new(form));
        let looking = tokio::task::spawn_blocking(move || looked.planes_of_others());
        Action::Run(Task::perform(looking, |found| {
            Message::Planes(PlaneMessage::OthersFound(found.unwrap_or_default()))
        }))
    }

    /// Returns whether the points of a plane are being placed.
    pub(crate) fn is_plane_placed(&self) -> bool {
        self.mode.placing().is_some_and(|placing| matches!(placing.what(), What::Plane(_)))
    }

    fn likely_kind(&self) -> PlaneKind {
        let angle = self.mode.placing().and_then(Placing::measuring);
        let quantity = angle.map(|it| it.reading.quantity);
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

    pub(crate) fn planes(&mut self, message: PlaneMessage) -> Action {
        let Dialogue::Planes(form) = &mut self.dialogue else { return Action::None };
        match message {
            PlaneMessage::KindChosen(kind) => form.choose(kind),
            PlaneMessage::KindTurned(by) => form.turn(by),
            PlaneMessage::OthersFound(others) => form.take_others(others),
            PlaneMessage::Typed(typed) => {
                return Action::Run(form.typed(&typed).task(Message::Typed));
            }
            PlaneMessage::FieldChosen(field, typed) => {
                form.choose_field(field);
                return Action::Run(form.typed(&typed).task(Message::Typed));
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
        let plane = ReferencePlane {
            frame: Some(self.viewer.stage().frame_ref(self.viewer.frame())),
            ..plane
        };
        let plane = Planing::begin(plane, sheaf);
        self.mode = Mode::Placing(Placing::plane(plane, self.mode.take_placing()));
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
        // Its frame is one of another clip, whose picture is not at hand.
        let plane = &ReferencePlane { frame: None, ..plane.clone() };
        let edit = Edit::plane(sheaf, &plane.name, Some(plane.clone()));
        let action = self.take(Step::Do(edit), self.chosen);
        self.use_plane(plane);
        action
    }
}

/// What planes are looked for beside: many files are read, so not on the window's thread.
struct Looked {
    clip: PathBuf,
    sheaf: Sheaf,
}

impl Looked {
    /// Planes in other marks of the folder whose pictures have the same size and stand the same.
    fn planes_of_others(&self) -> Vec<(PathBuf, ReferencePlane)> {
        let mut found: Vec<(PathBuf, ReferencePlane)> = Vec::new();
        for (path, other) in marks_beside(&self.clip) {
            let same = other.clip.as_ref().map(|clip| clip.upright)
                == self.sheaf.clip.as_ref().map(|clip| clip.upright);
            let is_new = |plane: &ReferencePlane| {
                let same = |it: &ReferencePlane| it.points == plane.points;
                !self.sheaf.planes.iter().any(same) && !found.iter().any(|(_, it)| same(it))
            };
            let planes = other.planes.into_iter().filter(|it| same && it.is_clicked());
            let planes: Vec<_> = planes.filter(is_new).map(|it| (path.clone(), it)).collect();
            found.extend(planes);
        }
        found
    }
}

/// Returns the marks in the folder of a clip, by the names of their files. One that cannot be read has
/// nothing to offer; opening it will say why.
pub(super) fn marks_beside(clip: &Path) -> Vec<(PathBuf, Sheaf)> {
    let entries = clip.parent().and_then(|folder| std::fs::read_dir(folder).ok());
    let paths = entries.into_iter().flatten().flatten().map(|entry| entry.path());
    let is_marks = |path: &PathBuf| path.to_string_lossy().ends_with(".marks.json");
    let mut paths: Vec<PathBuf> = paths.filter(is_marks).take(FILES_LOOKED_AT).collect();
    paths.sort();
    let read = |path: PathBuf| Some((path.clone(), marks::load(&path, None).ok()?));
    paths.into_iter().filter_map(read).collect()
}
