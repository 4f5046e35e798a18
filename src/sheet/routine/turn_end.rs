//! Turns that were read beyond their end: the first heel drop ends a turn where the book says so.

use std::collections::BTreeMap;

use crate::{
    marks::{Mark, Quantity, What},
    rulebook::TurnEnd,
    sheet::model::{Line, remark},
};

use super::scene::Scene;

/// Returns a line for every turn that was read on a frame after the first heel drop of it.
pub(crate) fn read_past(scene: &Scene<'_>) -> Vec<Line> {
    // The first heel drop of each element; the first of two at one instant.
    let mut drops: BTreeMap<usize, &Mark> = BTreeMap::new();
    for sight in scene.sights.iter().filter(|sight| sight.mark.what == What::HeelDrop) {
        let Some(act) = sight.act else { continue };
        let first = drops.entry(act).or_insert(sight.mark);
        if sight.mark.at.order() < first.at.order() {
            *first = sight.mark;
        }
    }
    drops.into_iter().filter_map(|(act, first)| of_act(scene, act, first)).collect()
}

fn of_act(scene: &Scene<'_>, place: usize, first: &Mark) -> Option<Line> {
    let act = &scene.acts[place];
    let ends = |rule: &&crate::rulebook::Angle| {
        rule.quantity == Quantity::Turn && rule.ends == TurnEnd::FirstHeelDrop
    };
    let rule = *act.angles.iter().find(|rule| ends(rule))?;
    let read = act.readings.get(&Quantity::Turn)?.at.frames().pop()?;
    if (read.ticks, read.index) <= first.at.order() {
        return None;
    }
    let said = format!(
        "{}: {} ends the turn, and it was read on a later frame; read it there.",
        scene.name_of(place),
        rule.ends.words()
    );
    let frames = scene.frames.at(&first.at);
    Some(remark(("turn-end", "Read after the turn ended"), said, frames, Some(act.mark.id)))
}
