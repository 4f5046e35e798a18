//! The words that every book shares: swing, fall, contacts, landings, heels.

use crate::{
    marks::{BodyPart, Contact, Facing, LandingOn, Manner, Phase, What},
    units::capitalised,
};

use super::offer::{Entry, Offer, Rank};

/// Returns what a first word with further words means: contacts, landings, hands.
pub(super) fn composed(words: &[String], phase: Phase) -> Vec<Offer> {
    let found = contact(words, phase).or_else(|| landing(words)).or_else(|| hands(words));
    found.into_iter().map(|(what, label)| offer(what, &label)).collect()
}

/// Returns the moments whose name begins with the words.
pub(super) fn simple(words: &[String]) -> Vec<(Rank, Offer)> {
    let text = words.join(" ");
    SIMPLE
        .iter()
        .filter_map(|(others, make)| {
            let what = make();
            let own = what.name();
            let mut names = others.iter().chain([&own]);
            let exact = names.clone().any(|name| **name == text);
            let words = format!("{text} ");
            let whole = names.clone().any(|name| name.starts_with(&words));
            let begun = names.any(|name| name.starts_with(&text));
            // As elements are ranked: whole words come before those that merely begin alike.
            let rank = match (exact, whole) {
                (true, _) => 0,
                (_, true) => 1,
                _ => begun.then_some(3)?,
            };
            Some((rank, offer(what, own)))
        })
        .collect()
}

type Make = fn() -> What;

/// What needs no further words, with other names than its own by which it is found.
const SIMPLE: &[(&[&str], Make)] = &[
    (&[], || What::Swing),
    (&[], || What::Fall),
    (&["assistance", "help"], || What::Spot),
    (&["pause"], || What::Stop),
    (&["hands", "contact"], || What::HandContact { turn: None }),
    (&["release", "repulsion"], || What::HandRelease),
    (&[], || What::HeelLift),
    (&[], || What::HeelDrop),
    (&[], || What::Landing { on: LandingOn::Feet, facing: None, turn: None }),
];

fn offer(what: What, label: &str) -> Offer {
    let label = capitalised(label);
    Offer { entry: Entry::Mark(what, String::new()), label, aside: String::new(), allowed: true }
}

/// Reads `contact head brush`, `contact back support second flight`; order after the first word
/// does not matter.
fn contact(words: &[String], phase: Phase) -> Option<(What, String)> {
    let (first, rest) = words.split_first()?;
    if !matches!(first.as_str(), "contact" | "touch" | "brush") || rest.is_empty() {
        return None;
    }
    let part = rest.iter().find_map(|word| body_part(word))?;
    let text = rest.join(" ").replace(['\'', '’'], "");
    let manner = if first == "brush" || text.contains("brush") {
        Manner::Brush
    } else if text.contains("cant tell") || text.contains("unsure") {
        Manner::CantTell
    } else if text.contains("support") {
        Manner::Support
    } else {
        Manner::CantTell
    };
    let phase = stated_phase(&text).unwrap_or(phase);
    let label = crate::window::words::contact(Contact { part, phase, manner });
    Some((What::Contact(Contact { part, phase, manner }), label))
}

fn body_part(word: &str) -> Option<BodyPart> {
    Some(match word {
        "head" => BodyPart::Head,
        "back" => BodyPart::Back,
        "seat" => BodyPart::Seat,
        "hips" | "hip" => BodyPart::Hips,
        "knees" | "knee" => BodyPart::Knees,
        "feet" | "foot" => BodyPart::Feet,
        "hand" | "hands" => BodyPart::Hand,
        "body" => BodyPart::Body,
        _ => return None,
    })
}

fn stated_phase(text: &str) -> Option<Phase> {
    if text.contains("first") {
        Some(Phase::FirstFlight)
    } else if text.contains("second") {
        Some(Phase::SecondFlight)
    } else if text.contains("landing") {
        Some(Phase::Landing)
    } else {
        None
    }
}

/// Reads `landing feet away`, `landing stack`, `landing feet towards 180`.
fn landing(words: &[String]) -> Option<(What, String)> {
    let (first, rest) = words.split_first()?;
    if !matches!(first.as_str(), "landing" | "land" | "lands") || rest.is_empty() {
        return None;
    }
    let mut on = LandingOn::Feet;
    let mut facing = None;
    let mut turn = None;
    for word in rest {
        match word.as_str() {
            "feet" | "on" => on = LandingOn::Feet,
            "apparatus" | "stack" | "table" | "support" => on = LandingOn::Apparatus,
            "body" | "back" | "seat" => on = LandingOn::Body,
            "away" => facing = Some(Facing::Away),
            "towards" | "toward" | "facing" => facing = Some(Facing::Towards),
            "side" | "sideways" => facing = Some(Facing::Side),
            degrees => turn = Some(whole_turn(degrees)?),
        }
    }
    let what = What::Landing { on, facing, turn };
    Some((what.clone(), crate::window::words::moment(&what)))
}

/// Reads `contact 180`, `hands 0`: the turn before the hands.
fn hands(words: &[String]) -> Option<(What, String)> {
    let [first, degrees] = words else { return None };
    if !matches!(first.as_str(), "contact" | "hands" | "hand") {
        return None;
    }
    let what = What::HandContact { turn: Some(whole_turn(degrees)?) };
    Some((what.clone(), crate::window::words::moment(&what)))
}

fn whole_turn(word: &str) -> Option<u16> {
    word.trim_end_matches('°').parse().ok().filter(|degrees| *degrees <= 1440)
}
