//! The lines of the elements: what each counts for.

use std::collections::BTreeMap;

use crate::{
    rulebook::Element,
    sheet::{
        evidence::decisions::decisions,
        model::{ElementLine, RequirementLine, Status},
        routine::{scene::Scene, world::World},
    },
};

use super::{best::Best, earned::Earned, value_parts::Parts};

/// Returns one line for every element in order.
pub(crate) fn lines(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    (parts, best): (&Parts, &Best),
    requirements: &[RequirementLine],
) -> Vec<ElementLine> {
    let partners: BTreeMap<&str, &Element> = scene
        .book
        .elements_of(scene.event)
        .map(|element| (element.pair.as_str(), element))
        .collect();
    (0..scene.acts.len())
        .map(|act| {
            let mark = scene.acts[act].mark;
            let (status, reason) = worth(scene, (act, &earned[act]), (parts, best), &partners);
            let serves = requirements.iter().filter(|line| line.marks.contains(&mark.id));
            ElementLine {
                mark: mark.id,
                element: scene.acts[act].id.to_owned(),
                label: scene.name_of(act).to_owned(),
                class: class_of(scene, scene.acts[act].element).to_owned(),
                status,
                serves: serves.map(|line| line.id.clone()).collect(),
                frames: scene.frames.at(&mark.at),
                reason,
                decisions: decisions(scene, world, act),
                page: scene.acts[act].element.map(|e| e.page.clone()).unwrap_or_default(),
            }
        })
        .collect()
}

fn class_of<'b>(scene: &Scene<'b>, element: Option<&'b Element>) -> &'b str {
    element.map_or("", |element| element.class_in(scene.division))
}

fn worth(
    scene: &Scene<'_>,
    (act, earned): (usize, &Earned<'_>),
    (parts, best): (&Parts, &Best),
    partners: &BTreeMap<&str, &Element>,
) -> (Status, String) {
    let element = scene.acts[act].element;
    if element.is_some_and(|element| element.vault.is_some()) && earned.reason.is_empty() {
        let known = "Known by the turn before the hands, the turn after, and the facing.";
        let said = if scene.acts[act].written { "As written down." } else { known };
        return (Status::Met, said.to_owned());
    }
    let adds = || {
        let worth = earned.element.map(|element| scene.book.worth(element, scene.division));
        let worth = worth.unwrap_or_default();
        let counts = best.acts.binary_search(&act).is_ok();
        counts.then(|| format!("Counts toward difficulty with {}.", worth.short()))
    };
    if let Some(class) = &parts.fills[act] {
        let name = scene.book.class(class).map_or(class.as_str(), |class| class.name.as_str());
        let own = class_of(scene, earned.element) == class;
        let said = if own { "Counts" } else { "Fills a lower place" };
        let said = format!("{said} as a value part, {name}.");
        return (
            Status::Met,
            [Some(said), adds()].into_iter().flatten().collect::<Vec<_>>().join(" "),
        );
    }
    if let Some(said) = adds() {
        return (Status::Met, said);
    }
    let partner = element.and_then(|element| partners.get(element.id.as_str()));
    if let Some(partner) = partner {
        return (Status::NotCounted, format!("It makes one value part with {}.", partner.name));
    }
    let no_parts = parts.lines.is_empty();
    match (earned.part, earned.reason.as_str()) {
        (true, _) if best.is_asked => {
            (Status::NotCounted, "Better elements take all places that it could.".to_owned())
        }
        (true, _) if no_parts => (Status::NotCounted, "No value parts are asked for.".to_owned()),
        (true, _) => (Status::NotCounted, "All places it could fill are taken.".to_owned()),
        // Without a class, and nothing was lost.
        (false, "") => (Status::NotCounted, "It is no value part by itself.".to_owned()),
        (false, reason) => (Status::Missed, reason.to_owned()),
    }
}
