//! Draws a picture without a graphics card, pixel by pixel as `frame.wgsl` does, but with the
//! nearest sample: exact, and quick enough for stepping.

use std::sync::Arc;

use iced::{
    Rectangle, Renderer,
    advanced::image::{FilterMethod, Handle, Image, Renderer as _},
};

use super::{
    colour,
    placing::Affine,
    viewport::{Room, Viewport},
    widget::Showing,
};
use crate::{footage::Picture, units::Upright, window::theme};

/// A picture as it was last drawn, and of what.
pub struct Rendered {
    picture: Arc<Picture>,
    upright: Upright,
    viewport: Viewport,
    size: [u32; 2],
    image: Handle,
}

/// Draws the picture into `bounds`, from `rendered` where that is still it.
pub fn draw(
    showing: &Showing,
    room: Room,
    bounds: Rectangle,
    rendered: &mut Option<Rendered>,
    renderer: &mut Renderer,
) {
    let size = room.room.map(|side| (side.round() as u32).clamp(1, 8192));
    if !rendered.as_ref().is_some_and(|rendered| rendered.is_of(showing, size)) {
        *rendered = Some(Rendered::new(showing, room, size));
    }
    let Some(rendered) = rendered else { return };
    let image = Image {
        handle: rendered.image.clone(),
        filter_method: FilterMethod::Nearest,
        rotation: iced::Radians(0.0),
        border_radius: 0.0.into(),
        opacity: 1.0,
        snap: true,
    };
    renderer.draw_image(image, bounds, bounds);
}

impl Rendered {
    fn new(showing: &Showing, room: Room, size: [u32; 2]) -> Self {
        let placement = showing.viewport.placement(room);
        let affine = Affine::to_coded(&showing.upright, placement, 1.0);
        let bytes = pixels(&showing.picture, affine, size);
        Self {
            picture: Arc::clone(&showing.picture),
            upright: showing.upright,
            viewport: showing.viewport,
            size,
            image: Handle::from_rgba(size[0], size[1], bytes),
        }
    }

    fn is_of(&self, showing: &Showing, size: [u32; 2]) -> bool {
        Arc::ptr_eq(&self.picture, &showing.picture)
            && self.upright == showing.upright
            && self.viewport == showing.viewport
            && self.size == size
    }
}
