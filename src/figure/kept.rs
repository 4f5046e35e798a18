//! The drawing of a reading that is kept in marks.

use super::{
    reading::{Caption, reading},
    shape::Shape,
};
use crate::{
    geometry::{HALF_WIDTH, Limit},
    marks::{Reading, Sheaf, measure_input, placing},
    units::{FrameRef, Magnitude},
};

/// Returns what is said beside a reading: its value, what it decides where a rule has a limit, and
/// what the rule asks where that is to be drawn.
pub fn caption(reading: &Reading, limit: Option<Limit>, shows_asked: bool) -> Caption {
    Caption {
        value: (reading.quantity.unit())
            .write_with(reading.value, Magnitude(reading.u.0 * HALF_WIDTH)),
        verdict: limit.map(|it| reading.decide(it)),
        asked: limit.map(|it| it.edge).filter(|_| shows_asked),
    }
}

/// Returns the drawing of a reading on one of its frames; nothing where its points make none.
pub fn kept(sheaf: &Sheaf, it: &Reading, frame: &FrameRef, said: &Caption) -> Vec<Shape> {
    let Ok(input) = measure_input(sheaf, it) else { return Vec::new() };
    let frames = placing::frames(it);
    let look = frames.iter().position(|it| it.order() == frame.order()).unwrap_or(0);
    reading(&input, look, said)
}
