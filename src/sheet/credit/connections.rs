//! What elements that follow one another add to the score.

use std::collections::BTreeMap;

use crate::{
    rulebook::Connection,
    sheet::{
        model::{Line, Status, remark},
        routine::{scene::Scene, world::World},
    },
    units::Points,
};

use super::{
    earned::Earned,
    linked::{Linked, best},
    series::Follow,
};

/// Returns a line for every connection that is given, each taking a negative amount, rule by rule; and
/// whether every way of giving them was tried.
pub(crate) fn connections(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
) -> (Vec<Line>, bool) {
    let rules = scene.book.connections_of(scene.event, scene.division);
    let (besides, others): (Vec<_>, Vec<_>) = rules.iter().partition(|rule| rule.besides);
    let groups = besides.into_iter().map(|rule| vec![rule]).chain([others]);
    let (mut given, mut is_exact) = (Vec::new(), true);
    for group in groups {
        let there = group.into_iter().flat_map(|rule| of_rule(scene, world, earned, rule));
        let (best, tried) = best(&there.collect::<Vec<_>>());
        given.extend(best);
        is_exact &= tried;
    }
    let place = |linked: &Linked<'_>| rules.iter().position(|rule| rule.id == linked.rule.id);
    given.sort_by_key(|linked| (place(linked), linked.last()));
    (given.iter().map(|linked| line(scene, linked)).collect(), is_exact)
}

/// Returns the connections of a rule that are there; of those that begin with the same element the one
/// that ends first, which leaves the most to others.
fn of_rule<'s>(
    scene: &'s Scene<'s>,
    world: &World,
    earned: &'s [Earned<'s>],
    rule: &'s Connection,
) -> Vec<Linked<'s>> {
    let follow = Follow::new(scene, world, earned, &rule.follow);
    let mut search = Search { scene, earned, rule, follow: &follow, found: BTreeMap::new() };
    let places: Vec<usize> = (0..rule.length()).collect();
    let runs = (0..earned.len()).filter_map(|start| search.from(start, &places));
    runs.map(|acts| Linked { rule, acts }).collect()
}

/// The search for elements that follow one another as a rule asks.
struct Search<'s> {
    scene: &'s Scene<'s>,
    earned: &'s [Earned<'s>],
    rule: &'s Connection,
    follow: &'s Follow<'s>,
    found: BTreeMap<(usize, Vec<usize>), Option<Vec<usize>>>,
}

impl Search<'_> {
    /// Returns the acts that stand at these places of the rule, the first of them this act, and end
    /// first; nothing where there are none.
    fn from(&mut self, act: usize, places: &[usize]) -> Option<Vec<usize>> {
        let asked = (act, places.to_vec());
        if let Some(found) = self.found.get(&asked) {
            return found.clone();
        }
        let tried = if self.rule.any_order { places.len() } else { 1 };
        let mut first: Option<Vec<usize>> = None;
        for at in 0..tried {
            if !self.fits(act, places[at]) {
                continue;
            }
            let rest = [&places[..at], &places[at + 1..]].concat();
            if rest.is_empty() {
                first = Some(vec![act]);
                break;
            }
            for next in self.follow.after(act) {
                let Some(run) = self.from(next, &rest) else { continue };
                if first.as_ref().is_none_or(|first| run.last() < first.last()) {
                    first = Some([vec![act], run].concat());
                }
            }
        }
        self.found.insert(asked, first.clone());
        first
    }

    fn fits(&self, act: usize, place: usize) -> bool {
        let element = self.earned[act].element.filter(|_| self.earned[act].requirement);
        let scene = self.scene;
        element.is_some_and(|it| scene.book.connects(self.rule, (it, scene.division), place))
    }
}

fn line(scene: &Scene<'_>, Linked { rule, acts }: &Linked<'_>) -> Line {
    let names: Vec<&str> = acts.iter().map(|act| scene.name_of(*act)).collect();
    let marks = || acts.iter().map(|act| scene.acts[*act].mark);
    let frames = marks().flat_map(|mark| scene.frames.at(&mark.at)).collect();
    let reason = format!("{} follow one another.", names.join(" and "));
    let line = remark((&rule.id, &rule.label), reason, frames, marks().next().map(|mark| mark.id));
    let page = rule.page.clone();
    Line { amount: Points(-rule.amount.0), status: Status::Taken, page, ..line }
}
