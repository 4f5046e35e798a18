//! Which connections are given, where elements could stand in several: those that add most.

use std::{cmp::Reverse, collections::BTreeMap};

use crate::{rulebook::Connection, units::Points};

/// Steps of the search beyond which the best so far is taken.
const EFFORT: usize = 100_000;

/// Elements that follow one another as a rule asks.
#[derive(Clone, Debug)]
pub(crate) struct Linked<'b> {
    /// The rule.
    pub rule: &'b Connection,
    /// The elements in order; two or more.
    pub acts: Vec<usize>,
}

impl Linked<'_> {
    fn first(&self) -> usize {
        self.acts.first().copied().unwrap_or_default()
    }

    /// Returns the last element.
    pub(crate) fn last(&self) -> usize {
        self.acts.last().copied().unwrap_or_default()
    }
}

/// How often each rule was given that has a limit.
type Used = Vec<u32>;

/// A way of giving connections; of those that add the same, the earliest count.
#[derive(Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Way {
    sum: Points,
    given: Reverse<Vec<usize>>,
}

/// The best ways that use so much, by what they use.
type Ways<K> = BTreeMap<K, Way>;

/// Returns the connections that add most together, and whether every way was tried. Nothing between two
/// elements counts twice; of one rule, an element counts twice only where the rule goes on in a chain.
pub(crate) fn best<'b>(there: &[Linked<'b>]) -> (Vec<Linked<'b>>, bool) {
    let mut rules: Vec<&str> = there.iter().map(|linked| linked.rule.id.as_str()).collect();
    rules.sort_unstable();
    rules.dedup();
    let rule_of = |linked: &Linked<'_>| rules.binary_search(&linked.rule.id.as_str()).unwrap_or(0);
    let behind = there.iter().map(|linked| linked.last() + 1).max().unwrap_or(0);
    // Ways whose last connection ends before an element, and those that end with it, by the last rule.
    let mut before: Vec<Ways<Used>> = vec![Ways::from([(vec![0; rules.len()], Way::default())])];
    let mut ending: Vec<Ways<(usize, Used)>> = Vec::new();
    let mut left = EFFORT;
    for end in 0..behind {
        let mut new: Ways<(usize, Used)> = Ways::new();
        for (at, linked) in there.iter().enumerate().filter(|(_, linked)| linked.last() == end) {
            let (rule, first) = (rule_of(linked), linked.first());
            let touching = ending[first]
                .iter()
                .filter(|((last, _), _)| *last != rule || linked.rule.chain)
                .map(|((_, used), way)| (used, way));
            let has_more = |used: &Used| linked.rule.at_most.is_none_or(|most| used[rule] < most);
            let open = before[first].iter().chain(touching).filter(|(used, _)| has_more(used));
            for (used, way) in open.take(left) {
                left -= 1;
                let (mut used, mut way) = (used.clone(), way.clone());
                used[rule] += u32::from(linked.rule.at_most.is_some());
                way.sum += linked.rule.amount;
                way.given.0.push(at);
                keep(&mut new, (rule, used), way);
            }
        }
        let mut next = before[end].clone();
        for ((_, used), way) in &new {
            keep(&mut next, used.clone(), way.clone());
        }
        before.push(next);
        ending.push(new);
    }
    let best = before.pop().and_then(|ways| ways.into_values().max()).unwrap_or_default();
    (best.given.0.into_iter().map(|at| there[at].clone()).collect(), left > 0)
}

fn keep<K: Ord>(ways: &mut Ways<K>, used: K, way: Way) {
    let known = ways.entry(used).or_default();
    if way > *known {
        *known = way;
    }
}
