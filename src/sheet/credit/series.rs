//! Which element follows which: what may stand between, and what breaks a series.

use std::collections::BTreeMap;

use crate::{
    marks::{At, Mark, What},
    rulebook::{self, Breaker, LostBreaks},
    sheet::routine::{scene::Scene, world::World},
    units::Ticks,
};

use super::earned::{Earned, State};

/// The question which elements follow which, under one rule.
pub(crate) struct Follow<'s> {
    scene: &'s Scene<'s>,
    earned: &'s [Earned<'s>],
    rule: &'s rulebook::Follow,
    breaks: BTreeMap<usize, &'s Mark>,
}

impl<'s> Follow<'s> {
    /// Prepares the question.
    pub(crate) fn new(
        scene: &'s Scene<'s>,
        world: &World,
        earned: &'s [Earned<'s>],
        rule: &'s rulebook::Follow,
    ) -> Self {
        let mut breaks = BTreeMap::new();
        for sight in scene.sights.iter().filter(|sight| world.stands(sight.mark.id)) {
            if let (Some(act), true) = (sight.act, breaks_it(&sight.mark.what, &rule.breaks)) {
                breaks.entry(act).or_insert(sight.mark);
            }
        }
        Self { scene, earned, rule, breaks }
    }

    /// Returns the elements that may come next in a series: the next one, and where it may stand
    /// between, the ones behind it.
    pub(crate) fn after(&self, act: usize) -> Vec<usize> {
        let (mut found, mut last) = (Vec::new(), act);
        for next in act + 1..self.earned.len() {
            let between = next - 1 > act;
            if self.why_apart(next - 1, between).is_some() || self.is_too_late(last, next) {
                break;
            }
            if self.earned[next].state == State::NotShown {
                continue;
            }
            if self.why_not_behind(next).is_some() {
                break;
            }
            found.push(next);
            if !self.is_link(next) {
                break;
            }
            last = next;
        }
        found
    }

    /// Returns what keeps the act from being followed by anything, in words; of a link that stands
    /// between two others only what lies behind it.
    pub(crate) fn why_apart(&self, act: usize, between: bool) -> Option<String> {
        if let Some(mark) = self.breaks.get(&act) {
            return Some(format!("{} lies between", in_words(mark)));
        }
        let is_spared = match self.rule.lost_breaks {
            LostBreaks::Behind => between && self.is_link(act),
            LostBreaks::Both => false,
            LostBreaks::Nowhere => true,
        };
        self.lost(act).filter(|_| !is_spared)
    }

    /// Returns what keeps the act from following anything, in words.
    pub(crate) fn why_not_behind(&self, act: usize) -> Option<String> {
        self.lost(act).filter(|_| self.rule.lost_breaks == LostBreaks::Both)
    }

    fn lost(&self, act: usize) -> Option<String> {
        let earned = &self.earned[act];
        let is_linked = earned.linked || earned.state == State::NotShown;
        (!is_linked).then(|| earned.reason.trim_end_matches('.').to_owned())
    }

    /// Returns whether the element may stand between two others.
    pub(crate) fn is_link(&self, act: usize) -> bool {
        let element = self.scene.acts[act].element;
        element.is_some_and(|it| self.rule.links.iter().any(|tag| it.tags.contains(tag)))
    }

    /// Returns whether more time than the rule allows lies between the two marks; a planned routine
    /// has no times.
    pub(crate) fn is_too_late(&self, act: usize, next: usize) -> bool {
        let Some(gap) = self.rule.gap else { return false };
        let Some(clip) = &self.scene.sheaf.clip else { return false };
        let at = |act: usize| self.scene.acts[act].mark.at;
        let end = match at(act) {
            At::Span(_, to) => to.ticks,
            other => other.order().0,
        };
        let lasted = Ticks(at(next).order().0.0 - end.0);
        clip.time_base.compare(lasted, gap).is_gt()
    }
}

fn breaks_it(what: &What, breaks: &[Breaker]) -> bool {
    let breaker = match what {
        What::Stop => Breaker::Stop,
        What::Fall => Breaker::Fall,
        What::Swing => Breaker::Swing,
        What::Spot => Breaker::Spot,
        _ => return false,
    };
    breaks.contains(&breaker)
}

const fn in_words(mark: &Mark) -> &'static str {
    match mark.what {
        What::Fall => "a fall",
        What::Swing => "a swing",
        What::Spot => "help",
        _ => "a stop",
    }
}
