//! What elements that follow one another add to the score.

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
/// connection of a rule, the earliest.
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
    let mut lines = Vec::new();
    let mut start = 0;
    while start < earned.len() && lines.len() < most {
        let tags: Vec<&str> = rule.series.iter().map(String::as_str).collect();
        let search = Search { earned, follow: &follow, any_order: rule.any_order };
        if let Some(acts) = search.from(start, &tags) {
            start = acts.last().map_or(start, |last| *last);
            lines.push(line(scene, rule, &acts));
        }
        start += 1;
    }
    lines
}

/// The search for elements of these tags that follow one another.
struct Search<'s> {
    earned: &'s [Earned<'s>],
    follow: &'s Follow<'s>,
    any_order: bool,
}

impl Search<'_> {
    /// Returns the acts of a series that begins with this act; nothing where there is none.
    fn from(&self, act: usize, tags: &[&str]) -> Option<Vec<usize>> {
        let places = if self.any_order { 0..tags.len() } else { 0..1 };
        for place in places.filter(|place| self.is_tagged(act, tags[*place])) {
            let rest: Vec<&str> = [&tags[..place], &tags[place + 1..]].concat();
            if rest.is_empty() {
                return Some(vec![act]);
            }
            let next = self.follow.after(act).into_iter().find_map(|next| self.from(next, &rest));
            if let Some(next) = next {
                return Some([vec![act], next].concat());
            }
        }
        None
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
