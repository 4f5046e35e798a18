//! The score of a routine by the guide's sentences, world by world.

use std::collections::BTreeMap;

use super::{
    adds, angles, charges, ledger, parts,
    read::{Row, Under},
    routine::Done,
    scene::{Scene, World},
    serve, settle,
};

/// What one world comes to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Outcome {
    /// Nothing where it is void.
    pub score: Option<i64>,
    pub start: i64,
    pub missing_parts: i64,
    pub missing_requirements: i64,
    /// What each rule takes, less than nothing where it adds or gives back.
    pub taken: BTreeMap<String, i64>,
}

/// Returns the worlds of a routine.
pub(super) fn worlds(under: &Under<'_>, done: &Done) -> Vec<World> {
    let open: Vec<usize> = (0..done.steps.len()).filter(|at| done.steps[*at].is_open).collect();
    let mut worlds = Vec::new();
    for bits in 0..1_usize << open.len() {
        let absent: Vec<usize> = open
            .iter()
            .enumerate()
            .filter(|(at, _)| bits >> at & 1 == 1)
            .map(|(_, at)| *at)
            .collect();
        worlds.extend(angles::worlds(under, done, &absent));
    }
    worlds
}

/// Returns the scene of a world, with the credit that is lost in it.
pub(super) fn scene<'s>(
    under: &'s Under<'s>,
    done: &'s Done,
    world: &'s World,
) -> (Scene<'s>, charges::Charges) {
    let mut scene = Scene::new(under, done, world);
    scene.lose_by_angles();
    let charges = charges::charges(&mut scene);
    (scene, charges)
}

pub(super) fn outcome(under: &Under<'_>, done: &Done, world: &World) -> Outcome {
    let Some(scoring) = under.row("scoring") else { return Outcome::default() };
    let (scene, charges) = scene(under, done, world);
    let happened: Vec<(String, Option<usize>)> =
        charges.all.iter().map(|charge| (charge.rule.clone(), charge.element)).collect();
    let is_void = charges.is_void;
    let settled = settle::settle(&scene, charges.all);

    let counting = parts::counting(&scene);
    let asked = under.row("value_parts");
    let missing_parts = asked.map_or(0, |row| parts::least_missing(&scene, row, &counting));
    let requirements = under.rows("requirement");
    let missing_requirements = serve::least_missing(&scene, &requirements);
    // What no part holds changes no score.
    let added = if ledger::is_held(scoring, "bonus") {
        adds::added(&scene, &happened)
    } else {
        BTreeMap::new()
    };
    let bonus: i64 = added.values().sum();

    // A vault brings its start value.
    let vault = under.element("over").filter(|_| under.event == "vault");
    let vault = vault.and_then(|row| row.inner("vault").first().and_then(|it| it.points("value")));
    let price = |row: &Row<'_>| row.points("price").unwrap_or(0);
    let count = |row: &Row<'_>| row.count("count").unwrap_or(1) as i64;
    let whole = |row: &Row<'_>| price(row) * if row.flag("each", false) { count(row) } else { 1 };
    let elements = if ledger::is_held(scoring, "elements") {
        parts::most_worth(&scene, scoring, &counting)
    } else {
        0
    };
    let brings = ledger::Brings {
        vault,
        elements,
        asked: requirements.iter().map(whole).sum(),
        missing_requirements,
        missing_parts,
        bonus,
    };
    let left: Vec<(&charges::Charge, i64)> =
        settled.charges.iter().zip(settled.left.iter().copied()).collect();
    let (start, score) = ledger::added_up(scoring, &brings, &left);
    let score = scoring.points("ceiling").map_or(score, |ceiling| score.min(ceiling));
    let score = score.max(scoring.points("floor").unwrap_or(0));

    let mut taken: BTreeMap<String, i64> = BTreeMap::new();
    for charge in &settled.charges {
        *taken.entry(charge.rule.clone()).or_default() += charge.amount;
    }
    for (id, back) in &settled.given_back {
        *taken.entry(id.clone()).or_default() -= back;
    }
    for (id, more) in &added {
        *taken.entry(id.clone()).or_default() -= more;
    }
    taken.retain(|_, amount| *amount != 0);
    let score = (!is_void).then_some(score);
    Outcome { score, start, missing_parts, missing_requirements, taken }
}
