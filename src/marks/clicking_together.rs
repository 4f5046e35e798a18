//! How far apart several people place the same points on the same frames: what one person's own repeats
//! do not tell is whether others would call that the joint.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{
    model::{Quantity, Sheaf},
    placing,
};
use crate::{
    geometry::placing::squares_of,
    units::{FrameIndex, PictureField, Shown, Ticks},
};

/// How far apart people placed the points of one quantity in one clip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Together {
    /// Codes of the people.
    people: Vec<String>,
    quantity: Quantity,
    /// The clip.
    of: String,
    /// Height of the picture.
    rows: u32,
    /// Sum of the squared distances from the means of each point, in shown pixels.
    pub(super) squares: f64,
    /// Placements beyond the first of each point.
    pub(super) again: u32,
}

/// Nobody who means the same point lies further off, in pixels.
pub(super) const FARTHEST: f64 = 100.0;
/// No clip tells more placements.
const MOST_AGAIN: u32 = 100_000;

/// A point on a frame: its name, and the frame's place in the clip.
type Placed<'a> = (&'a str, (Ticks, FrameIndex, Option<PictureField>));

impl Together {
    /// Returns what the marks of one clip by several people tell: of every point that two or more placed
    /// on the same frame for the same quantity, the first placement of each. What lies so far apart that
    /// they cannot have meant the same is left out.
    pub fn of(sheaves: &[&Sheaf]) -> Vec<Self> {
        let Some(clip) = sheaves.iter().find_map(|sheaf| sheaf.clip.as_ref()) else {
            return Vec::new();
        };
        let upright = clip.upright;
        let is_of_clip = |sheaf: &&&Sheaf| {
            let own = sheaf.clip.as_ref();
            own.is_some_and(|own| own.quick_id == clip.quick_id && own.upright == upright)
                && !sheaf.routine.judge.is_empty()
        };
        let of_clip: Vec<&&Sheaf> = sheaves.iter().filter(is_of_clip).collect();
        let told = Quantity::ALL.into_iter().map(|quantity| {
            let mut points: BTreeMap<Placed<'_>, BTreeMap<&str, Shown>> = BTreeMap::new();
            for sheaf in &of_clip {
                for reading in sheaf.readings.iter().filter(|it| it.quantity == quantity) {
                    for point in &reading.points {
                        let Some(frame) = placing::frame_of(reading, point) else { continue };
                        let by = points.entry((&point.name, frame.order())).or_default();
                        by.entry(&sheaf.routine.judge).or_insert(upright.to_shown(point.coded));
                    }
                }
            }
            let mut together = Self {
                people: Vec::new(),
                quantity,
                of: clip.quick_id.clone(),
                rows: upright.shown_size()[1],
                squares: 0.0,
                again: 0,
            };
            for by in points.values() {
                together.add(by);
            }
            together
        });
        told.filter(|it| it.again > 0).collect()
    }

    fn add(&mut self, by: &BTreeMap<&str, Shown>) {
        let placed: Vec<Shown> = by.values().copied().collect();
        let middle = Shown::mean(&placed);
        if placed.len() < 2 || placed.iter().any(|at| at.distance(middle) > FARTHEST) {
            return;
        }
        let (squares, again) = squares_of([placed.as_slice()]);
        self.squares += squares;
        self.again = self.again.saturating_add(again as u32);
        let new = by.keys().filter(|person| !self.people.iter().any(|it| it == *person));
        let new: Vec<String> = new.map(|person| (*person).to_owned()).collect();
        self.people.extend(new);
    }

    pub(super) fn is_sound(&self) -> bool {
        let most = FARTHEST.powi(2) * 2.0 * f64::from(self.again);
        (1..=MOST_AGAIN).contains(&self.again) && (0.0..=most).contains(&self.squares)
    }

    pub(super) fn is_of_same(&self, other: &Self) -> bool {
        self.of == other.of && self.is_about(other.quantity, other.rows)
    }

    pub(super) fn is_about(&self, quantity: Quantity, rows: u32) -> bool {
        self.quantity == quantity && self.rows == rows
    }

    pub(super) fn has(&self, person: &str) -> bool {
        self.people.iter().any(|it| it == person)
    }
}
