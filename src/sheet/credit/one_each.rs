//! Requirements where each element serves one: what is missing costs as little as can be.

use std::collections::{BTreeMap, BTreeSet};

use crate::{rulebook::Requirement, units::Points};

use super::{
    apart::are_named,
    candidates::family,
    earned::Earned,
    matching::{Offer, fill, fills_up},
};

/// More ways of meeting requirements than this are not tried; then the dearest are met first.
const TRIED_IN_FULL: usize = 4096;

/// No search for series that leave one another their elements goes on for more steps than this: one
/// of a way, and all of them before they are cut short.
const STEPS: usize = 10_000;
const ALL_STEPS: usize = 1_000_000;
const SHORT: usize = 200;

/// One requirement with what could serve it.
pub(crate) struct Wanted<'w> {
    /// The requirement.
    pub rule: &'w Requirement,
    /// Which acts may serve it.
    pub fits: &'w [bool],
    /// Where its elements serve only together: every way of serving it that is tried.
    pub series: Option<Vec<Vec<usize>>>,
}

/// Returns for each requirement the acts that serve it, each act one requirement.
pub(crate) fn one_each(wanted: &[Wanted<'_>], earned: &[Earned<'_>]) -> Vec<Vec<usize>> {
    let mut ways = ways(wanted);
    ways.sort_by_key(|way| (std::cmp::Reverse(price(wanted, way)), std::cmp::Reverse(way.clone())));
    let mut search = Search { wanted, earned, steps: 0, before: 0 };
    let found = ways.into_iter().find_map(|way| search.served(&way));
    found.unwrap_or_else(|| vec![Vec::new(); wanted.len()])
}

/// Returns every way of meeting requirements: how many elements each gets. One that is paid as a
/// whole gets all or none.
fn ways(wanted: &[Wanted<'_>]) -> Vec<Vec<u32>> {
    let mut ways: Vec<Vec<u32>> = vec![Vec::new()];
    for one in wanted {
        let levels: Vec<u32> =
            if one.rule.each { (0..=one.rule.count).collect() } else { vec![0, one.rule.count] };
        // Beyond the limit a requirement is only tried in full or not at all, then only in full.
        let room = TRIED_IN_FULL / ways.len().max(1);
        let levels = match room {
            0 | 1 => vec![one.rule.count],
            room if room < levels.len() => vec![0, one.rule.count],
            _ => levels,
        };
        ways = ways
            .iter()
            .flat_map(|way| levels.iter().map(|level| [&way[..], &[*level]].concat()))
            .collect();
    }
    ways
}

fn price(wanted: &[Wanted<'_>], way: &[u32]) -> Points {
    let worth = |(one, level): (&Wanted<'_>, &u32)| {
        let times = if one.rule.each { *level } else { u32::from(*level > 0) };
        one.rule.price.times(i64::from(times))
    };
    wanted.iter().zip(way).map(worth).sum()
}

type Choice = BTreeMap<usize, Vec<usize>>;

struct Search<'s> {
    wanted: &'s [Wanted<'s>],
    earned: &'s [Earned<'s>],
    /// Steps of this way, and of those before it.
    steps: usize,
    before: usize,
}

impl Search<'_> {
    /// Returns who serves what when each requirement gets so many, or nothing where that is not
    /// possible: every choice of series is tried, and the rest is filled around it.
    fn served(&mut self, way: &[u32]) -> Option<Vec<Vec<usize>>> {
        let is_in_series = |at: &usize| way[*at] > 0 && self.wanted[*at].series.is_some();
        let in_series: Vec<usize> = (0..way.len()).filter(is_in_series).collect();
        self.before += std::mem::take(&mut self.steps);
        self.choose((way, &in_series), &mut Choice::new())
    }

    fn choose(
        &mut self,
        (way, open): (&[u32], &[usize]),
        choice: &mut Choice,
    ) -> Option<Vec<Vec<usize>>> {
        let Some((at, later)) = open.split_first() else { return self.rest(way, choice) };
        let wanted = self.wanted;
        let runs = wanted[*at].series.iter().flatten();
        for run in runs.filter(|run| run.len() == way[*at] as usize) {
            self.steps += 1;
            if self.steps > if self.before > ALL_STEPS { SHORT } else { STEPS } {
                return None;
            }
            if !choice
                .iter()
                .all(|(other, of_other)| self.may_stand((*at, run), (*other, of_other)))
            {
                continue;
            }
            choice.insert(*at, run.clone());
            if let Some(found) = self.choose((way, later), choice) {
                return Some(found);
            }
            choice.remove(at);
        }
        None
    }

    /// Returns whether two series may stand beside each other.
    fn may_stand(&self, (a, of_a): (usize, &[usize]), (b, of_b): (usize, &[usize])) -> bool {
        let families = |acts: &[usize]| -> Vec<&str> {
            acts.iter().map(|act| family(self.earned, *act)).collect()
        };
        let alike =
            are_named(self.wanted[a].rule, self.wanted[b].rule) && families(of_a) == families(of_b);
        !alike && of_a.iter().all(|act| !of_b.contains(act))
    }

    /// Fills what serves by single elements around the series.
    fn rest(&self, way: &[u32], choice: &Choice) -> Option<Vec<Vec<usize>>> {
        let used: BTreeSet<usize> = choice.values().flatten().copied().collect();
        let single = |at: usize| self.wanted[at].series.is_none();
        let room: Vec<u32> =
            (0..way.len()).map(|at| if single(at) { way[at] } else { 0 }).collect();
        let offers = offers(self.wanted, self.earned, &room, &used);
        if !fills_up(&room, &offers) {
            return None;
        }
        let mut served = vec![Vec::new(); way.len()];
        for (act, offer) in fill(&room, &offers).into_iter().enumerate() {
            if let Some(offer) = offer {
                served[offer.want].push(act);
            }
        }
        for (at, run) in choice {
            served[*at].clone_from(run);
        }
        Some(served)
    }
}

fn offers(
    wanted: &[Wanted<'_>],
    earned: &[Earned<'_>],
    room: &[u32],
    used: &BTreeSet<usize>,
) -> Vec<Vec<Offer>> {
    let mut families: BTreeMap<&str, usize> = BTreeMap::new();
    let kinds: Vec<usize> = (0..earned.len())
        .map(|act| {
            let next = families.len();
            *families.entry(family(earned, act)).or_insert(next)
        })
        .collect();
    let of = |act: usize| -> Vec<Offer> {
        let wants = (0..wanted.len()).filter(|at| room[*at] > 0 && wanted[*at].fits[act]);
        let alike = |want: usize| wanted[want].rule.distinct.then_some(kinds[act]);
        wants.map(|want| Offer { want, alike: alike(want) }).collect()
    };
    (0..earned.len()).map(|act| if used.contains(&act) { Vec::new() } else { of(act) }).collect()
}
