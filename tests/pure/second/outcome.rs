//! The score of a routine by the guide's sentences, world by world.

use std::collections::BTreeMap;

use super::{
    adds, angles, charges, parts,
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
    let added = adds::added(&scene, &happened);
    let bonus: i64 = added.values().sum();

    let sum = |is: &dyn Fn(&charges::Charge) -> bool| -> i64 {
        let left = settled.charges.iter().zip(&settled.left);
        left.filter(|(charge, _)| is(charge)).map(|(_, left)| *left).sum()
    };
    let neutral = sum(&|charge| charge.is_neutral);
    let is_art = |charge: &charges::Charge| charge.groups.iter().any(|group| group == "artistry");
    let faults = sum(&|charge| !charge.is_neutral);
    // A vault brings its start value.
    let vault = under.element("over").filter(|_| under.event == "vault");
    let vault = vault.and_then(|row| row.inner("vault").first().and_then(|it| it.points("value")));
    let begin = vault.or_else(|| scoring.points("start")).unwrap_or(0);
    let (start, score) = match scoring.text("formula").as_str() {
        "start-minus" => {
            let start = begin - missing_parts - missing_requirements;
            (start, start - faults - neutral)
        }
        "start-minus-half" => {
            let start = begin - missing_parts - missing_requirements;
            (start, start - faults / 2 - neutral)
        }
        "buckets" => {
            let full = |key: &str| full(scoring, key);
            let start = (full("value_parts") - missing_parts).max(0)
                + (full("requirements") - missing_requirements).max(0)
                + full("artistry")
                + full("execution");
            let art = sum(&|charge| !charge.is_neutral && is_art(charge));
            (
                start,
                start - art.min(full("artistry")) - (faults - art).min(full("execution")) - neutral,
            )
        }
        _ => {
            let price = |row: &Row<'_>| row.points("price").unwrap_or(0);
            let count = |row: &Row<'_>| row.count("count").unwrap_or(1) as i64;
            let whole =
                |row: &Row<'_>| price(row) * if row.flag("each", false) { count(row) } else { 1 };
            let all: i64 = requirements.iter().map(whole).sum();
            let worth = parts::most_worth(&scene, scoring, &counting) + all
                - missing_requirements
                - missing_parts;
            let worth = worth.max(0);
            let at_most = scoring.points("difficulty_at_most").unwrap_or(i64::MAX);
            let execution = scoring.points("execution").unwrap_or(0);
            let start = worth.min(at_most) + execution;
            (start, start - faults.min(execution) - neutral)
        }
    };
    let score = score + bonus;
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

fn full(scoring: Row<'_>, bucket: &str) -> i64 {
    let buckets = scoring.inner("buckets");
    buckets.first().and_then(|row| row.points(bucket)).unwrap_or(0)
}
