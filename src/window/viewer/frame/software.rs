//! Draws a picture without a graphics card: the upright picture is made once, and of it what the
//! room shows, by the nearest pixel or, when shown smaller, by the mean.

use std::sync::Arc;

use iced::{
    Rectangle, Renderer,
    advanced::image::{FilterMethod, Handle, Image, Renderer as _},
};
use image::RgbaImage;

use crate::{
    footage::Picture,
    units::Orientation,
    window::{
        theme,
        viewer::viewport::{Placement, Room, Viewport},
    },
};

use super::showing::Showing;

/// A picture as it was last drawn, and of what.
pub(crate) struct Rendered {
    picture: Arc<Picture>,
    turn: Option<Orientation>,
    upright: RgbaImage,
    viewport: Viewport,
    size: [u32; 2],
    image: Handle,
}

/// Draws the picture into `bounds`, from `rendered` where that is still it.
pub(crate) fn draw(
    showing: &Showing,
    bounds: Rectangle,
    rendered: &mut Option<Rendered>,
    renderer: &mut Renderer,
) {
    let size = [bounds.width, bounds.height].map(|side| (side.round() as u32).clamp(1, 8192));
    let now = match rendered.take() {
        Some(kept) if kept.is_of(showing, size) => kept,
        Some(kept) if kept.is_upright(showing) => Rendered::new(showing, kept.upright, size),
        _ => Rendered::new(showing, showing.picture.to_rgba_turned(showing.turn), size),
    };
    let image = Image {
        handle: now.image.clone(),
        filter_method: FilterMethod::Nearest,
        rotation: iced::Radians(0.0),
        border_radius: 0.0.into(),
        opacity: 1.0,
        snap: true,
    };
    *rendered = Some(now);
    renderer.draw_image(image, bounds, bounds);
}

impl Rendered {
    fn new(showing: &Showing, upright: RgbaImage, size: [u32; 2]) -> Self {
        let room = Room {
            picture: [upright.width(), upright.height()].map(f64::from),
            room: size.map(f64::from),
        };
        let bytes = pixels(&upright, showing.viewport.placement(room), size);
        Self {
            picture: Arc::clone(&showing.picture),
            turn: showing.turn,
            upright,
            viewport: showing.viewport,
            size,
            image: Handle::from_rgba(size[0], size[1], bytes),
        }
    }

    fn is_of(&self, showing: &Showing, size: [u32; 2]) -> bool {
        self.is_upright(showing) && self.viewport == showing.viewport && self.size == size
    }

    /// Returns whether the picture was made upright already, and so turned.
    fn is_upright(&self, showing: &Showing) -> bool {
        Arc::ptr_eq(&self.picture, &showing.picture) && self.turn == showing.turn
    }
}

/// Returns what the room shows, row by row.
fn pixels(picture: &RgbaImage, placement: Placement, [width, height]: [u32; 2]) -> Vec<u8> {
    let columns = spans(placement.origin[0], placement.scale, width, picture.width());
    let rows = spans(placement.origin[1], placement.scale, height, picture.height());
    let ground = theme::STAGE.into_rgba8();
    let mut bytes = Vec::with_capacity((width * height * 4) as usize);
    for row in &rows {
        for column in &columns {
            let pixel = match (column, row) {
                (Some(x), Some(y)) => mean(picture, *x, *y),
                _ => ground,
            };
            bytes.extend_from_slice(&pixel);
        }
    }
    bytes
}

/// First and last pixel of the picture under each pixel of the room, along one side.
fn spans(origin: f64, scale: f64, room: u32, picture: u32) -> Vec<Option<[u32; 2]>> {
    let span = |at: u32| {
        let middle = (f64::from(at) + 0.5 - origin) / scale;
        if !(0.0..f64::from(picture)).contains(&middle) {
            return None;
        }
        let half = (0.5 / scale - 0.5).max(0.0);
        let last = f64::from(picture - 1);
        Some([(middle - half).floor().max(0.0) as u32, (middle + half).floor().min(last) as u32])
    };
    (0..room).map(span).collect()
}

fn mean(picture: &RgbaImage, x: [u32; 2], y: [u32; 2]) -> [u8; 4] {
    if x[0] == x[1] && y[0] == y[1] {
        return picture.get_pixel(x[0], y[0]).0;
    }
    let mut sum = [0_u32; 4];
    for row in y[0]..=y[1] {
        for column in x[0]..=x[1] {
            let pixel = picture.get_pixel(column, row).0;
            sum.iter_mut().zip(pixel).for_each(|(sum, part)| *sum += u32::from(part));
        }
    }
    let count = (x[1] - x[0] + 1) * (y[1] - y[0] + 1);
    sum.map(|sum| (sum / count) as u8)
}
