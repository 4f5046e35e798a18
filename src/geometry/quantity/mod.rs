//! What can be measured, and what is looked up of it.

mod row;
mod table;

pub(crate) use row::{Drawn, Pace, ReadAt};
pub use table::Quantity;

use self::row::PlaneNeed;
use super::{
    Lies,
    shape::{AngleShape, MissingPoint, NamedPoints},
};
use crate::units::{Magnitude, Unit};

impl Quantity {
    /// Returns the names of the points to click on each frame, in the order in which they are
    /// asked for.
    pub const fn points(self) -> &'static [&'static str] {
        self.row().points
    }

    /// Finds its points among `names`; places in the answer count in `names`.
    pub fn shape(self, names: &[&str]) -> Result<AngleShape, MissingPoint> {
        (self.row().shape)(&NamedPoints(names))
    }

    /// Returns on which frame it is read.
    pub(crate) const fn read_at(self) -> ReadAt {
        self.row().read
    }

    /// Returns the same in words: `at its peak`.
    pub(crate) const fn when(self) -> &'static str {
        self.row().when
    }

    /// Returns how it usually changes about the moment at which it is read.
    pub(crate) const fn pace(self) -> Pace {
        self.row().pace
    }

    /// Returns whether it is read where it is largest, so that the peak may lie between frames.
    pub(crate) const fn is_read_at_its_peak(self) -> bool {
        matches!(self.read_at(), ReadAt::Peak)
    }

    /// Returns whether it usually changes on the frame at which it is read, so that another frame
    /// tells how fast.
    pub(crate) const fn goes_by(self) -> bool {
        matches!(self.pace(), Pace::Onward(_) | Pace::EitherWay(_))
    }

    /// Returns whether its value is counted from the direction of travel.
    pub(crate) const fn needs_travel(self) -> bool {
        self.row().from_travel
    }

    /// Returns which way the plane lies in which it is measured; nothing where either will do.
    pub const fn lies(self) -> Option<Lies> {
        match self.row().plane {
            PlaneNeed::Along | PlaneNeed::Across => Some(Lies::Upright),
            PlaneNeed::Flat => Some(Lies::Flat),
            PlaneNeed::Metres => None,
        }
    }

    /// Returns whether it lies across the movement, so that no plane along it will do.
    pub(crate) const fn lies_across(self) -> bool {
        matches!(self.row().plane, PlaneNeed::Across)
    }

    /// Returns whether the picture says nothing of it without a plane.
    pub(crate) const fn needs_a_plane(self) -> bool {
        matches!(self.row().plane, PlaneNeed::Flat | PlaneNeed::Metres)
    }

    /// Returns whether another depth than the plane's makes it wrong: planes at other depths are
    /// parallel, so that angles stay.
    pub(crate) const fn needs_depth(self) -> bool {
        matches!(self.row().plane, PlaneNeed::Metres)
    }

    /// Returns what it is counted in.
    pub const fn unit(self) -> Unit {
        self.row().unit
    }

    /// Returns a value of it with its unit.
    pub fn write(self, value: Magnitude) -> String {
        self.unit().write(value)
    }

    /// Returns whether only its size is shown, without a sign.
    pub const fn is_size(self) -> bool {
        !self.row().is_signed
    }

    /// Returns the small figure of a target of it.
    pub(crate) const fn drawn(self) -> Drawn {
        self.row().drawn
    }

    /// Returns its name in words.
    pub const fn words(self) -> &'static str {
        self.row().words
    }

    /// Returns its name where a value stands behind it: `body line above horizontal`.
    pub(crate) const fn full_words(self) -> &'static str {
        self.row().full_words
    }

    /// Returns the word with which a value is written: `angle`.
    pub(crate) const fn written(self) -> &'static str {
        self.row().written
    }
}
