//! Draws a skeleton and its apparatus as a picture.

mod athlete;
mod backdrop;
mod brush;
mod shadow;
mod strip;

use tiny_skia::Pixmap;

pub use strip::{Strip, read_strip};

use crate::camera::View;
use crate::figure::{Skeleton, V3};
use crate::scene::Scene;
use brush::Blob;

/// Everything that stays the same from frame to frame.
pub(crate) struct Stage {
    view: View,
    scene: Scene,
    backdrop: Pixmap,
    rails: Vec<Blob>,
}

impl Stage {
    /// Draws the hall once. None when the picture's size is nought.
    pub(crate) fn new(view: View, scene: Scene) -> Option<Self> {
        let mut backdrop = Pixmap::new(view.size.0, view.size.1)?;
        backdrop::paint(&mut backdrop, &view, &scene);
        let rails = backdrop::rails(&scene);
        Some(Self { view, scene, backdrop, rails })
    }

    /// Draws one upright picture. `pull` is where hair hangs to: gravity as the head feels it.
    pub(crate) fn picture(&self, skeleton: &Skeleton, pull: V3) -> Pixmap {
        let mut picture = self.backdrop.clone();
        shadow::paint(&mut picture, &self.view, &self.scene, skeleton);
        let mut blobs = athlete::blobs(skeleton, pull);
        blobs.extend(self.rails.iter().cloned());
        brush::paint(&mut picture, &self.view, blobs, skeleton.root);
        picture
    }
}
