//! Angle rules: whether they are met, what credit is kept, what they cost.

use std::collections::BTreeSet;

use stillcall::marks::Quantity;

use super::{
    read::{Row, Under},
    routine::Done,
    scene::{Scene, World},
};

fn quantity(rule: Row<'_>) -> Quantity {
    if rule.text("quantity") == "split" { Quantity::Split } else { Quantity::OffVertical }
}

pub(super) fn rules_of<'b>(under: &'b Under<'b>, id: &str) -> Vec<Row<'b>> {
    let asks = |rule: &Row<'_>| {
        rule.names("elements").iter().any(|own| own == id) || under.has_tag(id, &rule.names("tags"))
    };
    under.rows("angle").into_iter().filter(asks).collect()
}

/// What an element becomes, what that becomes, and so on, each once.
pub(super) fn lower(under: &Under<'_>, id: &str) -> Vec<String> {
    let becomes = |id: &str| under.element(id).map(|row| row.text("becomes"));
    let mut lower: Vec<String> = Vec::new();
    let mut next = becomes(id);
    while let Some(id) = next.filter(|id| !id.is_empty() && !lower.contains(id)) {
        next = becomes(&id);
        lower.push(id);
    }
    lower
}

/// The angle rules that ask something of an element.
pub(super) fn asked<'s>(scene: &Scene<'s>, element: usize) -> Vec<Row<'s>> {
    rules_of(scene.under, &scene.shown[element].id)
}

fn called(scene: &Scene<'_>, element: usize, rule: Row<'_>) -> Option<bool> {
    let calls = &scene.done.steps[scene.shown[element].step].calls;
    calls.iter().find(|(asks, _)| *asks == rule.text("id")).map(|(_, is_met)| *is_met)
}

/// How far an element is short of what a rule asks, and whether it misses it.
fn short(scene: &Scene<'_>, element: usize, rule: Row<'_>) -> (f64, bool) {
    let step = scene.shown[element].step;
    let readings = &scene.done.steps[step].readings;
    let read = readings.iter().find(|(of, _)| *of == quantity(rule)).map(|(_, value)| *value);
    let imagined = || scene.world.angles.get(&(step, quantity(rule))).copied();
    missed(rule, read.or_else(imagined).unwrap_or_default())
}

/// How far a value is short of what a rule asks, and whether it misses it.
fn missed(rule: Row<'_>, mut value: f64) -> (f64, bool) {
    if let Some(steps) = rule.number("round_to") {
        // Halves go up.
        value = (value / steps + 0.5).floor() * steps;
    }
    let target = rule.number("target").unwrap_or_default();
    let (short, is_met) = match rule.text("side").as_str() {
        "at-least" => (target - value, value >= target),
        "above" => (target - value, value > target),
        "at-most" => (value - target, value <= target),
        _ => (value - target, value < target),
    };
    (short.max(0.0), !is_met)
}

pub(super) fn is_met(scene: &Scene<'_>, element: usize, rule: Row<'_>) -> bool {
    called(scene, element, rule).unwrap_or_else(|| !short(scene, element, rule).1)
}

/// Credit is kept where the rule is met, or missed by no more than `gate_within`.
pub(super) fn keeps_credit(scene: &Scene<'_>, element: usize, rule: Row<'_>) -> bool {
    if let Some(is_met) = called(scene, element, rule) {
        return is_met;
    }
    let (short, is_missed) = short(scene, element, rule);
    let within = rule.number("gate_within");
    !is_missed || within.is_some_and(|within| short <= within)
}

/// What the bands take.
pub(super) fn cost(scene: &Scene<'_>, element: usize, rule: Row<'_>) -> i64 {
    let bands = rule.inner("bands");
    if let Some(is_met) = called(scene, element, rule) {
        // Where a person calls, the book has one band.
        return if is_met {
            0
        } else {
            bands.first().and_then(|it| it.points("amount")).unwrap_or(0)
        };
    }
    let (short, is_missed) = short(scene, element, rule);
    if !is_missed {
        return 0;
    }
    let holds = |band: &Row<'_>| match band.number("up_to") {
        None => true,
        Some(end) if band.flag("inclusive", true) => short <= end,
        Some(end) => short < end,
    };
    // A band begins where the one before ends.
    let ends: Vec<f64> = bands.iter().map(|band| band.number("up_to").unwrap_or(0.0)).collect();
    let Some(at) = bands.iter().position(holds) else { return 0 };
    let Some(grows) = bands[at].inner("proportional").first().copied() else {
        return bands[at].points("amount").unwrap_or(0);
    };
    // An amount that grows through its band is rounded to the nearest of its steps.
    let begin = if at == 0 { 0.0 } else { ends[at - 1] };
    let points = |key: &str| grows.points(key).unwrap_or(0) as f64;
    let share = (short - begin) / (ends[at] - begin);
    let exact = points("from") + share * (points("to") - points("from"));
    ((exact / points("grid")).round() * points("grid")) as i64
}

/// The worlds of all angles that nobody read: each may be anything, so each end of each band is
/// tried, and a little less and more.
pub(super) fn worlds(under: &Under<'_>, done: &Done, absent: &[usize]) -> Vec<World> {
    let mut worlds = vec![World { absent: absent.to_vec(), ..World::default() }];
    for (at, step) in done.steps.iter().enumerate().filter(|(at, _)| !absent.contains(at)) {
        let super::routine::What::Element(id) = &step.what else { continue };
        let is_open = |rule: &Row<'_>| {
            !step.readings.iter().any(|(of, _)| *of == quantity(*rule))
                && !step.calls.iter().any(|(asks, _)| *asks == rule.text("id"))
        };
        let own = rules_of(under, id);
        let below = lower(under, id).into_iter().flat_map(|id| rules_of(under, &id));
        let is_of_own =
            |rule: &Row<'_>| own.iter().any(|own| own.text("quantity") == rule.text("quantity"));
        let below = below.filter(|rule| !rule.names("gates").is_empty()).filter(is_of_own);
        let all = own.iter().copied().chain(below);
        let open: Vec<Row<'_>> = all.filter(is_open).collect();
        let quantities: BTreeSet<String> = open.iter().map(|rule| rule.text("quantity")).collect();
        for name in quantities {
            let rules: Vec<Row<'_>> =
                open.iter().copied().filter(|rule| rule.text("quantity") == name).collect();
            let mut values: Vec<f64> = rules.iter().flat_map(|rule| edges(*rule)).collect();
            values.sort_by(f64::total_cmp);
            values.dedup();
            // What was called holds for what is imagined.
            let called = step.calls.iter().filter_map(|(asks, is_met)| {
                let rule = own.iter().find(|rule| rule.text("id") == *asks)?;
                (rule.text("quantity") == name).then_some((*rule, *is_met))
            });
            let called: Vec<(Row<'_>, bool)> = called.collect();
            values.retain(|value| called.iter().all(|(rule, met)| missed(*rule, *value).1 != *met));
            let split = |world: &World| {
                let set = |value: &f64| {
                    let mut world = world.clone();
                    world.angles.insert((at, quantity(rules[0])), *value);
                    world
                };
                values.iter().map(set).collect::<Vec<World>>()
            };
            worlds = worlds.iter().flat_map(split).collect();
        }
    }
    worlds
}

fn edges(rule: Row<'_>) -> Vec<f64> {
    let target = rule.number("target").unwrap_or_default();
    let ends = rule.inner("bands").into_iter().filter_map(|band| band.number("up_to"));
    let ends: Vec<f64> = ends.chain(rule.number("gate_within")).chain([0.0]).collect();
    let step = rule.number("round_to").unwrap_or(0.5);
    let sign = if rule.text("side").starts_with("at-l") || rule.text("side") == "above" {
        -1.0
    } else {
        1.0
    };
    let around = |end: f64| [-step, 0.0, step].map(|more| target + sign * (end + more));
    ends.into_iter().flat_map(around).collect()
}
