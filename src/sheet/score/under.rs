//! Under what each deduction stands: its element, or the phase of the vault.

use std::collections::BTreeMap;

use crate::{
    marks::{Id, Phase},
    sheet::{
        model::Line,
        routine::{
            scene::{Scene, Sight},
            triggers::phase_of,
        },
    },
};

/// Writes at each line under what it stands.
pub(crate) fn place<'l>(scene: &Scene<'_>, lines: impl Iterator<Item = &'l mut Line>) {
    let names = names(scene);
    let acts = scene.acts.iter().enumerate().map(|(act, it)| (it.mark.id, (act, None)));
    let sights = scene
        .sights
        .iter()
        .filter_map(|sight| sight.act.map(|act| (sight.mark.id, (act, Some(sight)))));
    // A vault that nobody named is known by one of its own marks.
    let places: BTreeMap<Id, (usize, Option<&Sight<'_>>)> = acts.chain(sights).collect();
    for line in lines {
        let Some((act, sight)) = line.mark.and_then(|mark| places.get(&mark)) else { continue };
        let is_vault = scene.acts[*act].element.is_some_and(|element| element.vault.is_some());
        let phase = sight.filter(|_| is_vault).map(|sight| phase_of(scene, sight));
        line.under =
            phase.map_or_else(|| names[*act].clone(), |phase| phase_name(phase).to_owned());
    }
}

/// Returns the elements' names, with a number where one is shown again.
fn names(scene: &Scene<'_>) -> Vec<String> {
    let mut shown: BTreeMap<&str, usize> = BTreeMap::new();
    let name = |act: usize| {
        let name = scene.name_of(act);
        let often = shown.entry(name).or_default();
        *often += 1;
        if *often == 1 { name.to_owned() } else { format!("{name} ({often})") }
    };
    (0..scene.acts.len()).map(name).collect()
}

const fn phase_name(phase: Phase) -> &'static str {
    match phase {
        Phase::FirstFlight => "First flight",
        Phase::Support => "Support",
        Phase::SecondFlight => "Second flight",
        Phase::Landing => "Landing",
    }
}
