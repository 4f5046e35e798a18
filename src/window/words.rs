//! Marks, frames and times in words.

use crate::{
    marks::{BodyPart, CallAnswer, Contact, Facing, LandingOn, Manner, Phase, What},
    units::{Ticks, TimeBase, capitalised},
};

/// Said of a frame as long as no full decode has confirmed its number, time and picture.
pub(super) const NOT_PROVED: &str = "not yet proved";

/// Returns what a moment is called; elements and faults go by the book's names instead.
pub(super) fn moment(what: &What) -> String {
    match what {
        What::Element { element } => element.clone(),
        What::Fault { fault, .. } => fault.clone(),
        What::HandContact { turn } => with_turn(&capitalised(what.name()), *turn),
        What::Contact(it) => contact(*it),
        What::Landing { on, facing, turn } => landing(*on, *facing, *turn),
        What::Swing
        | What::HandRelease
        | What::HeelLift
        | What::HeelDrop
        | What::Fall
        | What::Spot
        | What::Stop
        | What::Note => capitalised(what.name()),
    }
}

fn with_turn(text: &str, turn: Option<u16>) -> String {
    match turn {
        Some(degrees) => format!("{text}, turned {degrees}°"),
        None => text.to_owned(),
    }
}

fn landing(on: LandingOn, facing: Option<Facing>, turn: Option<u16>) -> String {
    let on = match on {
        LandingOn::Feet => "Lands on the feet",
        LandingOn::Apparatus => "Ends on the apparatus",
        LandingOn::Body => "Lands on the body",
    };
    let facing = match facing {
        Some(Facing::Away) => ", facing away",
        Some(Facing::Towards) => ", facing it",
        Some(Facing::Side) => ", sideways",
        None => "",
    };
    with_turn(&format!("{on}{facing}"), turn)
}

/// Returns a contact in words.
pub(super) fn contact(contact: Contact) -> String {
    let part = match contact.part {
        BodyPart::Head => "Head",
        BodyPart::Back => "Back",
        BodyPart::Seat => "Seat",
        BodyPart::Hips => "Hips",
        BodyPart::Knees => "Knees",
        BodyPart::Feet => "Feet",
        BodyPart::Hand => "Hand",
        BodyPart::Body => "Body",
    };
    let manner = match contact.manner {
        Manner::Brush => "brushes",
        Manner::Support => "in support",
        Manner::CantTell => "touches, brush or support can't be told",
    };
    format!("{part} {manner}, {}", phase(contact.phase))
}

/// Returns a phase in words.
pub(super) const fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::FirstFlight => "first flight",
        Phase::Support => "support",
        Phase::SecondFlight => "second flight",
        Phase::Landing => "landing",
    }
}

/// Returns a decision in words.
pub(super) const fn answer(answer: CallAnswer) -> &'static str {
    match answer {
        CallAnswer::Met => "met",
        CallAnswer::NotMet => "not met",
        CallAnswer::CantTell => "can't tell",
    }
}

/// Returns a time of the clip: `0:03.267`.
pub(super) fn clock(base: TimeBase, ticks: Ticks) -> String {
    let millis = (base.seconds(ticks) * 1000.0).round() as i64;
    let sign = if millis < 0 { "-" } else { "" };
    let millis = millis.unsigned_abs();
    format!("{sign}{}:{:02}.{:03}", millis / 60_000, millis / 1000 % 60, millis % 1000)
}

/// Returns how far one time is from another in milliseconds, with its sign: `+33 ms`.
pub(super) fn difference(base: TimeBase, from: Ticks, to: Ticks) -> String {
    let millis = ((base.seconds(to) - base.seconds(from)) * 1000.0).round() as i64;
    match millis {
        0 => "0 ms".to_owned(),
        1.. => format!("+{millis} ms"),
        _ => format!("−{} ms", millis.unsigned_abs()),
    }
}

/// Returns what went wrong as a sentence begins. What begins otherwise than with one of these words
/// may begin with the name of a file, which stays as it is.
pub(super) fn sentence(error: &str) -> String {
    let first = error.split(' ').next().unwrap_or_default();
    if FIRST_WORDS.contains(&first) { capitalised(error) } else { error.to_owned() }
}

/// Words with which errors begin.
const FIRST_WORDS: &[&str] = &[
    "another", "cannot", "deleting", "it", "no", "nobody", "nothing", "one", "some", "stopped",
    "the", "there", "these", "they", "this", "what",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn errors_begin_as_sentences_and_names_stay_as_they_are() {
        assert_eq!(sentence("cannot write a.mp4: full"), "Cannot write a.mp4: full");
        assert_eq!(sentence("no home folder"), "No home folder");
        for same in ["a.mp4: cannot be read", "/clips/a.mp4: is empty", "meet 2.mp4 is gone", ""] {
            assert_eq!(sentence(same), same);
        }
    }

    #[test]
    fn times_are_written_to_the_millisecond() {
        let base = TimeBase::new(1, 90_000).unwrap();
        assert_eq!(clock(base, Ticks(294_000)), "0:03.267");
        assert_eq!(clock(base, Ticks(90_000 * 61)), "1:01.000");
        assert_eq!(clock(base, Ticks(-9_000)), "-0:00.100");
        assert_eq!(difference(base, Ticks(0), Ticks(3003)), "+33 ms");
        assert_eq!(difference(base, Ticks(3003), Ticks(0)), "−33 ms");
    }
}
