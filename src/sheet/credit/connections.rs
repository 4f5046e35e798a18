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

use super::{earned::Earned, series::Follow};

/// Returns a line for every connection, each taking a negative amount. An element counts in one
/// connection of a rule; as many are given as there can be.
pub(crate) fn connections(scene: &Scene<'_>, world: &World, earned: &[Earned<'_>]) -> Vec<Line> {
    let rules = scene.book.connections_of(scene.event, scene.division);
    rules.into_iter().flat_map(|rule| of_rule(scene, world, earned, rule)).collect()
}

fn of_rule(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    rule: &Connection,
) -> Vec<Line> {
    let follow = Follow::new(scene, world, earned, &rule.follow);
    let most = rule.at_most.map_or(usize::MAX, |most| most as usize);
    let tags: Vec<&str> = rule.series.iter().map(String::as_str).collect();
    let mut search =
        Search { earned, follow: &follow, any_order: rule.any_order, found: BTreeMap::new() };
    // Always the one that ends first leaves the most behind it.
    let mut all: Vec<Vec<usize>> =
        (0..earned.len()).filter_map(|start| search.from(start, &tags)).collect();
    all.sort_by_key(|acts| acts.last().copied());
    let (mut lines, mut free) = (Vec::new(), 0);
    for acts in all {
        if lines.len() < most && acts.first().is_some_and(|first| *first >= free) {
            free = acts.last().map_or(free, |last| last + 1);
            lines.push(line(scene, rule, &acts));
        }
    }
    lines
}

/// The search for elements of these tags that follow one another.
struct Search<'s> {
    earned: &'s [Earned<'s>],
    follow: &'s Follow<'s>,
    any_order: bool,
    found: BTreeMap<(usize, Vec<&'s str>), Option<Vec<usize>>>,
}

impl<'s> Search<'s> {
    /// Returns the acts of the series that begins with this act and ends first; nothing where there
    /// is none.
    fn from(&mut self, act: usize, tags: &[&'s str]) -> Option<Vec<usize>> {
        let asked = (act, tags.to_vec());
        if let Some(found) = self.found.get(&asked) {
            return found.clone();
        }
        let tried = if self.any_order { tags.len() } else { 1 };
        let mut first: Option<Vec<usize>> = None;
        for place in 0..tried {
            if !self.is_tagged(act, tags[place]) {
                continue;
            }
            let rest = [&tags[..place], &tags[place + 1..]].concat();
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

    fn is_tagged(&self, act: usize, tag: &str) -> bool {
        let element = self.earned[act].element.filter(|_| self.earned[act].requirement);
        element.is_some_and(|element| element.tags.iter().any(|own| own == tag))
    }
}

fn line(scene: &Scene<'_>, rule: &Connection, acts: &[usize]) -> Line {
    let names: Vec<&str> = acts.iter().map(|act| scene.name_of(*act)).collect();
    let marks = || acts.iter().map(|act| scene.acts[*act].mark);
    let frames = marks().flat_map(|mark| scene.frames.at(&mark.at)).collect();
    let reason = format!("{} follow one another.", names.join(" and "));
    let line = remark((&rule.id, &rule.label), reason, frames, marks().next().map(|mark| mark.id));
    let page = rule.page.clone();
    Line { amount: Points(-rule.amount.0), status: Status::Taken, page, ..line }
}
