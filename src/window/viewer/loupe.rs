//! The loupe: a place of the picture magnified, with a cross on it; on screen only.

use iced::{
    Alignment, Element, Length,
    widget::{container, stack},
};

use crate::{
    units::{Orientation, Shown},
    window::theme,
};

use super::{
    frame::Told,
    overlay::Overlay,
    viewing::Viewer,
    viewport::{Room, Viewport},
};

/// Side of the loupe in logical pixels.
pub(crate) const SIDE: f32 = 220.0;
/// Logical pixels of the loupe to one of the picture, at least.
const LEAST: f64 = 6.0;
/// So many times larger than the picture beside it, at least.
const TIMES: f64 = 4.0;
/// And at most so many.
const MOST: f64 = 24.0;

/// Draws the loupe about a place of the picture, in the upper corner that is further from it.
pub(crate) fn view<'a, M: 'a>(
    viewer: &'a Viewer,
    turn: Option<Orientation>,
    at: Shown,
    tell: impl Fn(Told) -> M + 'a,
) -> Element<'a, M> {
    let room = viewer.room(turn);
    let placement = viewer.viewport().placement(room);
    let side = f64::from(SIDE);
    let inner = Room { picture: room.picture, room: [side, side] };
    let magnified = Viewport::about(at, (placement.scale * TIMES).clamp(LEAST, MOST), inner);
    let picture = viewer.picture(turn, tell).viewport(magnified).inset();
    let cross =
        Overlay { shapes: Vec::new(), viewport: magnified, picture: room.picture, cross: Some(at) };
    let glass = stack![picture, cross.view()].width(SIDE).height(SIDE);
    let framed = container(glass).padding(2).style(theme::small_picture(theme::Current::Yes));
    let [right, _] = placement.to_screen(at) - room.middle();
    let is_left = right < 0.0;
    let aligned = if is_left { Alignment::End } else { Alignment::Start };
    container(framed).width(Length::Fill).align_x(aligned).padding(theme::space::SMALL).into()
}
