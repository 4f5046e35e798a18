//! A routine as its steps, before its marks have times and numbers.

use std::collections::BTreeMap;

use crate::{
    marks::{
        At, Call, CallAnswer, ClipFacts, How, Id, Mark, Quantity, Reading, Routine, Seen, Sheaf,
        What,
    },
    units::{FrameIndex, FrameRef, Magnitude, Orientation, PixelShape, Ticks, TimeBase, Upright},
};

/// A routine.
#[derive(Clone)]
pub(super) struct Plan {
    pub(super) event: String,
    pub(super) division: String,
    pub(super) steps: Vec<Step>,
    pub(super) facts: BTreeMap<String, String>,
    /// When the exercise ends, in milliseconds; with its last mark where nothing is said.
    pub(super) end: Option<i64>,
}

/// One mark, and what was read or called of it.
#[derive(Clone)]
pub(super) struct Step {
    pub(super) what: What,
    /// In milliseconds; 0 for a mark on one frame.
    pub(super) lasts: i64,
    /// The time from its end to the next one, in milliseconds.
    pub(super) gap: i64,
    pub(super) read: Vec<Read>,
}

/// One angle of an element, as it was read or called.
#[derive(Clone)]
pub(super) struct Read {
    pub(super) angle: String,
    pub(super) quantity: Quantity,
    pub(super) said: Said,
}

#[derive(Clone)]
pub(super) enum Said {
    Value(f64),
    Called(CallAnswer),
}

impl Plan {
    /// Returns the marks of the routine, one after the other, with its facts.
    pub(super) fn sheaf(&self, base: TimeBase) -> Sheaf {
        let mut sheaf = Sheaf { clip: Some(clip(base)), ..Sheaf::default() };
        let mut now = 0;
        let mut next = 1;
        let mut id = || {
            next += 1;
            Id(next)
        };
        for step in &self.steps {
            let (from, of) = (frame(now), id());
            now += step.lasts.max(10);
            let at = if step.lasts == 0 { At::Frame(from) } else { At::Span(from, frame(now)) };
            let (what, note) = (step.what.clone(), String::new());
            sheaf.marks.push(Mark { id: of, at, what, seen: Seen::Yes, of: None, note });
            for read in &step.read {
                let (id, at) = (id(), At::Frame(frame(now)));
                match read.said {
                    Said::Called(answer) => {
                        let asks = read.angle.clone();
                        sheaf.calls.push(Call { id, of, asks, answer, at });
                    }
                    Said::Value(value) => {
                        let (value, u) = (Magnitude(value), Magnitude(0.0));
                        let (quantity, points, how) = (read.quantity, Vec::new(), How::default());
                        let reading = Reading { id, of, quantity, value, u, at, points, how };
                        sheaf.readings.push(reading);
                    }
                }
            }
            now += step.gap;
        }
        sheaf.routine = Routine {
            event: self.event.clone(),
            division: self.division.clone(),
            facts: self.facts.clone(),
            span: Some([frame(0), frame(self.end.unwrap_or(now))]),
            ..Routine::default()
        };
        sheaf
    }
}

fn clip(time_base: TimeBase) -> ClipFacts {
    ClipFacts {
        name: String::new(),
        quick_id: String::new(),
        content_hash: None,
        time_base,
        upright: Upright {
            coded_width: 64,
            coded_height: 36,
            pixel: PixelShape::SQUARE,
            orientation: Orientation::UPRIGHT,
        },
        orientation_override: None,
        assumed_times: false,
        unknown: BTreeMap::default(),
    }
}

fn frame(ms: i64) -> FrameRef {
    let ticks = Ticks(ms);
    let index = FrameIndex(u64::try_from(ms / 10).unwrap_or_default());
    FrameRef { ticks, index, field: None, lo: ticks, hi: ticks }
}
