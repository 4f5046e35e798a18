//! What is asked for while points are placed: an angle or a plane tells it in the same few words.

use crate::{
    marks::{Edit, Id, Item, Reading, ReferencePlane, Sheaf, measured},
    units::{Coded, FrameIndex, FrameRef, Shown, Upright},
};

/// What the machine asks of what it places.
pub(super) trait Subject {
    /// Brings it in step with the marks.
    fn follow(&mut self, sheaf: &Sheaf);

    /// Returns whether anything of it is in the marks.
    fn is_in(&self, sheaf: &Sheaf) -> bool;

    /// Returns how many points it may have.
    fn count(&self) -> usize;

    /// Returns the points that can be seen, by their numbers.
    fn points(&self, sight: &Sight) -> Vec<(usize, Shown)>;

    /// Returns the point that keys move, where `chosen` was placed or moved last.
    fn moves(&self, chosen: Option<usize>, sight: &Sight) -> Option<usize>;

    /// Puts what is asked for at a coded pixel; tells which point keys move from then on.
    fn place(&mut self, coded: Coded, sight: &Sight, chosen: &mut Option<usize>) -> Option<Change>;

    /// Moves a point to a coded pixel.
    fn moved(&self, point: usize, coded: Coded) -> Option<Change>;

    /// Does what arrows mean where no point is asked for; nothing where they move a point.
    fn turned(&mut self, tenths: [i16; 2], sight: &Sight) -> Option<Change>;

    /// Takes back the point placed last.
    fn take_back(&mut self) -> Option<Change>;

    /// Passes over what is asked for.
    fn skip(&mut self, sight: &Sight);

    /// Asks for every point once more, when all are there.
    fn again(&mut self, sight: &Sight);

    /// Takes what is asked for as it stands, where that is more than a point.
    fn settle(&mut self, sight: &Sight) -> Option<Change>;

    /// Returns what counts from now on, or why it cannot be kept yet.
    fn finish(&self, sheaf: &Sheaf) -> Result<Change, String>;

    /// Returns the frame on which the next point is placed, where that is known.
    fn goal(&self, sight: &Sight) -> Option<FrameIndex>;
}

/// What is looked at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sight {
    /// The frame on screen.
    pub frame: FrameRef,
    /// How its picture stands upright.
    pub upright: Upright,
}

impl Sight {
    /// Returns a place, held inside of the picture.
    pub(super) fn inside(&self, Shown([x, y]): Shown) -> Shown {
        let [w, h] = self.upright.shown_size().map(f64::from);
        Shown([x.clamp(0.0, w), y.clamp(0.0, h)])
    }

    /// Returns whether a place is on the picture, and not on the ground beside it.
    pub(super) fn has(&self, Shown([x, y]): Shown) -> bool {
        let [w, h] = self.upright.shown_size().map(f64::from);
        (0.0..w).contains(&x) && (0.0..h).contains(&y)
    }
}

/// What becomes of the marks.
#[derive(Clone, Debug)]
pub(crate) enum Change {
    /// A reading whose points are still being placed.
    Unfinished(Reading),
    /// A reading that counts from now on.
    Reading(Reading),
    /// A plane, and with it the values of what is measured in it.
    Plane(ReferencePlane),
}

impl Change {
    /// Returns the line of the paper that it is about.
    pub(crate) const fn line(&self) -> Option<Id> {
        match self {
            Self::Reading(reading) => Some(reading.id),
            Self::Unfinished(_) | Self::Plane(_) => None,
        }
    }

    /// Returns the change as a step of the marks.
    pub(crate) fn edit(&self, sheaf: &Sheaf) -> Edit {
        match self {
            Self::Unfinished(reading) => Edit::unfinished(sheaf, reading.id, Some(reading.clone())),
            Self::Reading(reading) => {
                let done = Edit::unfinished(sheaf, reading.id, None);
                let kept = Edit::change(sheaf, Item::Reading(reading.clone()));
                Edit::Together(vec![done, kept])
            }
            Self::Plane(plane) => with_readings(sheaf, plane),
        }
    }
}

fn with_readings(sheaf: &Sheaf, plane: &ReferencePlane) -> Edit {
    let own = Edit::plane(sheaf, &plane.name, Some(plane.clone()));
    let mut after = sheaf.clone();
    own.apply(&mut after);
    let hang = sheaf.readings.iter().filter(|it| it.how.plane.as_deref() == Some(&plane.name));
    // What cannot be measured in the plane as it is keeps its value until it can.
    let renewed = hang.filter_map(|it| measured(&after, it).ok()).map(|(reading, _)| reading);
    let renewed = renewed.map(|reading| Edit::change(sheaf, Item::Reading(reading)));
    Edit::Together(std::iter::once(own).chain(renewed).collect())
}
