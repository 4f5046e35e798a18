//! Turns that were read beyond their end: the first heel drop ends a turn where the book says so.

use crate::{
    marks::{Quantity, What},
    rulebook::TurnEnd,
    sheet::model::{Line, remark},
};

use super::scene::Scene;

/// Returns a line for every turn that was read on a frame after the first heel drop of it.
pub(crate) fn read_past(scene: &Scene<'_>) -> Vec<Line> {
    (0..scene.acts.len()).filter_map(|act| of_act(scene, act)).collect()
}

fn of_act(scene: &Scene<'_>, place: usize) -> Option<Line> {
    let act = &scene.acts[place];
    let ends = |rule: &&crate::rulebook::Angle| {
        rule.quantity == Quantity::Turn && rule.ends == TurnEnd::FirstHeelDrop
    };
    let rule = *act.angles.iter().find(|rule| ends(rule))?;
    let read = act.readings.get(&Quantity::Turn)?.at.frames().pop()?;
    let drops = scene.sights.iter().filter(|sight| sight.act == Some(place));
    let drops = drops.filter(|sight| sight.mark.what == What::HeelDrop);
    let first = drops.map(|sight| sight.mark).min_by_key(|mark| mark.at.order())?;
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
