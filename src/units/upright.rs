use serde::{Deserialize, Serialize};

use super::{Coded, Shown};

/// How a coded picture must be turned to stand upright: first mirrored, then turned clockwise.
///
/// These eight are all the ways in which a rectangle can be laid onto itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Orientation {
    /// Quarter turns clockwise, 0 to 3.
    pub quarter_turns: u8,
    /// Whether left and right are swapped before turning.
    pub mirrored: bool,
}

impl Orientation {
    /// A picture that already stands upright.
    pub const UPRIGHT: Self = Self { quarter_turns: 0, mirrored: false };

    /// Returns the orientation nearest to a display matrix's `[a, b, c, d]`, which sends the coded
    /// point (x, y) to (a·x + c·y, b·x + d·y), y down; upright when the matrix says nothing
    /// usable (all zero, or not a number).
    pub(crate) fn from_matrix([a, b, c, d]: [f64; 4]) -> Self {
        let determinant = a * d - b * c;
        if !determinant.is_finite() || determinant == 0.0 {
            return Self::UPRIGHT;
        }
        let mirrored = determinant < 0.0;
        // Mirroring first swaps the sign of the first column; what is left is a rotation.
        let (a, b) = if mirrored { (-a, -b) } else { (a, b) };
        let quarters = (b.atan2(a) / std::f64::consts::FRAC_PI_2).round().rem_euclid(4.0);
        Self { quarter_turns: quarters as u8, mirrored }
    }

    /// Returns this orientation with a further quarter turn clockwise.
    #[must_use]
    pub const fn turned(self) -> Self {
        Self { quarter_turns: (self.quarter_turns + 1) % 4, mirrored: self.mirrored }
    }

    /// Returns this orientation with left and right of the upright picture swapped.
    #[must_use]
    pub const fn flipped(self) -> Self {
        // Swapping after turning is the same as swapping before turning the other way.
        Self { quarter_turns: (4 - self.quarter_turns % 4) % 4, mirrored: !self.mirrored }
    }

    /// Returns whether width and height change places.
    pub(crate) const fn swaps_sides(self) -> bool {
        self.quarter_turns % 2 == 1
    }

    /// Turns a direction, y down, from the coded picture to the upright one.
    pub fn turn(self, [x, y]: [f64; 2]) -> [f64; 2] {
        let x = if self.mirrored { -x } else { x };
        match self.quarter_turns % 4 {
            0 => [x, y],
            1 => [-y, x],
            2 => [-x, -y],
            _ => [y, -x],
        }
    }

    /// Undoes [`Self::turn`].
    pub(crate) fn turn_back(self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [x, y] = match self.quarter_turns % 4 {
            0 => [x, y],
            1 => [y, -x],
            2 => [-x, -y],
            _ => [-y, x],
        };
        [if self.mirrored { -x } else { x }, y]
    }
}

/// Width of a pixel over its height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PixelShape {
    /// Width part, at least 1.
    pub width: u32,
    /// Height part, at least 1.
    pub height: u32,
}

impl PixelShape {
    /// A square pixel.
    pub const SQUARE: Self = Self { width: 1, height: 1 };

    fn ratio(self) -> f64 {
        f64::from(self.width.max(1)) / f64::from(self.height.max(1))
    }
}

/// The way between the coded picture, in whose pixels clicks are kept, and the upright picture of
/// square pixels, in which people look and angles are true.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Upright {
    /// Width of the coded picture in pixels.
    pub coded_width: u32,
    /// Height of the coded picture in pixels.
    pub coded_height: u32,
    /// Shape of a coded pixel.
    pub pixel: PixelShape,
    /// How the picture is turned upright.
    pub orientation: Orientation,
}

impl Upright {
    /// Returns width and height of the upright picture in square pixels.
    ///
    /// The coded height is kept and the width stretched, so that no row is lost; a quarter turn
    /// then swaps the two.
    pub fn shown_size(&self) -> [u32; 2] {
        let [w, h] = self.exact_size();
        [(w.round() as u32).max(1), (h.round() as u32).max(1)]
    }

    /// Returns where a coded pixel position lies in the upright picture.
    pub fn to_shown(&self, Coded([x, y]): Coded) -> Shown {
        let [sw, sh] = self.stretched_size();
        let centred = [x * self.pixel.ratio() - sw / 2.0, y - sh / 2.0];
        let [x, y] = self.orientation.turn(centred);
        let [w, h] = self.exact_size();
        Shown([x + w / 2.0, y + h / 2.0])
    }

    /// Returns the coded pixel position that is shown at a point of the upright picture.
    pub fn to_coded(&self, Shown([x, y]): Shown) -> Coded {
        let [w, h] = self.exact_size();
        let [x, y] = self.orientation.turn_back([x - w / 2.0, y - h / 2.0]);
        let [sw, sh] = self.stretched_size();
        Coded([(x + sw / 2.0) / self.pixel.ratio(), y + sh / 2.0])
    }

    fn stretched_size(&self) -> [f64; 2] {
        [f64::from(self.coded_width) * self.pixel.ratio(), f64::from(self.coded_height)]
    }

    fn exact_size(&self) -> [f64; 2] {
        let [w, h] = self.stretched_size();
        if self.orientation.swaps_sides() { [h, w] } else { [w, h] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all() -> impl Iterator<Item = Orientation> {
        (0..4).flat_map(|quarter_turns| {
            [false, true].map(|mirrored| Orientation { quarter_turns, mirrored })
        })
    }

    /// ISO/IEC 14496-12, 6.2.2: (x, y) goes to (a·x + c·y + tx, b·x + d·y + ty). A portrait phone
    /// writes a b c d = 0 1 -1 0, a quarter turn clockwise.
    #[test]
    fn a_phone_held_upright_is_a_quarter_turn_clockwise() {
        let phone = Orientation::from_matrix([0.0, 1.0, -1.0, 0.0]);
        assert_eq!(phone, Orientation { quarter_turns: 1, mirrored: false });
        let upright = Upright {
            coded_width: 256,
            coded_height: 144,
            pixel: PixelShape::SQUARE,
            orientation: phone,
        };
        assert_eq!(upright.shown_size(), [144, 256]);
        // The coded picture's top left corner is shown at the top right.
        assert_eq!(upright.to_shown(Coded([0.0, 0.0])), Shown([144.0, 0.0]));
    }

    #[test]
    fn every_orientation_is_found_again_from_its_matrix() {
        for orientation in all() {
            let [a, b] = orientation.turn([1.0, 0.0]);
            let [c, d] = orientation.turn([0.0, 1.0]);
            assert_eq!(Orientation::from_matrix([a, b, c, d]), orientation);
        }
    }

    #[test]
    fn a_useless_matrix_leaves_the_picture_alone() {
        assert_eq!(Orientation::from_matrix([0.0; 4]), Orientation::UPRIGHT);
        assert_eq!(Orientation::from_matrix([f64::NAN; 4]), Orientation::UPRIGHT);
        // 30 degrees snaps to the nearest right angle.
        let (sin, cos) = 30_f64.to_radians().sin_cos();
        assert_eq!(Orientation::from_matrix([cos, sin, -sin, cos]), Orientation::UPRIGHT);
    }

    #[test]
    fn there_and_back_is_where_one_began() {
        for orientation in all() {
            let upright = Upright {
                coded_width: 720,
                coded_height: 576,
                pixel: PixelShape { width: 16, height: 15 },
                orientation,
            };
            let Coded([x, y]) = upright.to_coded(upright.to_shown(Coded([12.5, 400.25])));
            assert!((x - 12.5).abs() < 1e-9 && (y - 400.25).abs() < 1e-9, "{orientation:?}");
        }
    }

    /// Pixel shape of ITU-R BT.601 625-line 4:3 pictures as used in DV: 16:15 gives 768 × 576.
    #[test]
    fn wide_pixels_widen_the_picture() {
        let upright = Upright {
            coded_width: 720,
            coded_height: 576,
            pixel: PixelShape { width: 16, height: 15 },
            orientation: Orientation::UPRIGHT,
        };
        assert_eq!(upright.shown_size(), [768, 576]);
    }
}
