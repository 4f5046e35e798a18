//! Placing points: one after the other is placed, moved, taken back, until all are there and kept.

use crate::{
    marks::Sheaf,
    units::{FrameIndex, Shown},
    window::viewer::frame::Pointer,
};

use super::{
    measuring::Measuring,
    planing::Planing,
    subject::{Change, Sight, Subject},
};

/// Points that are being placed.
pub(crate) struct Placing {
    what: What,
    /// The point placed or moved last, by its number.
    chosen: Option<usize>,
    /// The point that the pointer holds, and where.
    held: Option<(usize, Shown)>,
    /// What the loupe looks at.
    look: Option<Shown>,
    /// The angle that goes on when the plane is there.
    before: Option<Box<Self>>,
}

/// What they are of.
pub(crate) enum What {
    /// An angle.
    Angle(Box<Measuring>),
    /// A plane of known size.
    Plane(Box<Planing>),
}

impl What {
    fn subject(&self) -> &dyn Subject {
        match self {
            Self::Angle(angle) => &**angle,
            Self::Plane(plane) => &**plane,
        }
    }

    fn subject_mut(&mut self) -> &mut dyn Subject {
        match self {
            Self::Angle(angle) => &mut **angle,
            Self::Plane(plane) => &mut **plane,
        }
    }
}

impl Placing {
    /// Begins with the points of an angle.
    pub(crate) fn angle(angle: Measuring) -> Self {
        let what = What::Angle(Box::new(angle));
        Self { what, chosen: None, held: None, look: None, before: None }
    }

    /// Begins with the corners of a plane; an angle that is being placed goes on afterwards.
    pub(crate) fn plane(plane: Planing, before: Option<Self>) -> Self {
        let before = before.filter(|before| matches!(before.what, What::Angle(_))).map(Box::new);
        let what = What::Plane(Box::new(plane));
        Self { what, chosen: None, held: None, look: None, before }
    }

    /// Returns what is placed now.
    pub(crate) const fn what(&self) -> &What {
        &self.what
    }

    /// Returns the angle that is placed, now or when the plane is there.
    pub(crate) fn measuring(&self) -> Option<&Measuring> {
        match (&self.what, &self.before) {
            (What::Angle(angle), _) => Some(angle),
            (What::Plane(_), before) => before.as_ref()?.measuring(),
        }
    }

    /// The same, to be changed.
    pub(crate) fn measuring_mut(&mut self) -> Option<&mut Measuring> {
        match (&mut self.what, &mut self.before) {
            (What::Angle(angle), _) => Some(angle),
            (What::Plane(_), before) => before.as_mut()?.measuring_mut(),
        }
    }

    /// Brings everything in step with the marks.
    pub(crate) fn follow(&mut self, sheaf: &Sheaf) {
        self.what.subject_mut().follow(sheaf);
        let count = self.what.subject().count();
        self.chosen = self.chosen.filter(|chosen| *chosen < count);
        if let Some(before) = &mut self.before {
            before.follow(sheaf);
        }
    }

    /// Returns whether anything of it is in the marks: undo goes back to the first point and no
    /// further, so that it never changes what is not in sight.
    pub(crate) fn has_begun(&self, sheaf: &Sheaf) -> bool {
        self.what.subject().is_in(sheaf)
    }

    /// Returns what the loupe looks at.
    pub(crate) const fn look(&self) -> Option<Shown> {
        self.look
    }

    /// Returns whether the pointer holds a point.
    pub(crate) const fn is_held(&self) -> bool {
        self.held.is_some()
    }

    /// Returns the point that keys move.
    pub(crate) fn moves(&self, sight: &Sight) -> Option<usize> {
        self.what.subject().moves(self.chosen, sight)
    }

    /// Returns the points in sight, by their numbers; one that is held lies
    /// where the pointer is.
    pub(crate) fn in_sight(&self, sight: &Sight) -> Vec<(usize, Shown)> {
        let mut points = self.what.subject().points(sight);
        if let Some((held, at)) = self.held {
            points.iter_mut().filter(|point| point.0 == held).for_each(|point| point.1 = at);
        }
        points
    }

    /// Does what the pointer did on the picture.
    pub(crate) fn pointed(&mut self, pointer: Pointer, sight: &Sight) -> Option<Change> {
        self.look = Some(pointer.at());
        match pointer {
            Pointer::At(_) => None,
            Pointer::Held(handle, at) => {
                let points = self.in_sight(sight);
                self.held = points.get(handle).map(|(point, _)| (*point, at));
                None
            }
            Pointer::LetGo(_, at) => {
                let (point, _) = self.held.take()?;
                self.move_to(point, at, sight)
            }
            Pointer::Clicked(at) => self.place(at, sight),
        }
    }

    /// Puts what is asked for at a place of the upright picture.
    pub(crate) fn place(&mut self, at: Shown, sight: &Sight) -> Option<Change> {
        if !sight.has(at) {
            return None;
        }
        self.look = Some(at);
        let coded = sight.upright.to_coded(at);
        self.what.subject_mut().place(coded, sight, &mut self.chosen)
    }

    /// Moves the chosen point by tenths of a pixel, or turns what is asked for.
    pub(crate) fn nudge(&mut self, tenths: [i16; 2], sight: &Sight) -> Option<Change> {
        if let Some(change) = self.what.subject_mut().turned(tenths, sight) {
            return Some(change);
        }
        let point = self.moves(sight)?;
        let at = self.in_sight(sight).into_iter().find(|it| it.0 == point)?.1;
        let by = tenths.map(|tenths| f64::from(tenths) / 10.0);
        self.move_to(point, sight.inside(at + by), sight)
    }

    fn move_to(&mut self, point: usize, at: Shown, sight: &Sight) -> Option<Change> {
        (self.look, self.chosen) = (Some(at), Some(point));
        self.what.subject().moved(point, sight.upright.to_coded(at))
    }

    /// Takes back the point placed last.
    pub(crate) fn take_back(&mut self) -> Option<Change> {
        let change = self.what.subject_mut().take_back()?;
        self.chosen = None;
        Some(change)
    }

    /// Passes over what is asked for.
    pub(crate) fn skip(&mut self, sight: &Sight) {
        self.what.subject_mut().skip(sight);
    }

    /// Asks for every point once more, when all are there.
    pub(crate) fn again(&mut self, sight: &Sight) {
        self.what.subject_mut().again(sight);
    }

    /// Takes what is asked for as it stands, where that is more than a point.
    pub(crate) fn settle(&mut self, sight: &Sight) -> Option<Change> {
        self.what.subject_mut().settle(sight)
    }

    /// Returns what counts from now on, or why it cannot be kept yet.
    pub(crate) fn finish(&self, sheaf: &Sheaf) -> Result<Change, String> {
        self.what.subject().finish(sheaf)
    }

    /// Returns the frame on which the next point is placed, where that is known.
    pub(crate) fn goal(&self, sight: &Sight) -> Option<FrameIndex> {
        self.what.subject().goal(sight)
    }

    /// Stops, with everything placed as it is; returns the angle that goes on, where there is one.
    pub(crate) fn stop(self) -> Option<Self> {
        self.before.map(|before| *before)
    }
}
