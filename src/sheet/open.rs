//! Everything that the evidence of a routine leaves open, and the worlds that follow from it.

use crate::marks::{Manner, Mark, Seen, What};

use super::{
    angles,
    scene::Scene,
    vault,
    world::{Fact, Question, World},
};

/// Every combination is tried up to this many.
pub const COMBINATIONS: usize = 4096;

/// Returns what is known, and the questions that are open, in a fixed order.
pub fn open(scene: &Scene<'_>) -> (World, Vec<Question>) {
    let mut world = World::default();
    let mut questions = Vec::new();
    angles::ask(scene, &mut world, &mut questions);
    let acts = scene.acts.iter().map(|act| act.mark);
    for mark in acts.chain(scene.sights.iter().map(|sight| sight.mark)) {
        ask_mark(mark, &mut questions);
    }
    vault::ask(scene, &mut questions);
    (world, questions)
}

fn ask_mark(mark: &Mark, questions: &mut Vec<Question>) {
    if matches!(mark.seen, Seen::CantTell | Seen::NotVisible) && mark.what != What::Note {
        // An element in doubt is the athlete's; a fault in doubt is not taken.
        let given = matches!(mark.what, What::Element { .. } | What::Landing { .. });
        let options = vec![Fact::Stands(mark.id, true), Fact::Stands(mark.id, false)];
        questions.push(Question { options, taken: usize::from(!given) });
    }
    if let What::Contact(contact) = &mark.what
        && contact.manner == Manner::CantTell
    {
        let brush = Fact::Manner(mark.id, Manner::Brush);
        let support = Fact::Manner(mark.id, Manner::Support);
        questions.push(Question { options: vec![brush, support], taken: 0 });
    }
}

/// Returns the worlds to be tried, the one shown first, and whether they are all there are.
pub fn worlds(world: &World, questions: &[Question]) -> (Vec<World>, bool) {
    let count = questions
        .iter()
        .try_fold(1_usize, |count, question| count.checked_mul(question.options.len()));
    let shown = world.shown(questions);
    match count {
        Some(count) if count <= COMBINATIONS => (every(&shown, questions), true),
        _ => (some(&shown, questions), false),
    }
}

fn every(shown: &World, questions: &[Question]) -> Vec<World> {
    let mut worlds = vec![shown.clone()];
    for question in questions {
        let others = question.options.iter().enumerate().filter(|(at, _)| *at != question.taken);
        let changed: Vec<World> = others
            .flat_map(|(_, fact)| {
                worlds.iter().map(|world| {
                    let mut world = world.clone();
                    world.take(*fact);
                    world
                })
            })
            .collect();
        worlds.extend(changed);
    }
    worlds
}

/// Returns the world shown, each single other answer, and the first and the last of all answers.
fn some(shown: &World, questions: &[Question]) -> Vec<World> {
    let with = |facts: &mut dyn Iterator<Item = Fact>| {
        let mut world = shown.clone();
        facts.for_each(|fact| world.take(fact));
        world
    };
    let mut worlds = vec![shown.clone()];
    worlds.push(with(&mut questions.iter().filter_map(|q| q.options.first().copied())));
    worlds.push(with(&mut questions.iter().filter_map(|q| q.options.last().copied())));
    for question in questions {
        worlds.extend(question.options.iter().map(|fact| with(&mut std::iter::once(*fact))));
    }
    worlds
}
