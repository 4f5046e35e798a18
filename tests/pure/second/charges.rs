//! What each rule takes by itself, before anything is settled.

use std::collections::BTreeSet;

use stillcall::marks::What as Marked;

use super::{
    angles,
    read::Row,
    routine::What,
    scene::{Scene, Shown},
    text,
};

/// An amount that a rule takes.
#[derive(Clone, Debug)]
pub(super) struct Charge {
    pub rule: String,
    pub amount: i64,
    /// The element that it belongs to.
    pub element: Option<usize>,
    /// Of a vault, in which phase; nothing where it belongs to none.
    pub phase: Option<usize>,
    pub groups: Vec<String>,
    pub counts: String,
    pub is_neutral: bool,
    /// The step of its mark, and which of several at one mark comes first; what has none comes before.
    pub place: (Option<usize>, usize),
}

/// What a world takes, and whether it counts nothing.
#[derive(Default)]
pub(super) struct Charges {
    pub all: Vec<Charge>,
    pub is_void: bool,
}

impl Charges {
    fn add(&mut self, row: Row<'_>, amount: i64, (element, phase): Place) {
        self.all.push(Charge {
            rule: row.text("id"),
            amount,
            element,
            phase,
            groups: row.names("group"),
            counts: row.text("counts"),
            is_neutral: row.flag("neutral", false),
            place: (None, 0),
        });
    }
}

/// Where something was seen: at which element, and in which phase of a vault.
type Place = (Option<usize>, Option<usize>);

/// In which phase of a vault a step is: they begin with the hands on, the hands off, the landing.
fn phase(scene: &Scene<'_>, step: usize) -> Option<usize> {
    if scene.under.event != "vault" {
        return None;
    }
    let begun = |step: &usize| match &scene.done.steps[*step].what {
        What::Seen(Marked::HandContact { .. }) => 1,
        What::Seen(Marked::HandRelease) => 2,
        What::Seen(Marked::Landing { .. }) => 3,
        _ => 0,
    };
    scene.steps().iter().filter(|at| **at <= step).map(begun).max()
}

/// Returns what everything takes; what loses its credit by it is noted in the scene.
pub(super) fn charges(scene: &mut Scene<'_>) -> Charges {
    let mut charges = Charges::default();
    for step in scene.steps() {
        let place = (scene.element_of(step), phase(scene, step));
        let before = charges.all.len();
        fault(scene, step, place, &mut charges);
        whens(scene, step, place, &mut charges);
        charges.all[before..].iter_mut().for_each(|charge| charge.place = (Some(step), 0));
    }
    facts(scene, &mut charges);
    times(scene, &mut charges);
    let before = charges.all.len();
    for element in 0..scene.shown.len() {
        for rule in angles::asked(scene, element) {
            let amount = angles::cost(scene, element, rule);
            if amount != 0 {
                charges.add(rule, amount, (Some(element), None));
            }
        }
    }
    at_elements(scene, before, 1, &mut charges);
    let before = charges.all.len();
    not_allowed(scene, &mut charges);
    at_elements(scene, before, 2, &mut charges);
    let before = charges.all.len();
    too_many(scene, &mut charges);
    too_few(scene, &mut charges);
    at_elements(scene, before, 4, &mut charges);
    for row in scene.under.rows("text") {
        for (amount, element) in text::held_against(scene, row) {
            charges.add(row, amount, (element, None));
        }
    }
    charges.all.sort_by_key(|charge| charge.place);
    charges
}

/// What was added last is marked by its elements.
fn at_elements(scene: &Scene<'_>, from: usize, after: usize, charges: &mut Charges) {
    for charge in &mut charges.all[from..] {
        charge.place = (charge.element.map(|element| scene.shown[element].step), after);
    }
}

fn fault(scene: &mut Scene<'_>, step: usize, place: Place, charges: &mut Charges) {
    let What::Fault(id, chosen) = &scene.done.steps[step].what else { return };
    let under = scene.under;
    let Some(row) = under.rows("fault").into_iter().find(|row| row.text("id") == *id) else {
        return;
    };
    let chosen = chosen.unwrap_or(0);
    let worth = place.0.map_or(0, |element| under.worth(&scene.shown[element].id));
    let amount = if let Some(amount) = row.points("amount") {
        amount
    } else if let Some(most) = row.points("up_to") {
        chosen.min(most)
    } else if let Some(times) = row.number("of_value") {
        (worth as f64 * times).round() as i64
    } else {
        chosen
    };
    charges.is_void |= row.flag("void", false);
    charges.add(row, amount, place);
    scene.lose(place.0, &row.names("removes"));
}

fn whens(scene: &mut Scene<'_>, step: usize, place: Place, charges: &mut Charges) {
    let What::Seen(seen) = &scene.done.steps[step].what else { return };
    let under = scene.under;
    for row in under.rows("when") {
        let follows = || {
            let after = row.names("after");
            let tags = |element: usize| under.has_tag(&scene.shown[element].id, &after);
            after.is_empty() || place.0.is_some_and(tags)
        };
        let holds = match (row.text("mark").as_str(), seen) {
            ("fall", Marked::Fall) | ("spot", Marked::Spot) | ("stop", Marked::Stop) => true,
            ("swing", Marked::Swing) => follows(),
            _ => false,
        };
        let phases = row.names("phases");
        let names = ["first_flight", "support", "second_flight", "landing"];
        let now = place.1.map_or("", |phase| names[phase]);
        if holds && (phases.is_empty() || phases.iter().any(|phase| phase == now)) {
            charges.is_void |= row.flag("void", false);
            charges.add(row, row.points("amount").unwrap_or(0), place);
            scene.lose(place.0, &row.names("removes"));
        }
    }
}

fn facts(scene: &Scene<'_>, charges: &mut Charges) {
    for row in scene.under.rows("when").into_iter().filter(|row| row.text("mark") == "fact") {
        let Some(value) = scene.done.facts.get(&row.text("fact")) else { continue };
        let number: Option<f64> = value.parse().ok();
        let beyond = |key: &str, is: fn(f64, f64) -> bool| {
            number.zip(row.number(key)).is_some_and(|(number, limit)| is(number, limit))
        };
        let holds = row.names("is").contains(value)
            || beyond("below", |number, limit| number < limit)
            || beyond("above", |number, limit| number > limit);
        if holds {
            charges.is_void |= row.flag("void", false);
            charges.add(row, row.points("amount").unwrap_or(0), (None, None));
        }
    }
}

fn times(scene: &mut Scene<'_>, charges: &mut Charges) {
    let under = scene.under;
    for row in under.rows("time") {
        let of = row.text("of");
        let mut timed: Vec<(i64, Place, Option<usize>)> = Vec::new();
        if of == "exercise" {
            timed.push((scene.done.ticks, (None, None), None));
        }
        for step in scene.steps() {
            let asks = match &scene.done.steps[step].what {
                What::Seen(Marked::Fall) => of == "fall",
                What::Seen(Marked::Stop) => of == "stop",
                What::Element(id) => {
                    let is_named = row.names("elements").contains(id);
                    of == "element" && (is_named || under.has_tag(id, &row.names("tags")))
                }
                _ => false,
            };
            // What is marked on one frame has no length.
            let lasts = scene.done.steps[step].lasts;
            if asks && lasts > 0 {
                timed.push((lasts, (scene.element_of(step), phase(scene, step)), Some(step)));
            }
        }
        for (ticks, place, step) in timed {
            let limit = |key: &str| row.number(key).map(|seconds| (seconds * 900.0).round() as i64);
            let is_short = limit("at_least").is_some_and(|least| ticks < least);
            let is_long = limit("at_most").is_some_and(|most| ticks > most);
            if is_short || is_long {
                charges.is_void |= row.flag("void", false);
                charges.add(row, row.points("amount").unwrap_or(0), place);
                charges.all.iter_mut().last().into_iter().for_each(|it| it.place = (step, 3));
                if of == "element" {
                    scene.lose(place.0, &row.names("removes"));
                }
            }
        }
    }
}

fn not_allowed(scene: &Scene<'_>, charges: &mut Charges) {
    let Some(scoring) = scene.under.row("scoring") else { return };
    for element in (0..scene.shown.len()).filter(|at| !scene.shown[*at].is_allowed) {
        match scoring.text("not_allowed").as_str() {
            "void" => charges.is_void = true,
            "amount" => charges.all.push(Charge {
                rule: "not-allowed".to_owned(),
                amount: scoring.points("not_allowed_amount").unwrap_or(0),
                element: Some(element),
                phase: None,
                groups: Vec::new(),
                counts: String::new(),
                is_neutral: false,
                place: (None, 0),
            }),
            _ => {}
        }
    }
}

fn too_many(scene: &Scene<'_>, charges: &mut Charges) {
    let under = scene.under;
    for row in under.rows("too_many") {
        let is_meant = |id: &String| {
            let class = under.element(id).map(|row| row.text("class")).unwrap_or_default();
            row.names("elements").contains(id)
                || under.has_tag(id, &row.names("tags"))
                || row.names("classes").contains(&class)
        };
        let meant = (0..scene.shown.len()).filter(|at| is_meant(&scene.shown[*at].id));
        for element in meant.skip(row.count("at_most").unwrap_or(0)) {
            charges.is_void |= row.flag("void", false);
            charges.add(row, row.points("amount").unwrap_or(0), (Some(element), None));
        }
    }
}

fn too_few(scene: &Scene<'_>, charges: &mut Charges) {
    let different = |shown: &Shown| scene.under.family(&shown.counts_as);
    let different: BTreeSet<String> = scene.shown.iter().map(different).collect();
    for row in scene.under.rows("too_few") {
        let fits =
            |step: &Row<'_>| step.count("below").is_some_and(|below| different.len() < below);
        if let Some(step) = row.inner("steps").into_iter().rfind(fits) {
            charges.add(row, step.points("amount").unwrap_or(0), (None, None));
        }
    }
}
