//! Marks as a judge would have written them, pinned to frames that the clip's truth names.

use std::collections::BTreeMap;

use sample_clips_generator::{
    Truth,
    truth::{Event, EventKind},
};
use stillcall::{
    footage::Footage,
    marks::{
        self, At, BodyPart, ClickedPoint, ClipFacts, Contact, Facing, How, Id, LandingOn, Manner,
        Mark, Phase, Quantity, Reading, Seen, Sheaf, What,
    },
    rulebook::Book,
    units::{Magnitude, Points, Shown},
};

/// Code of the judge of the samples.
pub(super) const JUDGE: &str = "J-2";

/// Writes marks at frames of one clip.
pub(super) struct Writer<'a> {
    truth: &'a Truth,
    footage: &'a Footage,
    sheaf: Sheaf,
    last: Id,
}

impl<'a> Writer<'a> {
    /// Begins the marks of one athlete's routine.
    pub(super) fn begin(
        (event, division, athlete): (&str, &str, &str),
        book: &Book,
        (truth, footage): (&'a Truth, &'a Footage),
    ) -> Self {
        let facts = footage.facts();
        let clip = ClipFacts {
            name: truth.clip.file.clone(),
            quick_id: footage.content_id().unwrap_or_default(),
            content_hash: None,
            time_base: facts.time_base,
            upright: facts.upright,
            orientation_override: None,
            assumed_times: facts.has_assumed_times(),
            unknown: BTreeMap::default(),
        };
        let table = footage.table();
        let last = table.len().saturating_sub(1);
        let routine = marks::Routine {
            id: "1".to_owned(),
            span: table.frame_ref(0).zip(table.frame_ref(last)).map(|(first, last)| [first, last]),
            event: event.to_owned(),
            division: division.to_owned(),
            athlete: athlete.to_owned(),
            judge: JUDGE.to_owned(),
            date: "2026-10-17".to_owned(),
            book: book.id.clone(),
            edition: book.edition.clone(),
            book_hash: book.hash.clone(),
            ..Default::default()
        };
        let sheaf = Sheaf { clip: Some(clip), routine, ..Sheaf::default() };
        Self { truth, footage, sheaf, last: Id(0) }
    }

    /// Returns what was written.
    pub(super) fn finish(mut self) -> Sheaf {
        marks::renew(&mut self.sheaf);
        self.sheaf
    }

    /// Writes an element at a frame.
    pub(super) fn element(&mut self, element: &str, frame: u64) -> Id {
        self.mark(What::Element { element: element.to_owned() }, frame, None)
    }

    /// Writes a fault of an element, with an amount where the book leaves a choice.
    pub(super) fn fault(&mut self, fault: &str, amount: Option<Points>, (frame, of): (u64, Id)) {
        let fault = fault.to_owned();
        self.mark(What::Fault { fault, amount }, frame, Some(of));
    }

    /// Writes something seen that belongs to no element.
    pub(super) fn seen(&mut self, what: What, frame: u64) -> Id {
        self.mark(what, frame, None)
    }

    /// Writes that a body part touched.
    pub(super) fn contact(&mut self, part: BodyPart, (phase, manner): (Phase, Manner), frame: u64) {
        self.mark(What::Contact(Contact { part, phase, manner }), frame, None);
    }

    /// Writes the hands of a vault: the turn at contact, then the release.
    pub(super) fn hands(&mut self, turn: u16) {
        let contact = self.first(EventKind::HandContact);
        self.mark(What::HandContact { turn: Some(turn) }, contact, None);
        let release = self.last_touch();
        self.mark(What::HandRelease, release, None);
    }

    /// Writes how a vault landed.
    pub(super) fn landing(&mut self, on: LandingOn, (facing, turn): (Facing, u16), frame: u64) {
        self.mark(What::Landing { on, facing: Some(facing), turn: Some(turn) }, frame, None);
    }

    /// Writes a value stated for an element, in degrees with its standard uncertainty.
    pub(super) fn reading(
        &mut self,
        quantity: Quantity,
        [value, u]: [f64; 2],
        (frame, of): (u64, Id),
    ) {
        let (id, at) = (self.fresh_id(), self.at(frame));
        let (value, u) = (Magnitude(value), Magnitude(u));
        let points = Vec::new();
        let how = How::default();
        self.sheaf.readings.push(Reading { id, of, quantity, value, u, at, points, how });
    }

    /// Writes a line of the body that was measured: its points are clicked where the truth has the
    /// middle of the body's joints.
    pub(super) fn body_line(&mut self, how: How, (frame, of): (u64, Id)) {
        let joints = self.truth.frames.get(frame as usize).map(|frame| &frame.joints);
        let upright = &self.footage.facts().upright;
        let point = |name: &&'static str| {
            let [left, right] =
                ["left", "right"].map(|side| joints?.get(&format!("{side}_{name}"))?.px);
            let ([x, y], [u, v]) = (left?, right?);
            let coded = upright.to_coded(Shown([x.midpoint(u), y.midpoint(v)]));
            Some(ClickedPoint { name: (*name).to_owned(), coded, frame: None })
        };
        let points = ["shoulder", "hip", "knee", "toe"].iter().filter_map(point).collect();
        let (id, at, quantity) = (self.fresh_id(), self.at(frame), Quantity::BodyLine);
        let (value, u) = (Magnitude(0.0), Magnitude(0.0));
        self.sheaf.readings.push(Reading { id, of, quantity, value, u, at, points, how });
    }

    /// Returns the events of one kind, in order.
    pub(super) fn events(&self, kind: EventKind) -> impl Iterator<Item = &Event> {
        self.truth.events.iter().filter(move |event| event.kind == kind)
    }

    /// Returns the frame of the first event of one kind; the first frame when there is none.
    pub(super) fn first(&self, kind: EventKind) -> u64 {
        self.events(kind).next().map_or(0, |event| event.frame)
    }

    /// Returns the last frame on which a hand still touches.
    pub(super) fn last_touch(&self) -> u64 {
        self.events(EventKind::HandRelease).last().map_or(0, |event| event.frame_before)
    }

    /// Returns the frame shown at a time in seconds.
    pub(super) fn frame_at(&self, seconds: f64) -> u64 {
        let time_base = self.footage.facts().time_base;
        self.footage.table().at(time_base.ticks_at(seconds)) as u64
    }

    fn mark(&mut self, what: What, frame: u64, of: Option<Id>) -> Id {
        let (id, at) = (self.fresh_id(), what.happened(self.at(frame)));
        self.sheaf.marks.push(Mark { id, at, what, seen: Seen::Yes, of, note: String::new() });
        id
    }

    fn fresh_id(&mut self) -> Id {
        self.last = Id(self.last.0 + 1);
        self.last
    }

    /// Pins to a frame; a frame beyond the clip, which only a changed generator could name,
    /// becomes the place in the order.
    fn at(&self, frame: u64) -> At {
        match self.footage.table().frame_ref(frame as usize) {
            Some(frame) => At::Frame(frame),
            None => At::Place(frame as u32),
        }
    }
}
