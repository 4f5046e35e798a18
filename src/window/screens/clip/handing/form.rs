//! What is asked.

use crate::{
    handout::{Drawings, Ground},
    units::FrameIndex,
    window::{
        screens::clip::errand::{Errand, Words, span},
        typing::{Line, Typed},
    },
};

/// The form.
#[derive(Debug)]
pub(crate) struct HandForm {
    pub(in crate::window::screens::clip) errand: Errand,
    pub(super) what: HandWhat,
    pub(super) look: HandLook,
    /// First and last frame, as they are written, and the caption.
    pub(super) lines: [Line; 3],
    pub(super) current: HandField,
    /// The frame on screen.
    pub(super) here: FrameIndex,
    /// What is wrong with its picture.
    pub(super) damage: Option<&'static str>,
    pub(super) last: FrameIndex,
    pub(super) drawings: Drawings,
}

/// What is handed over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum HandWhat {
    Still,
    Replay,
}

/// What is to be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum HandLook {
    /// The picture with what was measured on it.
    Drawn,
    Picture,
    /// What was measured without the picture.
    Lines,
}

/// A field of a replay that is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum HandField {
    First,
    Last,
    Caption,
}

/// What happened to its fields.
#[derive(Clone, Debug)]
pub(crate) enum HandMessage {
    What(HandWhat),
    Look(HandLook),
    /// A field was pressed.
    Pointed(HandField, Typed),
    /// The frame on screen is one end.
    Here(HandField),
}

pub(super) const WORDS: Words = Words {
    title: "Hand over what is on screen",
    about: "It needs consent, is entered in the list of what was made, and goes when consent is \
            withdrawn. It tells nothing of place, day or device.",
    go: "Hand it over: where to … (Enter)",
    consent: "It needs consent for what it is for:",
    refused: ["It may not be handed over.", "Note what was agreed to, then hand it over."],
    again: "Ask once more (Enter)",
};

impl HandWhat {
    pub(super) const ALL: [Self; 2] = [Self::Still, Self::Replay];

    pub(super) const fn says(self) -> &'static str {
        match self {
            Self::Still => "A still of this frame",
            Self::Replay => "A replay that stops on this frame",
        }
    }

    pub(super) const fn other(self) -> Self {
        match self {
            Self::Still => Self::Replay,
            Self::Replay => Self::Still,
        }
    }
}

impl HandLook {
    pub(super) const ALL: [Self; 3] = [Self::Drawn, Self::Picture, Self::Lines];

    pub(super) const fn says(self) -> &'static str {
        match self {
            Self::Drawn => "With what was measured",
            Self::Picture => "The picture alone",
            Self::Lines => "Lines instead of the child",
        }
    }

    pub(super) const fn ground(self) -> Ground {
        match self {
            Self::Drawn | Self::Picture => Ground::Picture,
            Self::Lines => Ground::Lines,
        }
    }
}

impl HandField {
    pub(super) const ALL: [Self; 3] = [Self::First, Self::Last, Self::Caption];
}

impl HandForm {
    pub(super) const fn line_mut(&mut self, field: HandField) -> &mut Line {
        &mut self.lines[field as usize]
    }

    /// Returns the frames that are handed over, or what is wrong with what is written.
    pub(super) fn frames(&self) -> Result<[FrameIndex; 2], String> {
        if self.what == HandWhat::Still {
            return Ok([self.here; 2]);
        }
        let [from, to, _] = &self.lines;
        let frames = span::frames([from, to], self.last)?;
        if !(frames[0]..=frames[1]).contains(&self.here) {
            let here = self.here;
            return Err(format!("It stops on frame {here}, which has to be one of them."));
        }
        Ok(frames)
    }

    /// Returns whether anything was measured on the frames that are handed over.
    pub(super) fn is_measured(&self) -> bool {
        let Ok([from, to]) = self.frames() else { return false };
        self.drawings.frames().any(|k| (from..=to).contains(&k.into()))
    }

    /// Returns what is to be seen: where nothing was measured, the picture alone.
    pub(super) fn look(&self) -> HandLook {
        if self.is_measured() { self.look } else { HandLook::Picture }
    }
}
