//! Moments that elements ask for and that nobody has set yet.

use std::collections::BTreeMap;

use crate::{
    marks::{LandingOn, What},
    rulebook::Moment,
    sheet::model::{Line, remark},
};

use super::scene::Scene;

/// Returns a line for every moment that is still to be set; a planned routine has none.
pub(crate) fn missing(scene: &Scene<'_>) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut own: BTreeMap<usize, Vec<&What>> = BTreeMap::new();
    for sight in &scene.sights {
        if let Some(act) = sight.act {
            own.entry(act).or_default().push(&sight.mark.what);
        }
    }
    for act in (0..scene.acts.len()).filter(|act| !scene.is_planned(*act)) {
        let Some(element) = scene.acts[act].element else { continue };
        for moment in &element.moments {
            let wanted = mark_of(*moment);
            if own.get(&act).is_some_and(|own| own.iter().any(|what| what.is_like(&wanted))) {
                continue;
            }
            let said = format!("{}: the {} is not set yet.", element.name, wanted.name());
            let mark = scene.acts[act].mark;
            let frames = scene.frames.at(&mark.at);
            lines.push(remark(("moment", "A moment still to be set"), said, frames, Some(mark.id)));
        }
    }
    lines
}

/// Returns the moment as it would be marked.
const fn mark_of(moment: Moment) -> What {
    match moment {
        Moment::HandContact => What::HandContact { turn: None },
        Moment::HandRelease => What::HandRelease,
        Moment::HeelLift => What::HeelLift,
        Moment::HeelDrop => What::HeelDrop,
        Moment::Landing => What::Landing { on: LandingOn::Feet, facing: None, turn: None },
    }
}
