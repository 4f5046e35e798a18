//! Colours of what is drawn over a picture: light, with a dark edge, so that they are seen on any
//! ground; what they stand for is said by stroke, shape and word too.

use iced::Color;

use crate::{
    figure::{self, Ink},
    window::theme::{self, Tint},
};

/// Returns the colour of an ink in every look.
pub(crate) const fn tint(ink: Ink) -> Tint {
    match ink {
        Ink::Body => theme::ON_STAGE,
        Ink::Counts => theme::STAGE_ACCENT,
        Ink::Met => |_| MET,
        Ink::Missed => |_| MISSED,
        Ink::Open => |_| OPEN,
        Ink::Asked => |_| ASKED,
        Ink::World => |_| WORLD,
    }
}

/// What keeps them apart from the picture.
pub(crate) const EDGE: Color = rgb(figure::EDGE);

const MET: Color = rgb(Ink::Met.over_picture());
const MISSED: Color = rgb(Ink::Missed.over_picture());
const OPEN: Color = rgb(Ink::Open.over_picture());
const ASKED: Color = rgb(Ink::Asked.over_picture());
const WORLD: Color = rgb(Ink::World.over_picture());

const fn rgb([r, g, b]: [u8; 3]) -> Color {
    Color::from_rgb8(r, g, b)
}
