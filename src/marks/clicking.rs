//! How well people click, learnt from points that they placed again, and from what several of them
//! placed on the same frames.

use serde::{Deserialize, Serialize};

use super::{
    clicking_together::{FARTHEST, Together},
    model::{How, Quantity, Reading, Sheaf},
};
use crate::{
    geometry::placing::{Spread, squares_of},
    units::Shown,
};

/// What is known of people's clicks, by code and quantity, the newest last.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Clicking {
    repeats: Vec<Repeats>,
    together: Vec<Together>,
}

/// How far apart the points of one reading were placed again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Repeats {
    /// Code of the person.
    person: String,
    quantity: Quantity,
    /// Clip, routine and reading, so that one kept anew counts once.
    of: String,
    /// Height of the picture, because pixels of another picture are others.
    rows: u32,
    /// Sum of the squared distances from their means, in shown pixels.
    squares: f64,
    /// Points placed beyond the first time.
    again: u32,
}

/// How well one person clicks, or several.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnClicks {
    /// Standard deviation across and down in shown pixels.
    pub s: f64,
    /// From how many points placed again.
    pub repeats: u32,
}

impl OwnClicks {
    /// From so many repeats on they count: they are then better known than the usual click, which is a
    /// guess. Each tells two numbers.
    pub const ENOUGH: u32 = (Spread::USUAL.freedom / 2.0) as u32 + 1;

    /// Returns the degrees of freedom behind them.
    pub fn freedom(self) -> f64 {
        2.0 * f64::from(self.repeats)
    }

    /// Returns whether they count.
    pub const fn is_enough(self) -> bool {
        self.repeats >= Self::ENOUGH
    }
}

/// Readings that are remembered of one person and quantity, and of all together; the oldest goes
/// first.
const MOST_OF_ONE: usize = 60;
const MOST: usize = 2000;
/// No reading has more points placed again.
const MOST_AGAIN: u32 = 1000;

impl Clicking {
    /// Returns it without what no hand can have clicked: a file may be damaged, or from elsewhere.
    #[must_use]
    pub fn sound(mut self) -> Self {
        self.repeats.retain(|it| {
            let most = FARTHEST.powi(2) * 2.0 * f64::from(it.again);
            (1..=MOST_AGAIN).contains(&it.again) && (0.0..=most).contains(&it.squares)
        });
        let old = self.repeats.len().saturating_sub(MOST);
        self.repeats.drain(..old);
        self.together.retain(Together::is_sound);
        let old = self.together.len().saturating_sub(MOST);
        self.together.drain(..old);
        self
    }

    /// Returns what a reading tells of whoever clicked it; nothing where nobody has said who that is.
    pub fn repeats(sheaf: &Sheaf, reading: &Reading) -> Option<Repeats> {
        let (clip, routine) = (sheaf.clip.as_ref()?, &sheaf.routine);
        let upright = clip.upright;
        let mut points: Vec<(&str, Option<_>, Vec<Shown>)> = Vec::new();
        for point in &reading.points {
            let frame = point.frame.map(|frame| frame.order());
            let at = upright.to_shown(point.coded);
            match points.iter_mut().find(|it| it.0 == point.name && it.1 == frame) {
                Some((.., placed)) => placed.push(at),
                None => points.push((&point.name, frame, vec![at])),
            }
        }
        let (squares, again) = squares_of(points.iter().map(|(.., placed)| placed.as_slice()));
        (!routine.judge.is_empty()).then(|| Repeats {
            person: routine.judge.clone(),
            quantity: reading.quantity,
            of: format!("{} {} {}", clip.quick_id, routine.id, reading.id.0),
            rows: upright.shown_size()[1],
            squares,
            again: again.min(MOST_AGAIN as usize) as u32,
        })
    }

    /// Learns from a reading that was kept, in place of what the same one told before.
    pub fn take(&mut self, repeats: Repeats) {
        let same = |it: &Repeats| it.person == repeats.person && it.of == repeats.of;
        self.repeats.retain(|it| !same(it));
        if repeats.again == 0 {
            return;
        }
        let own = |it: &Repeats| it.person == repeats.person && it.quantity == repeats.quantity;
        if self.repeats.iter().filter(|it| own(it)).count() >= MOST_OF_ONE
            && let Some(oldest) = self.repeats.iter().position(own)
        {
            self.repeats.remove(oldest);
        }
        self.repeats.push(repeats);
        let old = self.repeats.len().saturating_sub(MOST);
        self.repeats.drain(..old);
    }

    /// Returns how well a person clicks the points of a quantity in pictures of that height.
    pub fn of(&self, person: &str, quantity: Quantity, rows: u32) -> Option<OwnClicks> {
        let own = self
            .repeats
            .iter()
            .filter(|it| it.person == person && it.quantity == quantity && it.rows == rows);
        let (squares, repeats) =
            own.fold((0.0, 0), |(squares, again), it| (squares + it.squares, again + it.again));
        let s = || Spread::from_repeats(squares, repeats as usize).s;
        (repeats > 0).then(|| OwnClicks { s: s(), repeats })
    }

    /// Takes in how far apart people placed the points of one clip, in place of what it told before.
    pub fn take_together(&mut self, all: Vec<Together>) {
        for one in all {
            self.together.retain(|it| !it.is_of_same(&one));
            self.together.push(one);
        }
        let old = self.together.len().saturating_sub(MOST);
        self.together.drain(..old);
    }

    /// Returns how far apart people place the points of a quantity in pictures of that height.
    pub fn of_several(&self, quantity: Quantity, rows: u32) -> Option<OwnClicks> {
        let of_it = self.together.iter().filter(|it| it.is_about(quantity, rows));
        let (squares, repeats) =
            of_it.fold((0.0, 0), |(squares, again), it| (squares + it.squares, again + it.again));
        let s = || Spread::from_repeats(squares, repeats as usize).s;
        (repeats > 0).then(|| OwnClicks { s: s(), repeats })
    }

    /// Returns how a person's clicks are taken: as she finds the same pixel again, but no better than
    /// people agree where the joint is; as far as enough is known of either.
    pub fn how(&self, person: &str, quantity: Quantity, rows: u32) -> How {
        let own = self.of(person, quantity, rows).filter(|it| it.is_enough());
        let several = self.of_several(quantity, rows).filter(|it| it.is_enough());
        let is_of_several = match (own, several) {
            (Some(own), Some(several)) => several.s > own.s,
            (own, _) => own.is_none(),
        };
        let known = if is_of_several { several } else { own };
        How {
            click: known.map(|it| it.s),
            click_freedom: known.map(OwnClicks::freedom),
            click_of_several: is_of_several && known.is_some(),
            ..How::default()
        }
    }

    /// Forgets everything of a person.
    pub fn forget(&mut self, person: &str) {
        self.repeats.retain(|it| it.person != person);
        self.together.retain(|it| !it.has(person));
    }
}
