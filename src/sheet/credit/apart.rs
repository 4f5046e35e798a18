//! Requirements of which some must be served apart from others.

use std::collections::BTreeSet;

use crate::rulebook::Requirement;

use super::candidates::Serving;

/// No search goes on for more steps than this.
const STEPS: usize = 200_000;

/// Returns for each requirement the acts that serve it, where some must be served apart from
/// others: together as dear as possible, of equals the earliest.
pub(crate) fn apart(servings: &[Serving<'_>], fits: &[Vec<bool>]) -> Vec<Vec<usize>> {
    let among: Vec<usize> = (0..servings.len())
        .filter(|a| servings.iter().any(|other| are_named(servings[*a].rule, other.rule)))
        .collect();
    let mut served: Vec<Vec<usize>> =
        servings.iter().zip(fits).map(|(serving, fits)| serving.best(fits)).collect();
    if among.is_empty() {
        return served;
    }
    let ways: Vec<Vec<Vec<usize>>> = among.iter().map(|at| servings[*at].all(&fits[*at])).collect();
    let most = |(at, ways): (&usize, &Vec<Vec<usize>>)| {
        ways.iter().map(|way| servings[*at].worth(way.len())).max().unwrap_or_default()
    };
    let most: Vec<i64> = among.iter().zip(&ways).map(most).collect();
    let best = (-1, Vec::new());
    let mut search = Search { servings, among: &among, ways: &ways, most: &most, best, steps: 0 };
    search.go(&mut Vec::new(), 0);
    let chosen = search.best.1;
    let used: BTreeSet<usize> = chosen.iter().flatten().copied().collect();
    for (place, at) in among.iter().enumerate() {
        served[*at].clone_from(&chosen[place]);
        if served[*at].is_empty() && !servings[*at].rule.each {
            // What is left shows how far a missing requirement came, and no more.
            let left: Vec<bool> = fits[*at]
                .iter()
                .enumerate()
                .map(|(act, fits)| *fits && !used.contains(&act))
                .collect();
            served[*at] = servings[*at].best(&left);
            served[*at].truncate((servings[*at].rule.count as usize).saturating_sub(1));
        }
    }
    served
}

struct Search<'s> {
    servings: &'s [Serving<'s>],
    among: &'s [usize],
    ways: &'s [Vec<Vec<usize>>],
    /// What each can be worth at most.
    most: &'s [i64],
    best: (i64, Vec<Vec<usize>>),
    steps: usize,
}

impl Search<'_> {
    fn go(&mut self, chosen: &mut Vec<Vec<usize>>, worth: i64) {
        let place = chosen.len();
        let hopes = worth + self.most[place..].iter().sum::<i64>();
        self.steps += 1;
        if hopes <= self.best.0 || self.steps > STEPS && self.best.0 >= 0 {
            return;
        }
        let Some(at) = self.among.get(place) else {
            if worth > self.best.0 {
                self.best = (worth, chosen.clone());
            }
            return;
        };
        for way in &self.ways[place] {
            if (0..place).all(|other| self.are_apart((other, &chosen[other]), (place, way))) {
                chosen.push(way.clone());
                self.go(chosen, worth + self.servings[*at].worth(way.len()));
                chosen.pop();
            }
        }
        chosen.push(Vec::new());
        self.go(chosen, worth);
        chosen.pop();
    }

    fn are_apart(&self, (a, of_a): (usize, &[usize]), (b, of_b): (usize, &[usize])) -> bool {
        let (a, b) = (&self.servings[self.among[a]], &self.servings[self.among[b]]);
        let share = of_a.iter().any(|act| of_b.contains(act));
        let alike = !of_a.is_empty() && a.families(of_a) == b.families(of_b);
        !are_named(a.rule, b.rule) || !share && !alike
    }
}

/// Returns whether one of the two asks to be served apart from the other.
pub(crate) fn are_named(a: &Requirement, b: &Requirement) -> bool {
    a.apart_from.contains(&b.id) || b.apart_from.contains(&a.id)
}
