//! What is left of the charges, in the order that the guide gives.

use std::collections::BTreeMap;

use super::{charges::Charge, read::Row, scene::Scene};

/// What a limit gave back, and of which charges.
pub(super) struct Settled {
    pub charges: Vec<Charge>,
    /// By the cap's id.
    pub given_back: BTreeMap<String, i64>,
    /// What is left of each charge after the limits.
    pub left: Vec<i64>,
}

pub(super) fn settle(scene: &Scene<'_>, mut charges: Vec<Charge>) -> Settled {
    merge(scene, &mut charges);
    count_once(&mut charges);
    replace(scene, &mut charges);
    let mut settled = Settled {
        left: charges.iter().map(|charge| charge.amount).collect(),
        charges,
        given_back: BTreeMap::new(),
    };
    for per in ["phase", "element", "exercise"] {
        for row in scene.under.rows("cap") {
            let own = row.text("per");
            if own == per || (own.is_empty() && per == "exercise") {
                limit(scene, row, per, &mut settled);
            }
        }
    }
    settled
}

/// So many small ones of a rule at one element become a larger one.
fn merge(scene: &Scene<'_>, charges: &mut Vec<Charge>) {
    for row in scene.under.rows("merge") {
        let (of, into) = (row.points("of").unwrap_or(0), row.points("into").unwrap_or(0));
        let count = row.count("count").unwrap_or(2);
        loop {
            let small = |charge: &Charge| charge.rule == row.text("rule") && charge.amount == of;
            let alike = (0..scene.shown.len()).find_map(|element| {
                let is = |at: &usize| small(&charges[*at]) && charges[*at].element == Some(element);
                let alike: Vec<usize> = (0..charges.len()).filter(is).take(count).collect();
                (alike.len() == count).then_some(alike)
            });
            let Some(alike) = alike else { break };
            charges[alike[0]].amount = into;
            for at in alike[1..].iter().rev() {
                charges.remove(*at);
            }
            if of == into {
                break;
            }
        }
    }
}

fn count_once(charges: &mut Vec<Charge>) {
    let mut kept: Vec<Charge> = Vec::new();
    for charge in charges.drain(..) {
        let again = kept.iter().any(|other| {
            other.rule == charge.rule
                && match charge.counts.as_str() {
                    "once" => true,
                    "once-per-element" => other.element == charge.element,
                    "once-per-phase" => other.phase == charge.phase,
                    _ => false,
                }
        });
        if !again {
            kept.push(charge);
        }
    }
    *charges = kept;
}

fn replace(scene: &Scene<'_>, charges: &mut Vec<Charge>) {
    for row in scene.under.rows("replace") {
        let (rule, drops) = (row.text("rule"), row.names("drops"));
        let stands: Vec<Option<usize>> =
            charges.iter().filter(|it| it.rule == rule).map(|it| it.element).collect();
        charges.retain(|it| !(drops.contains(&it.rule) && stands.contains(&it.element)));
    }
}

/// Gives back what is above a limit, from the last charge on.
fn limit(scene: &Scene<'_>, row: Row<'_>, per: &str, settled: &mut Settled) {
    let group = row.names("group");
    let spared = row.names("except");
    let is_meant = |charge: &Charge| {
        let is_of = group.is_empty() || charge.groups.iter().any(|own| group.contains(own));
        is_of && !spared.contains(&charge.rule)
    };
    let lifting = row.names("lifted_by");
    let parts: Vec<Option<usize>> = match per {
        "phase" => (0..4).map(Some).collect(),
        "element" => (0..scene.shown.len()).map(Some).collect(),
        _ => vec![None],
    };
    for part in parts {
        let is_here = |charge: &Charge| match per {
            "phase" => charge.phase == part,
            "element" => charge.element == part,
            _ => true,
        };
        let here = |at: &usize| is_here(&settled.charges[*at]);
        let own: Vec<usize> = (0..settled.charges.len()).filter(here).collect();
        if own.iter().any(|at| lifting.contains(&settled.charges[*at].rule)) {
            continue;
        }
        let own: Vec<usize> =
            own.into_iter().filter(|at| is_meant(&settled.charges[*at])).collect();
        let mut at_most = row.points("at_most").unwrap_or(0);
        if row.flag("plus_value", false) {
            at_most += part.map_or(0, |element| scene.under.worth(&scene.shown[element].id));
        }
        let mut over = own.iter().map(|at| settled.left[*at]).sum::<i64>() - at_most;
        for at in own.into_iter().rev() {
            let back = over.min(settled.left[at]).max(0);
            settled.left[at] -= back;
            over -= back;
            if back > 0 {
                *settled.given_back.entry(row.text("id")).or_default() += back;
            }
        }
    }
}
