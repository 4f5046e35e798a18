//! A compulsory routine beside its text: what was left out, added, or done in another order.

use crate::{
    rulebook::Text,
    sheet::{
        credit::earned::{Earned, State},
        model::{Line, Status, remark},
        routine::{common_order::common_order, scene::Scene},
    },
    units::Points,
};

use super::charge::Charge;

/// Returns what the routine costs where it differs from its text; nothing where the book has none.
///
/// The elements in the text's order are the longest such list that the routine holds. Of what is
/// left, the same element on both sides was done in another place; the rest was left out or added.
pub(crate) fn differences(scene: &Scene<'_>, earned: &[Earned<'_>]) -> Vec<Charge> {
    let Some(text) = scene.book.text_of(scene.event, scene.division) else { return Vec::new() };
    let mut shown: Vec<usize> =
        (0..earned.len()).filter(|act| earned[*act].state != State::NotShown).collect();
    let mut wanted: Vec<&str> = text.elements.iter().map(String::as_str).collect();
    let asked: Vec<_> = wanted.iter().map(|element| family(scene, element)).collect();
    let done: Vec<_> = shown.iter().map(|act| family(scene, scene.acts[*act].id)).collect();
    for (place, at) in common_order(&asked, &done).into_iter().rev() {
        wanted.remove(place);
        shown.remove(at);
    }
    let mut charges = Vec::new();
    for element in wanted {
        let is_it = |act: &usize| family(scene, scene.acts[*act].id) == family(scene, element);
        match shown.iter().position(is_it) {
            Some(at) => charges.push(swapped(scene, text, shown.remove(at))),
            None => charges.push(left_out(scene, text, element)),
        }
    }
    charges.extend(shown.into_iter().map(|act| added(scene, text, act)));
    charges.retain(|charge| charge.line.amount > Points::ZERO);
    charges
}

/// Returns what tells an element from others: its family, or its id where the book has none.
fn family<'b>(scene: &Scene<'b>, element: &'b str) -> Result<&'b str, &'b str> {
    scene.book.element(scene.event, element).map(|known| known.family.as_str()).ok_or(element)
}

fn left_out(scene: &Scene<'_>, text: &Text, element: &str) -> Charge {
    let known = scene.book.element(scene.event, element);
    let worth = known.map(|known| scene.book.worth(known, scene.division)).unwrap_or_default();
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
    Charge::new(line, act)
}
