//! From a pixel of the screen to the coded picture, as one affine map.

use crate::{units::Upright, window::viewer::viewport::Placement};

/// An affine map of the plane: `x' = x[0]·x + x[1]·y + x[2]`, and `y'` likewise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Affine {
    /// Row that makes x.
    pub x: [f64; 3],
    /// Row that makes y.
    pub y: [f64; 3],
}

impl Affine {
    /// Returns the map from physical pixels of the widget to coded pixels of the picture;
    /// `density` is physical pixels to a logical one.
    pub(crate) fn to_coded(upright: &Upright, placement: Placement, density: f64) -> Self {
        let map =
            |x: f64, y: f64| upright.to_coded(placement.to_picture([x / density, y / density]));
        // Every step on the way is affine, so three points tell the whole map.
        let [ox, oy] = map(0.0, 0.0);
        let [ax, ay] = map(1.0, 0.0);
        let [bx, by] = map(0.0, 1.0);
        Self { x: [ax - ox, bx - ox, ox], y: [ay - oy, by - oy, oy] }
    }

    /// Returns how many coded pixels lie under one pixel of the screen, along one side.
    pub(crate) fn span(&self) -> f64 {
        let along = (self.x[0] * self.y[1] - self.x[1] * self.y[0]).abs();
        along.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Orientation, PixelShape};

    #[test]
    fn a_screen_pixel_finds_its_coded_pixel() {
        let upright = Upright {
            coded_width: 200,
            coded_height: 100,
            pixel: PixelShape::SQUARE,
            orientation: Orientation { quarter_turns: 1, mirrored: false },
        };
        // Shown upright it is 100 wide and 200 high; at half size, moved by (10, 20), on a screen
        // of two physical pixels to a logical one.
        let placement = Placement { scale: 0.5, origin: [10.0, 20.0] };
        let affine = Affine::to_coded(&upright, placement, 2.0);
        let at = |row: [f64; 3], x: f64, y: f64| row[0] * x + row[1] * y + row[2];
        // The shown top right corner is the coded top left one.
        let (x, y) = (2.0 * (10.0 + 50.0), 2.0 * 20.0);
        assert!(at(affine.x, x, y).abs() < 1e-9 && at(affine.y, x, y).abs() < 1e-9);
        assert!((affine.span() - 1.0).abs() < 1e-9);
    }
}
