use serde::{Deserialize, Serialize};

use super::Ticks;

/// One field of an interlaced frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Field {
    /// The field with the even picture rows, counted from 0.
    Top,
    /// The field with the odd picture rows.
    Bottom,
}

/// The frame a person looked at, kept so that it is found again and that a sheet never needs
/// the clip.
///
/// The time stamp decides which frame is meant; the index decides where two frames share it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FrameRef {
    /// When the frame is shown.
    pub ticks: Ticks,
    /// Place in presentation order, counted from 0.
    pub index: u64,
    /// The field, where one field of an interlaced frame was meant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub field: Option<Field>,
    /// The earliest instant at which the event seen on this frame can have happened.
    pub lo: Ticks,
    /// The latest such instant.
    pub hi: Ticks,
}

impl FrameRef {
    /// Returns what frame references are ordered by.
    pub fn order(&self) -> (Ticks, u64, Option<Field>) {
        (self.ticks, self.index, self.field)
    }
}
