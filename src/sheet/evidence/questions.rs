//! Everything that the evidence of a routine leaves open, and the worlds that follow from it.

use crate::{
    marks::{Manner, Mark, Seen, What},
    sheet::routine::{
        scene::Scene,
        vault,
        world::{Fact, Question, World},
    },
    units::Points,
};

use super::angle_questions;

/// Every combination is tried up to this many.
pub(crate) const COMBINATIONS: usize = 4096;

/// Returns what is known, and the questions that are open, in a fixed order.
pub(crate) fn open(scene: &Scene<'_>) -> (World, Vec<Question>) {
    let mut world = World::default();
    let mut questions = Vec::new();
    angle_questions::ask(scene, &mut world, &mut questions);
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

/// The worlds to be tried, the one shown first.
pub(crate) struct Worlds {
    /// The worlds.
    pub list: Vec<World>,
    /// Whether they are all there are.
    pub all: bool,
}

/// Returns the worlds to be tried for a routine of so many marks.
pub(crate) fn worlds(world: &World, questions: &[Question], marks: usize) -> Worlds {
    let count = questions
        .iter()
        .try_fold(1_usize, |count, question| count.checked_mul(question.options.len()));
    let shown = world.shown(questions);
    // Very long routines are tried in fewer worlds, so that no sheet takes minutes.
    let most = COMBINATIONS.min(EFFORT / marks.max(1)).max(2);
    match count {
        Some(count) if count <= most => Worlds { list: every(&shown, questions), all: true },
        _ => Worlds { list: single(&shown, questions, most), all: false },
    }
}

/// Marks times worlds are at most this many.
const EFFORT: usize = 1 << 20;

fn every(shown: &World, questions: &[Question]) -> Vec<World> {
    let mut worlds = vec![shown.clone()];
    for question in questions {
        let changed: Vec<World> = question
            .others()
            .flat_map(|fact| worlds.iter().map(move |world| world.with(fact)))
            .collect();
        worlds.extend(changed);
    }
    worlds
}

/// Returns the world shown and each single other answer, question by question.
fn single(shown: &World, questions: &[Question], most: usize) -> Vec<World> {
    let others = questions.iter().flat_map(Question::others).map(|fact| shown.with(fact));
    std::iter::once(shown.clone()).chain(others).take(most).collect()
}

/// Returns the two worlds in which every question has the answer that alone scored lowest and
/// highest; `scores` are those of the worlds of single answers, nothing where void.
pub(crate) fn extremes(
    shown: &World,
    questions: &[Question],
    scores: &[Option<Points>],
) -> [World; 2] {
    let mut ends = [shown.clone(), shown.clone()];
    let mut rest = scores.iter().copied().skip(1);
    for question in questions {
        let taken = question.options[question.taken];
        let mut alone = vec![(scores[0].unwrap_or_default(), taken)];
        let others = question.others().zip(rest.by_ref());
        alone.extend(others.filter_map(|(fact, score)| Some((score?, fact))));
        // Of equal scores the answer shown, which stands first.
        ends[0].take(alone.iter().min_by_key(|(score, _)| *score).map_or(taken, |(_, fact)| *fact));
        let high = alone.iter().rev().max_by_key(|(score, _)| *score);
        ends[1].take(high.map_or(taken, |(_, fact)| *fact));
    }
    ends
}

/// Returns which questions change the score in some world, by the scores of all worlds tried.
pub(crate) fn decisive<S: PartialEq>(questions: &[Question], scores: &[S], all: bool) -> Vec<bool> {
    let mut size = 1;
    let of = |question: &Question| {
        let others = question.options.len() - 1;
        let from = size;
        // Of every combination, the worlds of one answer stand a block apart; of single
        // answers, each stands alone and is held against the world shown.
        size = if all { size * (others + 1) } else { size + others };
        if all {
            (0..scores.len()).any(|at| scores[at] != scores[at - at / from % (others + 1) * from])
        } else {
            (from..size).filter_map(|at| scores.get(at)).any(|score| *score != scores[0])
        }
    };
    questions.iter().map(of).collect()
}
