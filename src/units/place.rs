//! Where something lies, in a type of its own for each thing that it is counted in.
//!
//! One place alone turns each into the next: [`Upright`](super::Upright) coded pixels into shown
//! ones, the map of a plane shown pixels into metres, and the window's viewport shown pixels into
//! those of the screen.

use std::{
    borrow::Borrow,
    ops::{Add, Sub},
};

use serde::{Deserialize, Serialize};

/// Makes types of places; the difference of two is a plain pair, a step across and up or down.
macro_rules! places {
    ($($(#[$doc:meta])* $name:ident)+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub [f64; 2]);

        impl $name {
            /// Returns the middle of some places; of none, zero.
            pub fn mean<P: Borrow<Self>>(places: impl IntoIterator<Item = P>) -> Self {
                let (mut sum, mut count) = ([0.0, 0.0], 0_u32);
                for place in places {
                    let Self([x, y]) = place.borrow();
                    sum = [sum[0] + x, sum[1] + y];
                    count += 1;
                }
                Self(sum.map(|sum| sum / f64::from(count.max(1))))
            }

            /// Returns how far it is from another.
            pub fn distance(self, other: Self) -> f64 {
                let [x, y] = self - other;
                x.hypot(y)
            }

            /// Returns whether both of its numbers are some.
            pub fn is_finite(self) -> bool {
                self.0.iter().all(|part| part.is_finite())
            }
        }

        impl Sub for $name {
            type Output = [f64; 2];
            fn sub(self, other: Self) -> [f64; 2] {
                [self.0[0] - other.0[0], self.0[1] - other.0[1]]
            }
        }

        impl Add<[f64; 2]> for $name {
            type Output = Self;
            fn add(self, [x, y]: [f64; 2]) -> Self {
                Self([self.0[0] + x, self.0[1] + y])
            }
        }
    )+};
}

places! {
    /// A place in the coded picture, in its pixels, in which clicks are kept: x to the right and y
    /// down, the centre of the first pixel at (0.5, 0.5).
    ///
    /// ```
    /// # use stillcall::units::{Coded, Orientation, PixelShape, Shown, Upright};
    /// # let (pixel, orientation) = (PixelShape::SQUARE, Orientation::UPRIGHT);
    /// # let upright = Upright { coded_width: 720, coded_height: 576, pixel, orientation };
    /// let shown: Shown = upright.to_shown(Coded([12.5, 400.0]));
    /// ```
    ///
    /// It cannot stand where another is asked for:
    ///
    /// ```compile_fail
    /// # use stillcall::units::{Coded, Orientation, PixelShape, Shown, Upright};
    /// # let (pixel, orientation) = (PixelShape::SQUARE, Orientation::UPRIGHT);
    /// # let upright = Upright { coded_width: 720, coded_height: 576, pixel, orientation };
    /// let coded: Coded = upright.to_coded(Coded([12.5, 400.0]));
    /// ```
    Coded
    /// A place in the upright picture, in square pixels, in which people look and angles are true:
    /// x to the right and y down, from its top left corner.
    Shown
    /// A place in the window, in logical pixels: x to the right and y down, from the top left
    /// corner of the room that the picture is given.
    OnScreen
    /// A place on the plane in which is measured: x along the movement and y up, or away on a flat
    /// plane, in metres; without a plane of known size in pixels of the picture set level.
    OnPlane
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_lies_as_far_from_either() {
        let [a, b] = [Shown([1.0, 2.0]), Shown([4.0, 6.0])];
        let middle = Shown::mean([a, b]);
        assert_eq!(middle, Shown([2.5, 4.0]));
        assert_eq!((a.distance(b), a.distance(middle)), (5.0, 2.5));
        assert_eq!(a + (b - a), b);
    }

    #[test]
    fn a_place_is_written_as_a_pair() {
        assert_eq!(serde_json::to_string(&Coded([0.5, 12.25])).unwrap(), "[0.5,12.25]");
        assert_eq!(serde_json::from_str::<OnPlane>("[0.5,2.0]").unwrap(), OnPlane([0.5, 2.0]));
        assert!(serde_json::from_str::<OnPlane>("[0.5]").is_err());
    }
}
