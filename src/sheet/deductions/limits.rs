//! What is left of charges: once or each time, replacements, caps.

use std::{
    cell::LazyCell,
    collections::{BTreeMap, BTreeSet},
};

use crate::{
    marks::{Id, Phase},
    rulebook::{Cap, Counts, Merge, Per, Replace},
    sheet::{
        model::{Line, Status},
        routine::{
            scene::{Scene, Sight},
            triggers::phase_of,
        },
    },
    units::Points,
};

use super::charge::Charge;

/// An element and a phase of it; nothing where that does not matter.
type Place = (Option<usize>, Option<Phase>);
/// Asks in which phase of a vault a charge's mark lies.
type PhaseOf<'a> = &'a dyn Fn(&Charge) -> Option<Phase>;

/// Settles what limits what: each charge keeps what is left of it. Returns a line for each cap that gives
/// something back, so that the lines add up.
///
/// What is replaced no longer fills a cap, and what one cap gave back fills no other.
pub(crate) fn settle(scene: &Scene<'_>, charges: &mut [Charge]) -> Vec<Line> {
    // Few books ask for it; the first of two marks of one id is meant, as everywhere.
    let sights = LazyCell::new(|| {
        let sights = scene.sights.iter().rev();
        sights.map(|sight| (sight.mark.id, sight)).collect::<BTreeMap<Id, &Sight<'_>>>()
    });
    let phase = |charge: &Charge| {
        let sight = charge.line.mark.and_then(|id| sights.get(&id).copied());
        sight.map(|sight| phase_of(scene, sight))
    };
    for merge in scene.book.merges_of(scene.event, scene.division) {
        combine(merge, charges);
    }
    once(&phase, charges);
    for replace in scene.book.replaces_of(scene.event, scene.division) {
        apply(replace, charges);
    }
    // The narrow caps come first: what they give back no longer fills the wide ones.
    let mut caps = scene.book.caps_of(scene.event, scene.division);
    caps.sort_by_key(|cap| cap.per);
    caps.into_iter().flat_map(|cap| over(scene, cap, charges, &phase)).collect()
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
        let first = &mut charges[few[0]];
        first.set(merge.into);
        let reason = &mut first.line.reason;
        *reason = format!("{reason} {} of {} make it.", merge.count, merge.of.short());
    }
}

/// Leaves the amount to the first charge of a rule that is taken once.
fn once(phase: PhaseOf<'_>, charges: &mut [Charge]) {
    let mut taken: BTreeSet<(String, Place)> = BTreeSet::new();
    for charge in charges.iter_mut().filter(|charge| charge.line.status == Status::Taken) {
        let place = match charge.counts {
            Counts::Each => continue,
            Counts::OncePerElement => (charge.act, None),
            Counts::OncePerPhase => (charge.act, phase(charge)),
            Counts::Once => (None, None),
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
    charge.set(Points::ZERO);
    charge.line.status = Status::NotCounted;
    charge.line.reason = format!("{} {why}", charge.line.reason);
}

/// Takes what lies above the cap off the charges that it limits, and returns a line for each place.
fn over(scene: &Scene<'_>, cap: &Cap, charges: &mut [Charge], phase: PhaseOf<'_>) -> Vec<Line> {
    // What belongs to no element, or to no phase, is not of one.
    let place = |charge: &Charge| match cap.per {
        Per::Phase => charge.act.zip(phase(charge)).map(|(act, at)| (Some(act), Some(at))),
        Per::Element => charge.act.map(|act| (Some(act), None)),
        Per::Exercise => Some((None, None)),
    };
    let mut places: BTreeMap<Place, Vec<usize>> = BTreeMap::new();
    let mut lifted: BTreeSet<Place> = BTreeSet::new();
    for (at, charge) in charges.iter().enumerate() {
        let Some(place) = place(charge) else { continue };
        if cap.lifted_by.contains(&charge.line.rule) && charge.line.status == Status::Taken {
            lifted.insert(place);
        }
        if cap.limits(&charge.line.rule, &charge.groups) {
            places.entry(place).or_default().push(at);
        }
    }
    places.retain(|place, _| !lifted.contains(place));
    let mut lines = Vec::new();
    for (place, limited) in places {
        let sum: Points = limited.iter().map(|at| charges[*at].left).sum();
        let limit = limit(scene, cap, place.0);
        let mut more = sum - limit;
        if more <= Points::ZERO {
            continue;
        }
        lines.push(give_back(scene, cap, place, [sum, limit]));
        // What came first is taken first.
        for at in limited.into_iter().rev() {
            let less = charges[at].left.min(more);
            charges[at].left -= less;
            more -= less;
        }
    }
    lines
}

/// Returns the cap's limit at the element, with the element's own worth where the book adds it.
fn limit(scene: &Scene<'_>, cap: &Cap, act: Option<usize>) -> Points {
    let element = act.and_then(|act| scene.acts[act].element).filter(|_| cap.plus_value);
    element.map_or(cap.at_most, |element| cap.at_most + scene.book.worth(element, scene.division))
}

fn give_back(scene: &Scene<'_>, cap: &Cap, (act, phase): Place, [sum, limit]: [Points; 2]) -> Line {
    let during = phase.map_or("", Phase::words);
    Line {
        rule: cap.id.clone(),
        label: cap.label.clone(),
        amount: limit - sum,
        status: Status::Taken,
        frames: match act {
            Some(act) => scene.frames.at(&scene.acts[act].mark.at),
            None => scene.frames.span(),
        },
        reason: format!("Together {}{during}, and at most {} counts.", sum.short(), limit.short()),
        page: cap.page.clone(),
        mark: act.map(|act| scene.acts[act].mark.id),
        under: String::new(),
    }
}
