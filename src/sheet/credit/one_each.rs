//! Requirements where each element serves one: what is missing costs as little as can be.

use std::collections::{BTreeMap, BTreeSet};

use crate::{rulebook::Requirement, units::Points};

use super::{
    candidates::family,
    earned::Earned,
    matching::{Offer, fill, fills_up},
};

/// More ways of meeting requirements than this are not tried; then the dearest are met first.
const TRIED_IN_FULL: usize = 4096;

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
    let found = ways.into_iter().find_map(|way| served(wanted, earned, &way));
    found.unwrap_or_else(|| vec![Vec::new(); wanted.len()])
}

/// Returns every way of meeting requirements: how many elements each gets. One that is paid as a
/// whole gets all or none.
fn ways(wanted: &[Wanted<'_>]) -> Vec<Vec<u32>> {
    let mut ways: Vec<Vec<u32>> = vec![Vec::new()];
    for one in wanted {
        let whole = !one.rule.each || one.series.is_some();
        let levels: Vec<u32> =
            if whole { vec![0, one.rule.count] } else { (0..=one.rule.count).collect() };
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

/// Returns who serves what when each requirement gets so many, or nothing where that is not
/// possible: every choice of series is tried, and the rest is filled around it.
fn served(wanted: &[Wanted<'_>], earned: &[Earned<'_>], way: &[u32]) -> Option<Vec<Vec<usize>>> {
    let in_series: Vec<usize> =
        (0..wanted.len()).filter(|at| way[*at] > 0 && wanted[*at].series.is_some()).collect();
    let room: Vec<u32> =
        (0..wanted.len()).map(|at| if in_series.contains(&at) { 0 } else { way[at] }).collect();
    let mut choice = BTreeMap::new();
    choose(wanted, &in_series, &mut choice, &|choice| {
        let used: BTreeSet<usize> = choice.values().flat_map(|run| run.iter().copied()).collect();
        let offers = offers(wanted, earned, &room, &used);
        fills_up(&room, &offers).then(|| {
            let mut served = vec![Vec::new(); wanted.len()];
            for (act, offer) in fill(&room, &offers).into_iter().enumerate() {
                if let Some(offer) = offer {
                    served[offer.want].push(act);
                }
            }
            for (at, run) in choice {
                served[*at].clone_from(run);
            }
            served
        })
    })
}

type Choice = BTreeMap<usize, Vec<usize>>;

fn choose(
    wanted: &[Wanted<'_>],
    open: &[usize],
    choice: &mut Choice,
    rest: &impl Fn(&Choice) -> Option<Vec<Vec<usize>>>,
) -> Option<Vec<Vec<usize>>> {
    let Some((at, later)) = open.split_first() else { return rest(choice) };
    for run in wanted[*at].series.iter().flatten() {
        let is_free = |act: &usize| choice.values().all(|other| !other.contains(act));
        if !run.iter().all(is_free) {
            continue;
        }
        choice.insert(*at, run.clone());
        if let Some(found) = choose(wanted, later, choice, rest) {
            return Some(found);
        }
        choice.remove(at);
    }
    None
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
