//! Colours of what is drawn over a picture: light, with a dark edge, so that they are seen on any
//! ground; what they stand for is said by stroke, shape and word too.

use iced::Color;

use crate::{
    figure::Ink,
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
pub(crate) const EDGE: Color = theme::STAGE;

const MET: Color = Color::from_rgb8(0x8F, 0xD8, 0x9A);
const MISSED: Color = Color::from_rgb8(0xF4, 0xA3, 0x96);
const OPEN: Color = Color::from_rgb8(0xEB, 0xC7, 0x6C);
const ASKED: Color = Color::from_rgb8(0xF0, 0xE2, 0xB4);
const WORLD: Color = Color::from_rgb8(0xA9, 0xC2, 0xF0);
