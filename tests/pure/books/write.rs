//! Writing a routine down in a test: each mark ten frames after the one before.

use std::collections::BTreeMap;

use stillcall::{
    marks::{
        At, BodyPart, Call, CallAnswer, ClipFacts, Contact, Facing, How, Id, LandingOn, Manner,
        Mark, Phase, Quantity, Reading, Routine, Seen, Sheaf, What,
    },
    units::{FrameIndex, FrameRef, Magnitude, Orientation, PixelShape, Ticks, TimeBase, Upright},
};

/// A routine of uneven bars under test book P and the league's: six low parts with the cast, and all
/// that is asked for.
pub(crate) const BARS: [&str; 8] = [
    "pull-over",
    "cast",
    "back-hip-circle",
    "squat-on",
    "jump-to-high-bar",
    "tap-swing",
    "counter-swing",
    "tap-swing-dismount",
];

/// A routine being written down.
pub(crate) struct Writer {
    pub sheaf: Sheaf,
    last_element: Id,
    planned: bool,
}

/// Begins a routine of the event in the division.
#[allow(clippy::unwrap_used, reason = "a test that cannot be set up has failed")]
pub(crate) fn write(event: &str, division: &str) -> Writer {
    let routine = Routine {
        event: event.into(),
        division: division.into(),
        span: Some([0, 300].map(frame)),
        ..Routine::default()
    };
    let clip = ClipFacts {
        name: "clip.mp4".into(),
        quick_id: String::new(),
        content_hash: None,
        time_base: TimeBase::new(1, 900).unwrap(),
        upright: Upright {
            coded_width: 640,
            coded_height: 360,
            pixel: PixelShape::SQUARE,
            orientation: Orientation::UPRIGHT,
        },
        orientation_override: None,
        assumed_times: false,
        unknown: BTreeMap::default(),
    };
    let sheaf = Sheaf { clip: Some(clip), routine, ..Sheaf::default() };
    Writer { sheaf, last_element: Id(0), planned: false }
}

/// Writes all of [`BARS`] but the cast.
pub(crate) fn bars_but_the_cast(division: &str) -> Writer {
    let others: Vec<&str> = BARS.into_iter().filter(|&element| element != "cast").collect();
    write("bars", division).does(&others)
}

/// Begins a routine without a clip.
pub(crate) fn plan(event: &str, division: &str) -> Writer {
    let mut writer = write(event, division);
    writer.sheaf.clip = None;
    writer.sheaf.routine.span = None;
    writer.planned = true;
    writer
}

/// A frame of a clip of 30 frames and 900 ticks a second.
fn frame(index: u64) -> FrameRef {
    let ticks = Ticks(index as i64 * 30);
    FrameRef { ticks, index: FrameIndex(index), field: None, lo: ticks, hi: ticks }
}

/// A frame at so many ticks of 1/900 s.
pub(crate) fn at(ticks: i64) -> FrameRef {
    let index = (ticks / 30) as u64;
    let ticks = Ticks(ticks);
    FrameRef { ticks, index: FrameIndex(index), field: None, lo: ticks, hi: ticks }
}

/// Makes the last mark last so many ticks.
pub(crate) fn lasting(writer: Writer, ticks: i64) -> Sheaf {
    let mut sheaf = writer.done();
    let last = sheaf.marks.last_mut().unwrap();
    let from = last.at.frame().unwrap().ticks.0;
    last.at = At::Span(at(from), at(from + ticks));
    sheaf
}

impl Writer {
    fn at(&self) -> At {
        let place = self.sheaf.highest_id().0 + 1;
        if self.planned {
            return At::Place(place as u32);
        }
        At::Frame(frame(place * 10))
    }

    fn mark(mut self, what: What, seen: Seen) -> Self {
        let (id, at) = (Id(self.sheaf.highest_id().0 + 1), self.at());
        if matches!(what, What::Element { .. }) {
            self.last_element = id;
        }
        self.sheaf.marks.push(Mark { id, at, what, seen, of: None, note: String::new() });
        self
    }

    pub(crate) fn seen(self, what: What) -> Self {
        self.mark(what, Seen::Yes)
    }

    pub(crate) fn maybe(self, what: What) -> Self {
        self.mark(what, Seen::CantTell)
    }

    pub(crate) fn does(mut self, elements: &[&str]) -> Self {
        for element in elements {
            self = self.seen(What::Element { element: (*element).into() });
        }
        self
    }

    pub(crate) fn call(mut self, rule: &str, answer: CallAnswer) -> Self {
        let (id, at) = (Id(self.sheaf.highest_id().0 + 1), self.at());
        let of = self.last_element;
        self.sheaf.calls.push(Call { id, of, asks: rule.into(), answer, at });
        self
    }

    pub(crate) fn met(self, rule: &str) -> Self {
        self.call(rule, CallAnswer::Met)
    }

    pub(crate) fn not_met(self, rule: &str) -> Self {
        self.call(rule, CallAnswer::NotMet)
    }

    pub(crate) fn reads(mut self, quantity: Quantity, value: f64, u: f64) -> Self {
        let (id, at) = (Id(self.sheaf.highest_id().0 + 1), self.at());
        let (of, value, u) = (self.last_element, Magnitude(value), Magnitude(u));
        let (points, how) = (Vec::new(), How::default());
        self.sheaf.readings.push(Reading { id, of, quantity, value, u, at, points, how });
        self
    }

    #[allow(clippy::unwrap_used, reason = "a test that cannot be set up has failed")]
    pub(crate) fn fault(self, fault: &str, amount: Option<&str>) -> Self {
        let amount = amount.map(|amount| amount.parse().unwrap());
        self.seen(What::Fault { fault: fault.into(), amount })
    }

    pub(crate) fn hands(self, turn: u16) -> Self {
        self.seen(What::HandContact { turn: Some(turn) })
    }

    pub(crate) fn touches(self, part: BodyPart, phase: Phase, manner: Manner) -> Self {
        self.seen(What::Contact(Contact { part, phase, manner }))
    }

    pub(crate) fn lands(self, on: LandingOn, facing: Facing, turn: u16) -> Self {
        self.seen(What::Landing { on, facing: Some(facing), turn: Some(turn) })
    }

    pub(crate) fn done(self) -> Sheaf {
        self.sheaf
    }
}
