//! What the clip screen is at: one thing at a time.

use std::time::Instant;

use super::{
    asides::AsidesPage,
    cutting::CutForm,
    handing::HandForm,
    looking::jump::Jump,
    meet::MeetForm,
    pages::{find::Find, reference::Page},
    routine::header::Form,
    writing::offers::WriteLine,
};
use crate::{
    units::Shown,
    window::{
        placing::{Placing, PlaneForm},
        screens::record::RecordForm,
    },
};

/// What the screen is at.
pub(crate) enum Mode {
    /// Going through the clip.
    Looking {
        /// A click that meant nothing yet, and when it was: the key that begins measuring may
        /// follow.
        click: Option<(Shown, Instant)>,
    },
    /// Writing what was seen.
    Writing(WriteLine),
    /// Placing points, of an angle or of a plane.
    Placing(Placing),
}

impl Default for Mode {
    fn default() -> Self {
        Self::Looking { click: None }
    }
}

impl Mode {
    /// Returns the line that is written in, where one is.
    pub(super) const fn line(&self) -> Option<&WriteLine> {
        if let Self::Writing(line) = self { Some(line) } else { None }
    }

    /// Returns the points that are being placed, where any are.
    pub(super) const fn placing(&self) -> Option<&Placing> {
        if let Self::Placing(placing) = self { Some(placing) } else { None }
    }

    /// The same, to be changed.
    pub(super) const fn placing_mut(&mut self) -> Option<&mut Placing> {
        if let Self::Placing(placing) = self { Some(placing) } else { None }
    }

    /// Stops placing points, where any are placed, and returns them.
    pub(super) fn take_placing(&mut self) -> Option<Placing> {
        match std::mem::take(self) {
            Self::Placing(placing) => Some(placing),
            other => {
                *self = other;
                None
            }
        }
    }
}

/// What lies over the screen.
#[derive(Debug, Default)]
pub(crate) enum Dialogue {
    /// Nothing.
    #[default]
    None,
    /// All commands.
    Help(Find),
    /// A time or a frame to go to.
    Jump(Jump),
    /// The routine's header.
    Header(Box<Form>),
    /// The routines of the clip, one of them picked.
    Routines(usize),
    /// What was set aside of the marks.
    Asides(AsidesPage),
    /// A page of the rule book.
    Page(Box<Page>),
    /// The form of a plane.
    Planes(Box<PlaneForm>),
    /// What is noted of the clip.
    Record(Box<RecordForm>),
    /// A part of the clip is cut out.
    Cut(Box<CutForm>),
    /// What is on screen is handed over.
    HandOver(Box<HandForm>),
    /// What the routine was given at the meet.
    Meet(Box<MeetForm>),
}
