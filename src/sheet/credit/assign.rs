//! Which elements serve which requirement, where what serves one may not serve another: what is met is
//! worth as much as can be, of equals the earliest elements serve.

use std::collections::BTreeSet;

use crate::rulebook::Sharing;

use super::{
    slots::{Slot, fill_slots},
    ways::{Serving, Ways, are_apart},
};

/// So much is tried; beyond it, what was found is at least as much as can be met.
const MOST_TRIED: usize = 100_000;
/// What filling in the rest counts as.
const FILLING: usize = 100;

/// Who serves what.
pub(crate) struct Assigned {
    /// For each requirement the acts that serve it; of one that is not met, how far it came.
    pub served: Vec<Vec<usize>>,
    /// Whether nothing else could meet more.
    pub is_exact: bool,
}

/// Gives out the acts.
pub(crate) fn assign(servings: &[Serving<'_>], sharing: Sharing) -> Assigned {
    let mut assigned = Assigned { served: vec![Vec::new(); servings.len()], is_exact: true };
    for group in groups(servings, sharing) {
        if let [alone] = group[..] {
            let (acts, is_exact) = servings[alone].nearest(&|_| true);
            assigned.served[alone] = acts;
            assigned.is_exact &= is_exact;
            continue;
        }
        let (chosen, is_exact) = together(servings, &group, sharing);
        assigned.is_exact &= is_exact;
        let used: BTreeSet<usize> = chosen.iter().flatten().copied().collect();
        for (at, acts) in group.into_iter().zip(chosen) {
            assigned.served[at] = if acts.is_empty() && !servings[at].rule.each {
                // What is left shows how far a missing requirement came, and no more.
                let (mut left, _) = servings[at].nearest(&|act| !used.contains(&act));
                left.truncate((servings[at].rule.count as usize).saturating_sub(1));
                left
            } else {
                acts
            };
        }
    }
    assigned
}

/// Returns the requirements in groups, so that no two of different groups can be in each other's way.
fn groups(servings: &[Serving<'_>], sharing: Sharing) -> Vec<Vec<usize>> {
    let meet = |a: usize, b: usize| {
        let both = servings[a].fits.iter().zip(&servings[b].fits);
        are_apart(servings[a].rule, servings[b].rule)
            || sharing == Sharing::One && both.into_iter().any(|(a, b)| *a && *b)
    };
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for at in 0..servings.len() {
        let (near, far): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|group| group.iter().any(|other| meet(*other, at)));
        let mut joined: Vec<usize> = near.into_iter().flatten().chain([at]).collect();
        joined.sort_unstable();
        groups = far;
        groups.push(joined);
    }
    groups
}

/// Returns for each requirement of a group the acts that serve it, and whether all was tried.
fn together(
    servings: &[Serving<'_>],
    group: &[usize],
    sharing: Sharing,
) -> (Vec<Vec<usize>>, bool) {
    // What is no series and shares nothing by its order is filled in around the others at once.
    let slot = |at: &usize| (sharing == Sharing::One).then(|| Slot::of(*at, servings)).flatten();
    let slots: Vec<Slot> = group.iter().filter_map(slot).collect();
    let mut branched: Vec<Branch> = group
        .iter()
        .filter(|at| slots.iter().all(|slot| slot.at != **at))
        .map(|at| Branch::new(*at, &servings[*at]))
        .collect();
    branched.sort_by_key(|branch| (std::cmp::Reverse(branch.most), branch.at));
    let mut rest = slots.iter().map(Slot::most).sum();
    let mut behind = vec![rest];
    for branch in branched.iter().rev() {
        rest += branch.most;
        behind.insert(0, rest);
    }
    let acts = servings.first().map_or(0, |serving| serving.fits.len());
    let mut search = Search {
        servings,
        sharing,
        branched: &branched,
        slots: &slots,
        behind,
        used: vec![0; acts],
        left: MOST_TRIED,
        best: None,
    };
    search.go(&mut Vec::new(), 0);
    let is_exact = search.left > 0 && branched.iter().all(|branch| branch.ways.are_all);
    let mut served = vec![Vec::new(); servings.len()];
    if let Some(Found { chosen, filled, .. }) = search.best {
        for (branch, acts) in branched.iter().zip(chosen) {
            served[branch.at] = acts;
        }
        for (slot, acts) in slots.iter().zip(filled) {
            served[slot.at] = acts;
        }
    }
    (group.iter().map(|at| std::mem::take(&mut served[*at])).collect(), is_exact)
}

/// A requirement whose ways are tried one after another.
struct Branch {
    at: usize,
    ways: Ways,
    /// What its dearest way is worth.
    most: i64,
}

impl Branch {
    fn new(at: usize, serving: &Serving<'_>) -> Self {
        let ways = serving.ways();
        let most = ways.list.iter().map(|way| serving.worth(way.len())).max().unwrap_or_default();
        Self { at, ways, most }
    }
}

/// Branch and bound: the dearest requirement first, its dearest ways first.
struct Search<'s> {
    servings: &'s [Serving<'s>],
    sharing: Sharing,
    branched: &'s [Branch],
    slots: &'s [Slot],
    /// The most that everything from a branch on can be worth.
    behind: Vec<i64>,
    /// How many requirements each act serves so far.
    used: Vec<u32>,
    left: usize,
    best: Option<Found>,
}

/// What was found to be worth the most.
struct Found {
    worth: i64,
    /// For each branch.
    chosen: Vec<Vec<usize>>,
    /// For each slot.
    filled: Vec<Vec<usize>>,
}

impl Search<'_> {
    fn go(&mut self, chosen: &mut Vec<Vec<usize>>, worth: i64) {
        let best = self.best.as_ref().map_or(-1, |best| best.worth);
        let place = chosen.len();
        if self.left == 0 || worth + self.behind[place] <= best {
            return;
        }
        let branched = self.branched;
        let Some(branch) = branched.get(place) else {
            let tried = if self.slots.is_empty() { 1 } else { FILLING };
            self.left = self.left.saturating_sub(tried);
            let (more, filled) = fill_slots(self.slots, &|act| self.used[act] == 0, best - worth);
            if worth + more > best {
                let chosen = chosen.clone();
                self.best = Some(Found { worth: worth + more, chosen, filled });
            }
            return;
        };
        for way in &branch.ways.list {
            self.left = self.left.saturating_sub(1);
            if self.may_stand(chosen, place, way) {
                self.stand(way, chosen, worth + self.servings[branch.at].worth(way.len()));
            }
        }
        self.stand(&[], chosen, worth);
    }

    fn stand(&mut self, way: &[usize], chosen: &mut Vec<Vec<usize>>, worth: i64) {
        for act in way {
            self.used[*act] += 1;
        }
        chosen.push(way.to_vec());
        self.go(chosen, worth);
        chosen.pop();
        for act in way {
            self.used[*act] -= 1;
        }
    }

    /// Returns whether a way of serving may stand beside those chosen.
    fn may_stand(&self, chosen: &[Vec<usize>], place: usize, way: &[usize]) -> bool {
        if self.sharing == Sharing::One && way.iter().any(|act| self.used[*act] > 0) {
            return false;
        }
        let serving = |place: usize| &self.servings[self.branched[place].at];
        let own = serving(place);
        (0..place).all(|other| {
            let beside = serving(other);
            let share = || chosen[other].iter().any(|act| way.contains(act));
            let alike = || {
                !chosen[other].is_empty() && own.families(way) == beside.families(&chosen[other])
            };
            !are_apart(own.rule, beside.rule) || !share() && !alike()
        })
    }
}
