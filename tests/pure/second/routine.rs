//! A routine as the second evaluator reads it, and as marks for the program.

use std::collections::BTreeMap;

use stillcall::{
    marks::{At, Call, CallAnswer, How, Id, Mark, Quantity, Reading, Seen, Sheaf, What as Marked},
    units::{Magnitude, Points},
};

use crate::books::write::{at, write};

/// What was done and seen, in its order.
#[derive(Clone, Debug, Default)]
pub(super) struct Done {
    pub event: String,
    pub division: String,
    pub facts: BTreeMap<String, String>,
    /// How long it took in ticks of 1/900 s.
    pub ticks: i64,
    pub steps: Vec<Step>,
}

#[derive(Clone, Debug)]
pub(super) struct Step {
    pub what: What,
    /// Whether the picture leaves it open.
    pub is_open: bool,
    /// How long it lasted in ticks; 0 where it was marked on one frame.
    pub lasts: i64,
    /// Ticks since the step before.
    pub pause: i64,
    /// Quantities that were read without doubt.
    pub readings: Vec<(Quantity, f64)>,
    /// What a person decided of angle rules.
    pub calls: Vec<(String, bool)>,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) enum What {
    Element(String),
    /// A fault and the amount that the judge chose, in thousandths.
    Fault(String, Option<i64>),
    /// Anything that has a mark of its own.
    Seen(Marked),
}

impl Step {
    pub(super) fn new(what: What) -> Self {
        let (readings, calls) = (Vec::new(), Vec::new());
        Self { what, is_open: false, lasts: 0, pause: 300, readings, calls }
    }
}

impl Done {
    /// The id that the mark of a step has.
    pub(super) fn id(step: usize) -> Id {
        Id(step as u64 + 1)
    }

    /// The routine in one line for each step.
    pub(super) fn told(&self) -> String {
        let times = self.times();
        let step = |(at, step): (usize, &Step)| {
            let open = if step.is_open { " perhaps" } else { "" };
            let Step { what, lasts, readings, calls, .. } = step;
            format!("{at}: {what:?}{open} at {} for {lasts} {readings:?} {calls:?}", times[at])
        };
        let steps: Vec<String> = self.steps.iter().enumerate().map(step).collect();
        let Self { division, facts, ticks, .. } = self;
        format!("{division} {facts:?} {ticks} ticks\n{}", steps.join("\n"))
    }

    /// When each step begins, in ticks.
    pub(super) fn times(&self) -> Vec<i64> {
        let mut now = 0;
        let mut begins = Vec::new();
        for step in &self.steps {
            now += step.pause;
            begins.push(now);
            now += step.lasts;
        }
        begins
    }

    pub(super) fn sheaf(&self) -> Sheaf {
        let mut sheaf = write(&self.event, &self.division).done();
        sheaf.routine.facts = self.facts.clone();
        sheaf.routine.span = Some([at(0), at(self.ticks)]);
        let mut next = self.steps.len() as u64 + 1;
        for (place, (step, from)) in self.steps.iter().zip(self.times()).enumerate() {
            let id = Self::id(place);
            let when = match step.lasts {
                0 => At::Frame(at(from)),
                lasts => At::Span(at(from), at(from + lasts)),
            };
            let what = match &step.what {
                What::Element(element) => Marked::Element { element: element.clone() },
                What::Fault(fault, amount) => {
                    Marked::Fault { fault: fault.clone(), amount: amount.map(Points) }
                }
                What::Seen(seen) => seen.clone(),
            };
            let seen = if step.is_open { Seen::CantTell } else { Seen::Yes };
            let note = String::new();
            sheaf.marks.push(Mark { id, at: when, what, seen, of: None, note });
            for (quantity, value) in &step.readings {
                let (value, u, quantity) = (Magnitude(*value), Magnitude(0.0), *quantity);
                let (points, how) = (Vec::new(), How::default());
                let own = Id(next);
                let reading =
                    Reading { id: own, of: id, quantity, value, u, at: when, points, how };
                sheaf.readings.push(reading);
                next += 1;
            }
            for (asks, is_met) in &step.calls {
                let answer = if *is_met { CallAnswer::Met } else { CallAnswer::NotMet };
                let asks = asks.clone();
                sheaf.calls.push(Call { id: Id(next), of: id, asks, answer, at: when });
                next += 1;
            }
        }
        sheaf
    }
}
