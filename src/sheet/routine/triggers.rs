//! Whether a mark brings a rule about.

use crate::{
    marks::{Contact, Manner, Phase, What},
    rulebook::{Trigger, When},
};

use super::{
    scene::{Scene, Sight},
    world::World,
};

/// Returns whether the mark brings the rule about in this world.
pub(crate) fn triggers(scene: &Scene<'_>, world: &World, sight: &Sight<'_>, when: &When) -> bool {
    match (&when.trigger, &sight.mark.what) {
        (Trigger::Fall, What::Fall) | (Trigger::Stop, What::Stop) => true,
        (Trigger::Spot { phases }, What::Spot) => {
            phases.is_empty() || phases.contains(&phase_of(scene, sight))
        }
        (Trigger::Swing { after }, What::Swing) => {
            after.is_empty()
                || sight
                    .act
                    .and_then(|act| scene.acts[act].element)
                    .is_some_and(|element| after.iter().any(|tag| element.tags.contains(tag)))
        }
        (Trigger::Landing { on: wanted }, What::Landing { on, .. }) => takes(wanted, on),
        (Trigger::Contact { parts, phases, manners }, What::Contact(contact)) => {
            let manner = world.manners.get(&sight.mark.id).copied().unwrap_or(contact.manner);
            takes(parts, &contact.part) && takes(phases, &contact.phase) && takes(manners, &manner)
        }
        _ => false,
    }
}

/// Returns whether the rule is about marks of this sort at all, in whatever manner.
pub(crate) fn is_about(sight: &Sight<'_>, when: &When) -> bool {
    match (&when.trigger, &sight.mark.what) {
        (Trigger::Fall, What::Fall)
        | (Trigger::Spot { .. }, What::Spot)
        | (Trigger::Stop, What::Stop)
        | (Trigger::Swing { .. }, What::Swing) => true,
        (Trigger::Landing { on: wanted }, What::Landing { on, .. }) => {
            !wanted.is_empty() && takes(wanted, on)
        }
        (Trigger::Contact { parts, phases, manners }, What::Contact(contact)) => {
            let Contact { part, phase, manner } = contact;
            takes(parts, part)
                && takes(phases, phase)
                && (*manner == Manner::CantTell || takes(manners, manner))
        }
        _ => false,
    }
}

/// Returns in which phase of a vault a mark lies: hands on, hands off and landing divide them.
pub(crate) fn phase_of(scene: &Scene<'_>, sight: &Sight<'_>) -> Phase {
    let here = sight.mark.at.order();
    let [on, off, landed] = scene.passed.map(|begin| begin.is_some_and(|begin| begin <= here));
    if landed {
        Phase::Landing
    } else if off {
        Phase::SecondFlight
    } else if on {
        Phase::Support
    } else {
        Phase::FirstFlight
    }
}

fn takes<T: PartialEq>(wanted: &[T], is: &T) -> bool {
    wanted.is_empty() || wanted.contains(is)
}
