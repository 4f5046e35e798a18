use serde::{Deserialize, Serialize};

use crate::units::Orientation;

/// Seconds that it may take: on the clock of who waits, and of the processor.
pub(super) const SECONDS: u64 = 30;

/// A picture that is wished for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SmallWish {
    /// Which frame, counted from 0.
    pub frame: usize,
    /// How high it is to be, in pixels, at least 1.
    pub height: u32,
    /// How it is turned, where a person has said it.
    pub turn: Option<Orientation>,
}
