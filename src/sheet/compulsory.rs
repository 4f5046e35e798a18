//! A compulsory routine beside its text: what was left out, added, or done in another order.

use crate::{
    rulebook::{Counts, Text},
    units::Points,
};

use super::{
    credit::{Earned, State},
    deduct::{Charge, remark},
    model::{Line, Status},
    scene::Scene,
};

/// Returns what the routine costs where it differs from its text; nothing where the book has none.
///
/// The elements in the text's order are the longest such list that the routine holds. Of what is
/// left, the same element on both sides was done in another place; the rest was left out or added.
pub fn differences(scene: &Scene<'_>, earned: &[Earned<'_>]) -> Vec<Charge> {
    let Some(text) = scene.book.text_of(scene.event, scene.division) else { return Vec::new() };
    let mut shown: Vec<usize> =
        (0..earned.len()).filter(|act| earned[*act].state != State::NotShown).collect();
    let mut wanted: Vec<&str> = text.elements.iter().map(String::as_str).collect();
    for (place, at) in in_order(scene, &wanted, &shown).into_iter().rev() {
        wanted.remove(place);
        shown.remove(at);
    }
    let mut charges = Vec::new();
    for element in wanted {
        match shown.iter().position(|act| is_same(scene, element, *act)) {
            Some(at) => charges.push(swapped(scene, text, shown.remove(at))),
            None => charges.push(left_out(scene, text, element)),
        }
    }
    charges.extend(shown.into_iter().map(|act| added(scene, text, act)));
    charges.retain(|charge| charge.line.amount > Points::ZERO);
    charges
}

/// Returns the places of the longest list of elements that both have in one order.
fn in_order(scene: &Scene<'_>, wanted: &[&str], shown: &[usize]) -> Vec<(usize, usize)> {
    let mut longest = vec![vec![0_usize; shown.len() + 1]; wanted.len() + 1];
    for place in (0..wanted.len()).rev() {
        for at in (0..shown.len()).rev() {
            longest[place][at] = if is_same(scene, wanted[place], shown[at]) {
                longest[place + 1][at + 1] + 1
            } else {
                longest[place + 1][at].max(longest[place][at + 1])
            };
        }
    }
    let (mut place, mut at, mut pairs) = (0, 0, Vec::new());
    while place < wanted.len() && at < shown.len() {
        if is_same(scene, wanted[place], shown[at]) {
            pairs.push((place, at));
            (place, at) = (place + 1, at + 1);
        } else if longest[place + 1][at] >= longest[place][at + 1] {
            place += 1;
        } else {
            at += 1;
        }
    }
    pairs
}

/// Returns whether the act shows the element, or one of its family.
fn is_same(scene: &Scene<'_>, element: &str, act: usize) -> bool {
    let act = &scene.acts[act];
    let family = || scene.book.element(scene.event, element).map(|known| &known.family);
    act.id == element || act.element.is_some_and(|shown| Some(&shown.family) == family())
}

fn left_out(scene: &Scene<'_>, text: &Text, element: &str) -> Charge {
    let known = scene.book.element(scene.event, element);
    let worth = known.map(|known| scene.book.worth(known)).unwrap_or_default();
    let name = known.map_or(element, |known| known.name.as_str());
    let amount = text.left_out + worth.scaled(text.left_out_value);
    charge(scene, text, (None, amount), format!("{name} is left out."))
}

fn swapped(scene: &Scene<'_>, text: &Text, act: usize) -> Charge {
    let said = format!("{} stands in another place of the text.", scene.name_of(act));
    charge(scene, text, (Some(act), text.swapped), said)
}

fn added(scene: &Scene<'_>, text: &Text, act: usize) -> Charge {
    let said = format!("{} is not in the text.", scene.name_of(act));
    charge(scene, text, (Some(act), text.added), said)
}

fn charge(
    scene: &Scene<'_>,
    text: &Text,
    (act, amount): (Option<usize>, Points),
    said: String,
) -> Charge {
    let mark = act.map(|act| scene.acts[act].mark);
    let frames = mark.map_or_else(|| scene.frames.span(), |mark| scene.frames.at(&mark.at));
    let line = remark((&text.id, &text.label), said, frames, mark.map(|mark| mark.id));
    let page = text.page.clone();
    let line = Line { amount, status: Status::Taken, page, ..line };
    Charge { line, act, group: String::new(), counts: Counts::Each, void: false }
}
