//! Moments that elements ask for and that nobody has set yet.

use std::collections::BTreeMap;

use crate::{
    marks::What,
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
            if own.get(&act).is_some_and(|own| own.iter().any(|what| is_set(*moment, what))) {
                continue;
            }
            let said = format!("{}: the {} is not set yet.", element.name, word(*moment));
            let mark = scene.acts[act].mark;
            let frames = scene.frames.at(&mark.at);
            lines.push(remark(("moment", "A moment still to be set"), said, frames, Some(mark.id)));
        }
    }
    lines
}

const fn is_set(moment: Moment, what: &What) -> bool {
    match moment {
        Moment::HandContact => matches!(what, What::HandContact { .. }),
        Moment::HandRelease => matches!(what, What::HandRelease),
        Moment::HeelLift => matches!(what, What::HeelLift),
        Moment::HeelDrop => matches!(what, What::HeelDrop),
        Moment::Landing => matches!(what, What::Landing { .. }),
    }
}

const fn word(moment: Moment) -> &'static str {
    match moment {
        Moment::HandContact => "first contact of the hands",
        Moment::HandRelease => "release of the hands",
        Moment::HeelLift => "lift of the heel",
        Moment::HeelDrop => "drop of the heel",
        Moment::Landing => "landing",
    }
}
