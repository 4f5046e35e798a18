//! What has a beginning and an end, and how long it lasted against a limit of time.

use std::cmp::Ordering;

use crate::{
    marks::{At, Id, What},
    rulebook::{Time, TimeOf},
    units::{FrameRef, Ticks, TimeBase},
};

use super::{scene::Scene, world::World};

/// Something that has a beginning and an end.
#[derive(Clone, Copy)]
pub(crate) struct Timed {
    /// First and last frame.
    pub ends: [FrameRef; 2],
    /// The element that it belongs to.
    pub act: Option<usize>,
    /// The mark that has the span; nothing for the whole exercise.
    pub mark: Option<Id>,
    base: TimeBase,
}

/// Which limit of a rule was not kept, in milliseconds.
pub(crate) enum Breach {
    /// Less than the least.
    Short(i64),
    /// More than the most.
    Long(i64),
    /// Long enough for the warning, which costs nothing.
    Warned(i64),
}

impl Timed {
    /// Returns which limit of the rule was not kept, if any.
    pub(crate) fn against(&self, rule: &Time) -> Option<Breach> {
        let is =
            |order: Ordering| move |limit: &i64| self.base.compare(self.lasted(), *limit) == order;
        let short = rule.at_least.filter(is(Ordering::Less)).map(Breach::Short);
        let long = || rule.at_most.filter(is(Ordering::Greater)).map(Breach::Long);
        let warned = || rule.warn_at.filter(is(Ordering::Greater)).map(Breach::Warned);
        short.or_else(long).or_else(warned)
    }

    /// Returns how long it lasted, for a sentence.
    pub(crate) fn seconds(&self) -> f64 {
        self.base.seconds(self.lasted())
    }

    fn lasted(&self) -> Ticks {
        Ticks(self.ends[1].ticks.0 - self.ends[0].ticks.0)
    }
}

/// Returns what the rule times; what has no span, or no clip, is not timed.
pub(crate) fn timed(scene: &Scene<'_>, world: &World, rule: &Time) -> Vec<Timed> {
    let Some(base) = scene.sheaf.clip.as_ref().map(|clip| clip.time_base) else {
        return Vec::new();
    };
    let span = |at: &At| match at {
        At::Span(from, to) => Some([*from, *to]),
        At::Frame(_) | At::Place(_) => None,
    };
    let sights = |wanted: What| -> Vec<Timed> {
        let stand = scene.sights.iter().filter(|sight| world.stands(sight.mark.id));
        stand
            .filter(|sight| sight.mark.what == wanted)
            .filter_map(|sight| {
                let (act, mark) = (sight.act, Some(sight.mark.id));
                Some(Timed { ends: span(&sight.mark.at)?, act, mark, base })
            })
            .collect()
    };
    match &rule.of {
        TimeOf::Exercise => {
            let ends = scene.sheaf.routine.span;
            ends.into_iter().map(|ends| Timed { ends, act: None, mark: None, base }).collect()
        }
        TimeOf::Fall => sights(What::Fall),
        TimeOf::Stop => sights(What::Stop),
        TimeOf::Element { elements, tags } => (0..scene.acts.len())
            .filter(|act| is_one_of(scene, *act, elements, tags))
            .filter_map(|act| {
                let mark = scene.acts[act].mark;
                let ends = span(&mark.at)?;
                let (act, id) = (Some(act), Some(mark.id));
                world.stands(mark.id).then_some(Timed { ends, act, mark: id, base })
            })
            .collect(),
    }
}

/// Returns the elements that lose credit because they were too long or too short, each with its
/// rule.
pub(crate) fn lost_by_time<'a>(scene: &Scene<'a>, world: &World) -> Vec<(usize, &'a Time)> {
    let rules = scene.book.times_of(scene.event, scene.division).into_iter();
    let mut lost = Vec::new();
    for rule in rules.filter(|rule| !rule.removes.is_empty()) {
        let broken = |timed: &Timed| {
            // A warning takes nothing.
            matches!(timed.against(rule), Some(Breach::Short(_) | Breach::Long(_)))
        };
        let acts = timed(scene, world, rule).into_iter().filter(broken);
        lost.extend(acts.filter_map(|timed| Some((timed.act?, rule))));
    }
    lost
}

fn is_one_of(scene: &Scene<'_>, act: usize, elements: &[String], tags: &[String]) -> bool {
    scene.acts[act].element.is_some_and(|element| {
        elements.contains(&element.id) || tags.iter().any(|tag| element.tags.contains(tag))
    })
}
