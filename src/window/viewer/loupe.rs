//! The loupe: a place of the picture magnified, with a cross on it; on screen only.

use iced::{
    Alignment, Element, Length,
    widget::{container, stack},
};

use crate::{units::Orientation, window::theme};

use super::{
    frame::{FrameView, Told},
    overlay::Overlay,
    stage::Stage,
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
    stage: &'a Stage,
    turn: Option<Orientation>,
    (at, viewport): ([f64; 2], Viewport),
    room: Room,
    tell: impl Fn(Told) -> M + 'a,
) -> Element<'a, M> {
    let placement = viewport.placement(room);
    let side = f64::from(SIDE);
    let inner = Room { picture: room.picture, room: [side, side] };
    let magnified = Viewport::about(at, (placement.scale * TIMES).clamp(LEAST, MOST), inner);
    let picture = FrameView::new(stage, tell).turned(turn).viewport(magnified).inset();
    let cross =
        Overlay { shapes: Vec::new(), viewport: magnified, picture: room.picture, cross: Some(at) };
    let glass = stack![picture, cross.view()].width(SIDE).height(SIDE);
    let framed = container(glass).padding(2).style(theme::small_picture(theme::Current::Yes));
    let is_left = placement.to_room(at)[0] < room.room[0] / 2.0;
    let aligned = if is_left { Alignment::End } else { Alignment::Start };
    container(framed).width(Length::Fill).align_x(aligned).padding(theme::space::SMALL).into()
}
