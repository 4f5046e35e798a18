//! The sample routines: which clip, who, and what a judge writes down.

use sample_clips_generator::truth::EventKind;
use stillcall::{
    geometry::input::CameraHeight,
    marks::{BodyPart, Facing, How, LandingOn, Manner, Phase, Quantity, What},
    units::{Degrees, Points},
};

use super::writer::Writer;

/// A sample routine.
pub(super) struct Routine {
    /// Motion of the sample clips generator, and name of the clip.
    pub motion: &'static str,
    /// What there is to see.
    pub about: &'static str,
    /// Event id.
    pub event: &'static str,
    /// Division id.
    pub division: &'static str,
    /// Athlete's code.
    pub athlete: &'static str,
    /// Writes the marks.
    pub write: fn(&mut Writer<'_>),
}

const fn vault(motion: &'static str, about: &'static str, write: fn(&mut Writer<'_>)) -> Routine {
    Routine { motion, about, event: "vault", division: "redshank", athlete: "SC-11", write }
}

/// All sample routines, the one with everything first.
pub(super) const ROUTINES: &[Routine] = &[
    Routine {
        motion: "bars-routine",
        about: "cast with the heels above horizontal and the hips below",
        event: "bars",
        division: "redshank",
        athlete: "SC-07",
        write: bars_short,
    },
    Routine {
        motion: "bars-routine-clean",
        about: "the same with the cast above horizontal, landing stuck",
        event: "bars",
        division: "redshank",
        athlete: "SC-07",
        write: bars_clean,
    },
    vault("vault-handspring-clean", "handspring over the stack", |w| {
        w.hands(0);
        land(w, Facing::Away, 0);
    }),
    vault("vault-brush", "the body brushes the stack in the second flight", |w| {
        w.hands(0);
        touch(w, BodyPart::Seat, Phase::SecondFlight, Manner::Brush);
        land(w, Facing::Away, 0);
    }),
    vault("vault-landed-in-support", "lands sitting on the stack", |w| {
        w.hands(0);
        let seated = w.first(EventKind::Contact);
        w.landing(LandingOn::Apparatus, (Facing::Away, 0), seated);
    }),
    vault("vault-head-in-support", "the head touches while the hands support", |w| {
        w.hands(0);
        touch(w, BodyPart::Head, Phase::Support, Manner::Brush);
        land(w, Facing::Away, 0);
    }),
    vault("vault-half-on", "half turn on, lands facing the stack", |w| {
        w.hands(180);
        land(w, Facing::Towards, 0);
    }),
    vault("vault-half-off", "forward on, half turn off: not in this division's list", |w| {
        w.hands(0);
        land(w, Facing::Towards, 180);
    }),
    Routine {
        motion: "beam-leap",
        about: "a leap measured at its widest",
        event: "beam",
        division: "curlew",
        athlete: "SC-03",
        write: beam_leap,
    },
    Routine {
        motion: "turn-half",
        about: "a half turn from heel lift to heel drop",
        event: "floor",
        division: "redshank",
        athlete: "SC-03",
        write: half_turn,
    },
];

fn bars_short(w: &mut Writer<'_>) {
    bars(w);
    let step = w.frame_at(seconds_of(w, EventKind::Landing) + 0.8);
    w.seen(What::Fault { fault: "step".to_owned(), amount: None }, step);
}

fn bars_clean(w: &mut Writer<'_>) {
    bars(w);
}

fn bars(w: &mut Writer<'_>) {
    w.element("pull-over", w.first(EventKind::Contact));
    let cast = w.first(EventKind::CastPeak);
    let element = w.element("cast", cast);
    // The camera of this clip stands 4 degrees off square, as high as the low bar.
    let how =
        How { off_square: Some(Degrees(5.0)), height: Some(CameraHeight::Table), ..How::default() };
    w.body_line(how, (cast, element));
    w.element("back-hip-circle", w.frame_at(seconds_of(w, EventKind::CastPeak) + 0.95));
    let jump = seconds_of(w, EventKind::TakeOff);
    w.element("squat-on", w.frame_at(jump - 0.9));
    w.element("jump-to-high-bar", w.first(EventKind::TakeOff));
    let swings: Vec<u64> = w.events(EventKind::SwingPeak).map(|event| event.frame).collect();
    for (element, frame) in ["tap-swing", "counter-swing"].into_iter().zip(swings) {
        w.element(element, frame);
    }
    let dismount = w.element("tap-swing-dismount", w.last_touch());
    let landing = w.first(EventKind::Landing);
    w.fault("legs-bent", Some(Points(100)), (landing, dismount));
}

fn beam_leap(w: &mut Writer<'_>) {
    let widest = w.first(EventKind::WidestSplit);
    let degrees = w.events(EventKind::WidestSplit).next().and_then(|event| event.degrees);
    let element = w.element("split-leap", widest);
    let stated = degrees.unwrap_or_default().round();
    w.reading(Quantity::Split, [stated, 2.0], (widest, element));
}

fn half_turn(w: &mut Writer<'_>) {
    let lift = w.first(EventKind::HeelLift);
    let element = w.element("half-turn", lift);
    w.seen(What::HeelLift, lift);
    let drop = w.events(EventKind::HeelDrop).find(|event| event.frame > lift);
    let drop = drop.map_or(lift, |event| event.frame);
    w.seen(What::HeelDrop, drop);
    w.reading(Quantity::Turn, [178.0, 6.0], (drop, element));
}

fn touch(w: &mut Writer<'_>, part: BodyPart, phase: Phase, manner: Manner) {
    let frame = w.first(EventKind::Contact);
    w.contact(part, (phase, manner), frame);
}

fn land(w: &mut Writer<'_>, facing: Facing, turn: u16) {
    // The first landing is the one on the board.
    let landing = w.events(EventKind::Landing).last().map_or(0, |event| event.frame);
    w.landing(LandingOn::Feet, (facing, turn), landing);
}

fn seconds_of(w: &Writer<'_>, kind: EventKind) -> f64 {
    w.events(kind).next().map_or(0.0, |event| event.time_s)
}
