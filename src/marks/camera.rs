//! Whether the camera stood still since the plane of a reading was clicked, as far as its marks tell.

use super::{
    model::Reading,
    placing,
    plane::{CameraSince, Moved, ReferencePlane},
};
use crate::units::FrameRef;

/// What is known of the camera since a plane was clicked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Since {
    /// It was clicked on the very frame, or nobody knows on which.
    Same,
    /// The pictures were not held against each other yet.
    NotCompared,
    /// They were, and do not tell.
    NotTold,
    /// It moved by so much, or by next to nothing.
    Told(Moved),
}

impl Since {
    /// Returns what a reader should know of it.
    pub(super) fn warning(self) -> Option<String> {
        match self {
            Self::Same => None,
            Self::Told(moved) if moved.is_still() => None,
            Self::Told(Moved { pixels, .. }) => Some(format!(
                "The camera has moved by {pixels:.0} px since the plane was clicked, which is in the \
                 uncertainty; click the plane on this frame."
            )),
            Self::NotTold => Some(
                "Whether the camera stood still since the plane was clicked does not follow from the \
                 pictures; look yourself, or click the plane on this frame."
                    .to_owned(),
            ),
            Self::NotCompared => Some(
                "Whether the camera stood still since the plane was clicked was not looked at; open \
                 the angle again with its clip."
                    .to_owned(),
            ),
        }
    }

    /// Returns it in a few words; nothing where there is nothing to say.
    pub fn words(self) -> String {
        match self {
            Self::Same => String::new(),
            Self::Told(moved) if moved.is_still() => ", camera stood still since".to_owned(),
            Self::Told(Moved { pixels, .. }) => format!(", camera moved by {pixels:.0} px since"),
            Self::NotTold => ", whether the camera stood still since is not told".to_owned(),
            Self::NotCompared => ", camera not yet looked at".to_owned(),
        }
    }
}

/// Returns the frames of a reading that are others than the plane's, and so are held against it.
pub(crate) fn to_compare(reading: &Reading, plane: &ReferencePlane) -> Vec<FrameRef> {
    let Some(own) = plane.frame else { return Vec::new() };
    let frames = placing::frames(reading).into_iter();
    frames.filter(|frame| frame.order() != own.order()).collect()
}

/// Returns what is known of the camera between a plane's frame and those of a reading in it.
pub fn since(reading: &Reading, plane: &ReferencePlane) -> Since {
    let frames = to_compare(reading, plane);
    let (false, Some(own)) = (frames.is_empty(), plane.frame) else { return Since::Same };
    let is_of_these = |it: &&CameraSince| {
        let held = |frame: &FrameRef| it.frames.iter().any(|of| of.order() == frame.order());
        it.plane.order() == own.order() && frames.iter().all(held)
    };
    match reading.how.camera.as_ref().filter(is_of_these) {
        None => Since::NotCompared,
        Some(CameraSince { moved: None, .. }) => Since::NotTold,
        Some(CameraSince { moved: Some(moved), .. }) => Since::Told(*moved),
    }
}
