//! Which vault it was: by the turn before the hands, the turn after, and the facing at landing.

use crate::{
    marks::{Facing, Id, What},
    rulebook::{Element, Vault},
};

use super::{
    scene::Scene,
    world::{Fact, Question, World},
};

/// What is known of a vault.
#[derive(Clone, Debug, Default)]
pub(crate) struct Facts {
    before: Option<u16>,
    after: Option<u16>,
    facing: Option<Facing>,
    /// The mark that tells most.
    pub mark: Option<Id>,
}

impl Facts {
    /// Returns whether anything that tells is known.
    pub(crate) fn told(&self) -> bool {
        self.before.is_some() || self.after.is_some() || self.facing.is_some()
    }

    /// Returns whether everything that tells is known.
    fn complete(&self) -> bool {
        self.before.is_some() && self.after.is_some() && self.facing.is_some()
    }
}

/// What a vault turned out to be.
pub(crate) enum Named<'a> {
    /// One that the division may do.
    Listed(&'a Element),
    /// Known or not, the division's list does not have it.
    Unlisted(Option<&'a Element>),
    /// Nothing that tells is marked yet.
    NotYet,
}

/// Returns what the marks tell of the vault.
pub(crate) fn facts(scene: &Scene<'_>) -> Facts {
    let mut facts = Facts::default();
    for sight in &scene.sights {
        match sight.mark.what {
            What::HandContact { turn } if facts.before.is_none() => {
                facts.before = turn;
                facts.mark = facts.mark.or(Some(sight.mark.id));
            }
            What::Landing { turn, facing, .. } => {
                facts.after = facts.after.or(turn);
                facts.facing = facts.facing.or(facing);
                facts.mark = Some(sight.mark.id);
            }
            _ => {}
        }
    }
    facts
}

/// Returns the vault that was written down, where one was.
pub(crate) fn announced<'a>(scene: &Scene<'a>) -> Option<&'a Element> {
    let written = scene.acts.iter().filter(|act| act.written).filter_map(|act| act.element);
    written.into_iter().find(|element| element.vault.is_some())
}

/// Returns the vaults that the division may do and that fit what is known, in the book's order.
pub(crate) fn fitting<'a>(scene: &Scene<'a>, facts: &Facts) -> Vec<&'a Element> {
    let vaults = scene.book.vaults(scene.event, scene.division);
    vaults.filter(|element| element.vault.as_ref().is_some_and(|v| fits(v, facts))).collect()
}

/// Adds a question where several vaults fit because something is not marked.
pub(crate) fn ask(scene: &Scene<'_>, questions: &mut Vec<Question>) {
    let facts = facts(scene);
    let fitting = fitting(scene, &facts);
    if facts.told() && !facts.complete() && fitting.len() > 1 && announced(scene).is_none() {
        let options = (0..fitting.len()).map(Fact::Vault).collect();
        questions.push(Question { options, taken: 0 });
    }
}

/// Returns which vault it was in this world.
pub(crate) fn name<'a>(scene: &Scene<'a>, world: &World) -> Named<'a> {
    let facts = facts(scene);
    let announced = announced(scene);
    if !facts.told() {
        return match announced {
            Some(element) if scene.book.allowed(element, scene.division) => Named::Listed(element),
            Some(element) => Named::Unlisted(Some(element)),
            None => Named::NotYet,
        };
    }
    let fitting = fitting(scene, &facts);
    if let Some(same) = announced.filter(|same| fitting.iter().any(|other| other.id == same.id)) {
        return Named::Listed(same);
    }
    if let Some(found) = fitting.get(world.vault).or_else(|| fitting.first()) {
        return Named::Listed(found);
    }
    let elsewhere = scene
        .book
        .elements_of(scene.event)
        .find(|element| element.vault.as_ref().is_some_and(|vault| fits(vault, &facts)));
    Named::Unlisted(elsewhere)
}

fn fits(vault: &Vault, facts: &Facts) -> bool {
    let inside =
        |range: [u16; 2], is: Option<u16>| is.is_none_or(|is| (range[0]..=range[1]).contains(&is));
    inside(vault.before, facts.before)
        && vault.after.is_none_or(|after| inside(after, facts.after))
        && (vault.facing.is_none() || facts.facing.is_none() || vault.facing == facts.facing)
}
