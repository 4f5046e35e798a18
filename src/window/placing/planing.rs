//! A plane whose points are being clicked.

use crate::{
    figure::{Ink, Shape, ShapeForm, plane},
    geometry::{PlaneFit, Refusal},
    marks::{ReferencePlane, Sheaf, check_plane},
    units::{Coded, FrameIndex, Shown},
};

use super::subject::{Change, Sight, Subject};

/// A plane whose points are being clicked.
pub(crate) struct Planing {
    /// The plane so far.
    pub plane: ReferencePlane,
    /// How often each point is to be clicked beyond the first time.
    pub again: usize,
    /// Points that cannot be seen, by their places.
    pub skipped: Vec<usize>,
    pub(super) fit: Option<Result<PlaneFit, Refusal>>,
}

impl Planing {
    /// Begins with a plane, or goes on with it.
    pub(crate) fn begin(plane: ReferencePlane, sheaf: &Sheaf) -> Self {
        let again = plane.points.iter().map(|point| point.coded.len()).min().unwrap_or(0);
        let mut planing = Self { plane, again, skipped: Vec::new(), fit: None };
        planing.follow(sheaf);
        planing
    }

    /// Returns the place of the point that is asked for.
    pub(crate) fn asked(&self) -> Option<usize> {
        self.plane.missing(self.again, &self.skipped)
    }

    /// Returns whether it may be used.
    pub(crate) fn is_good(&self) -> bool {
        matches!(self.fit, Some(Ok(_)))
    }

    /// Returns what is drawn.
    pub(crate) fn shapes(in_sight: &[(usize, Shown)], chosen: Option<usize>) -> Vec<Shape> {
        // The outline goes through the corners; further points lie on its edges.
        let corners: Vec<Shown> =
            in_sight.iter().filter(|(place, _)| *place < 4).map(|(_, at)| *at).collect();
        let mut shapes = plane(&corners, "");
        let further = in_sight.iter().filter(|(place, _)| *place >= 4);
        shapes.extend(further.map(|(_, at)| Shape::Dot {
            at: *at,
            ink: Ink::World,
            form: ShapeForm::Square,
        }));
        let chosen = in_sight.iter().find(|(place, _)| Some(*place) == chosen);
        shapes.extend(chosen.map(|(_, at)| Shape::Dot {
            at: *at,
            ink: Ink::World,
            form: ShapeForm::Chosen,
        }));
        shapes
    }
}

impl Subject for Planing {
    fn follow(&mut self, sheaf: &Sheaf) {
        match sheaf.plane(&self.plane.name) {
            Some(plane) => self.plane = plane.clone(),
            None => self.plane.points.iter_mut().for_each(|point| point.coded.clear()),
        }
        self.fit = self.plane.is_clicked().then(|| check_plane(sheaf, &self.plane));
    }

    fn is_in(&self, sheaf: &Sheaf) -> bool {
        sheaf.plane(&self.plane.name).is_some()
    }

    fn count(&self) -> usize {
        self.plane.points.len()
    }

    fn points(&self, sight: &Sight) -> Vec<(usize, Shown)> {
        let clicked = self.plane.points.iter().enumerate();
        let clicked = clicked.filter(|(_, point)| !point.coded.is_empty());
        clicked
            .map(|(place, point)| (place, sight.upright.to_shown(Coded::mean(&point.coded))))
            .collect()
    }

    fn moves(&self, chosen: Option<usize>, _: &Sight) -> Option<usize> {
        chosen
    }

    fn place(&mut self, coded: Coded, _: &Sight, chosen: &mut Option<usize>) -> Option<Change> {
        let place = self.asked()?;
        *chosen = Some(place);
        let mut after = self.plane.clone();
        after.points[place].coded.push(coded);
        Some(Change::Plane(after))
    }

    /// Moves a corner as a whole: all its clicks by as much.
    fn moved(&self, point: usize, to: Coded) -> Option<Change> {
        let mut after = self.plane.clone();
        let point = after.points.get_mut(point)?;
        let by = to - Coded::mean(&point.coded);
        for coded in &mut point.coded {
            *coded = *coded + by;
        }
        Some(Change::Plane(after))
    }

    fn turned(&mut self, _: [i16; 2], _: &Sight) -> Option<Change> {
        None
    }

    /// Takes back the last click: of the points clicked most often the last in order.
    fn take_back(&mut self) -> Option<Change> {
        let mut after = self.plane.clone();
        let last = after.points.iter_mut().max_by_key(|point| point.coded.len());
        last.and_then(|point| point.coded.pop())?;
        Some(Change::Plane(after))
    }

    fn skip(&mut self, _: &Sight) {
        let asked = self.asked();
        self.skipped.extend(asked);
    }

    fn again(&mut self, _: &Sight) {
        if self.asked().is_none() {
            self.again += 1;
        }
    }

    fn settle(&mut self, _: &Sight) -> Option<Change> {
        None
    }

    fn finish(&self, _: &Sheaf) -> Result<Change, String> {
        if !self.is_good() {
            return Err("Four good corners are needed before a plane can be kept.".to_owned());
        }
        Ok(Change::Plane(self.plane.clicked()))
    }

    fn goal(&self, _: &Sight) -> Option<FrameIndex> {
        None
    }
}
