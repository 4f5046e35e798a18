//! A clip with its drawings, and its frames as pictures with what stands on them.

use image::RgbaImage;
use tiny_skia::{IntSize, Pixmap};

use super::{drawings::Drawings, error::HandoutError};
use crate::{
    figure::{self, EDGE, Laid, Shape},
    footage::{DecodeError, Decoder, Footage},
    units::Upright,
};

/// On what the drawings stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Ground {
    /// On the picture.
    #[default]
    Picture,
    /// On a plain ground, with the limbs between the joints that are marked: nobody is seen.
    Lines,
}

/// A clip with its drawings.
#[derive(Clone, Debug)]
pub struct Subject {
    /// The clip.
    pub footage: Footage,
    /// What stands on its frames.
    pub drawings: Drawings,
}

impl Subject {
    /// Returns width and height of the upright picture.
    pub(super) fn size(&self) -> [u32; 2] {
        let own = self.footage.facts().upright;
        let orientation = self.drawings.turn().unwrap_or(own.orientation);
        Upright { orientation, ..own }.shown_size()
    }

    /// Returns the clip with every frame proved: what leaves was held against its proof.
    pub(super) fn proved(&self, stop: &dyn Fn() -> bool) -> Result<Self, HandoutError> {
        if let Some(footage) = self.footage.proved(stop) {
            return Ok(Self { footage, drawings: self.drawings.clone() });
        }
        if stop() {
            return Err(HandoutError::Stopped);
        }
        let path = self.footage.path().to_owned();
        Err(DecodeError::Damaged { path, frame: 0 }.into())
    }

    /// Fails where a frame is not in the clip.
    pub(super) fn check(
        &self,
        frames: impl IntoIterator<Item = usize>,
    ) -> Result<(), HandoutError> {
        let count = self.footage.table().len();
        match frames.into_iter().find(|k| *k >= count) {
            None => Ok(()),
            Some(frame) => {
                let path = self.footage.path().to_owned();
                Err(DecodeError::NoSuchFrame { path, frame, count }.into())
            }
        }
    }

    /// Returns what stands on a frame on this ground; on a plain one the figure of the frame before
    /// stays until the next one that is marked.
    pub(super) fn shapes(&self, k: usize, ground: Ground) -> Vec<Shape> {
        match ground {
            Ground::Picture => self.drawings.on(k).to_vec(),
            Ground::Lines => {
                let Some(k) = self.drawings.before(k) else { return Vec::new() };
                let mut shapes = self.drawings.limbs_on(k);
                shapes.extend_from_slice(self.drawings.on(k));
                shapes
            }
        }
    }

    /// Returns how shapes lie on a picture of this clip that is made `size` large at a place.
    pub(super) fn laid(&self, size: [u32; 2], at: [u32; 2]) -> Laid {
        // An odd side is made even by a row or column more, which moves nothing.
        let shown = self.size();
        let is_its_own = [0, 1].iter().all(|&axis| shown[axis].next_multiple_of(2) == size[axis]);
        Laid::over(size, at, if is_its_own { size } else { shown })
    }

    /// Returns a frame as a picture, no drawing on it yet.
    pub(super) fn image(
        &self,
        decoder: &mut Decoder,
        k: usize,
        ground: Ground,
    ) -> Result<RgbaImage, HandoutError> {
        let [width, height] = self.size();
        match ground {
            Ground::Picture => Ok(decoder.picture(k)?.to_rgba_turned(self.drawings.turn())),
            Ground::Lines => Ok(RgbaImage::from_pixel(width, height, plain())),
        }
    }

    /// Returns a picture with the drawings of frame `k` on it.
    pub(super) fn painted(
        &self,
        image: RgbaImage,
        k: usize,
        ground: Ground,
    ) -> Result<Pixmap, HandoutError> {
        let size = [image.width(), image.height()];
        let mut pixmap = pixmap_of(image)?;
        let laid = Laid::over(size, [0, 0], self.size());
        figure::paint(&mut pixmap.as_mut(), &self.shapes(k, ground), &laid);
        Ok(pixmap)
    }
}

/// Returns a picture as something to be painted on; it covers everything.
pub(super) fn pixmap_of(image: RgbaImage) -> Result<Pixmap, HandoutError> {
    let size = [image.width(), image.height()];
    IntSize::from_wh(size[0], size[1])
        .and_then(|it| Pixmap::from_vec(image.into_raw(), it))
        .ok_or(HandoutError::TooLarge(size))
}

/// Returns a painting that covers everything as a picture.
pub(super) fn image_of(pixmap: Pixmap) -> Result<RgbaImage, HandoutError> {
    let size = [pixmap.width(), pixmap.height()];
    RgbaImage::from_raw(size[0], size[1], pixmap.take()).ok_or(HandoutError::TooLarge(size))
}

/// The plain ground.
pub(super) const fn plain() -> image::Rgba<u8> {
    let [r, g, b] = EDGE;
    image::Rgba([r, g, b, 255])
}
