//! From charges to deductions: once or each time, replacements, caps.

use std::collections::{BTreeMap, BTreeSet};

use crate::{
    rulebook::{Cap, Counts, Merge, Per, Replace},
    units::Points,
};

use super::{
    deduct::Charge,
    model::{Line, Status},
    scene::Scene,
};

/// Returns the lines of the deductions, after everything that limits them.
///
/// What is replaced no longer fills a cap; a cap gives back what lies above it as a line of its
/// own, so that the lines add up.
pub fn settle(scene: &Scene<'_>, mut charges: Vec<Charge>) -> Vec<Line> {
    for merge in scene.book.merges_of(scene.event, scene.division) {
        combine(merge, &mut charges);
    }
    once(&mut charges);
    let replaces = scene.book.replaces_of(scene.event, scene.division);
    for replace in replaces {
        apply(replace, &mut charges);
    }
    let mut given_back = Vec::new();
    // Caps over single elements come first: what they give back no longer fills the wide ones.
    let mut caps = scene.book.caps_of(scene.event, scene.division);
    caps.sort_by_key(|cap| cap.per == Per::Exercise);
    for cap in caps {
        given_back.extend(over(scene, cap, &charges, &given_back));
    }
    charges.into_iter().chain(given_back).map(|charge| charge.line).collect()
}

/// Puts one larger fault in the place of every few small ones at the same element.
fn combine(merge: &Merge, charges: &mut [Charge]) {
    let mut small: BTreeMap<Option<usize>, Vec<usize>> = BTreeMap::new();
    for (at, charge) in charges.iter().enumerate() {
        if is_taken(charge, &merge.rule) && charge.line.amount == merge.of {
            small.entry(charge.act).or_default().push(at);
        }
    }
    for few in small.values().flat_map(|small| small.chunks_exact(merge.count as usize)) {
        for at in &few[1..] {
            drop_charge(&mut charges[*at], "It makes a larger fault with the one before.");
        }
        let first = &mut charges[few[0]].line;
        first.amount = merge.into;
        first.reason = format!("{} {} of {} make it.", first.reason, merge.count, merge.of.short());
    }
}

/// Leaves the amount to the first charge of a rule that is taken once.
fn once(charges: &mut [Charge]) {
    let mut taken: BTreeSet<(String, Option<usize>)> = BTreeSet::new();
    for charge in charges.iter_mut().filter(|charge| charge.line.status == Status::Taken) {
        let place = match charge.counts {
            Counts::Each => continue,
            Counts::OncePerElement => charge.act,
            Counts::Once => None,
        };
        if !taken.insert((charge.line.rule.clone(), place)) {
            drop_charge(charge, "It was taken before and counts once.");
        }
    }
}

fn apply(replace: &Replace, charges: &mut [Charge]) {
    let acts: BTreeSet<Option<usize>> =
        charges.iter().filter(|c| is_taken(c, &replace.rule)).map(|c| c.act).collect();
    let label = charges.iter().find(|c| is_taken(c, &replace.rule)).map(|c| c.line.label.clone());
    let Some(label) = label else { return };
    for charge in charges.iter_mut().filter(|charge| {
        charge.line.status == Status::Taken
            && acts.contains(&charge.act)
            && replace.drops.contains(&charge.line.rule)
    }) {
        drop_charge(charge, &format!("\"{label}\" stands in its place."));
    }
}

fn is_taken(charge: &Charge, rule: &str) -> bool {
    charge.line.rule == rule && charge.line.status == Status::Taken
}

fn drop_charge(charge: &mut Charge, why: &str) {
    charge.line.amount = Points::ZERO;
    charge.line.status = Status::NotCounted;
    charge.line.reason = format!("{} {why}", charge.line.reason);
}

/// Returns what lies above the cap, as charges that give it back.
fn over(scene: &Scene<'_>, cap: &Cap, charges: &[Charge], given_back: &[Charge]) -> Vec<Charge> {
    let place = |charge: &Charge| match cap.per {
        Per::Element => charge.act,
        Per::Exercise => None,
    };
    let capped = |charge: &&Charge| cap.group.is_empty() || charge.group == cap.group;
    let mut sums: BTreeMap<Option<usize>, Points> = BTreeMap::new();
    for charge in charges.iter().chain(given_back).filter(capped) {
        *sums.entry(place(charge)).or_default() += charge.line.amount;
    }
    let lifted: BTreeSet<Option<usize>> = charges
        .iter()
        .filter(|charge| cap.lifted_by.contains(&charge.line.rule))
        .filter(|charge| charge.line.status == Status::Taken)
        .map(place)
        .collect();
    sums.into_iter()
        .filter(|(at, sum)| *sum > cap.at_most && !lifted.contains(at))
        .map(|(at, sum)| give_back(scene, cap, at, sum))
        .collect()
}

fn give_back(scene: &Scene<'_>, cap: &Cap, act: Option<usize>, sum: Points) -> Charge {
    let line = Line {
        rule: cap.id.clone(),
        label: cap.label.clone(),
        amount: cap.at_most - sum,
        status: Status::Taken,
        frames: match act {
            Some(act) => scene.frames.at(&scene.acts[act].mark.at),
            None => scene.frames.span(),
        },
        reason: format!("Together {}, and at most {} counts.", sum.short(), cap.at_most.short()),
        page: cap.page.clone(),
        mark: act.map(|act| scene.acts[act].mark.id),
    };
    Charge { line, act, group: cap.group.clone(), counts: Counts::Each, void: false }
}
