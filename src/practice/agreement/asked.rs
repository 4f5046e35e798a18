use std::collections::HashMap;

use super::compared::Compared;
use crate::practice::statistics::Answered;

/// Answers with the number of the item and of the person that each belongs to.
#[derive(Clone, Debug)]
pub(super) struct Asked<'a, T> {
    /// The answers.
    pub(super) answers: Vec<Answered<T>>,
    items: HashMap<&'a str, usize>,
    people: HashMap<&'a str, usize>,
}

impl<T> Default for Asked<'_, T> {
    fn default() -> Self {
        Self { answers: Vec::new(), items: HashMap::new(), people: HashMap::new() }
    }
}

impl<'a, T> Asked<'a, T> {
    /// Adds an answer.
    pub(super) fn add(&mut self, one: &'a Compared, said: T) {
        let number = |known: &mut HashMap<&'a str, usize>, name: &'a str| {
            let next = known.len();
            *known.entry(name).or_insert(next)
        };
        let item = number(&mut self.items, &one.item);
        let person = number(&mut self.people, &one.person);
        self.answers.push(Answered { item, person, said });
    }
}

impl Asked<'_, ()> {
    /// Returns whether one person gave all the answers, each about an item of its own.
    pub(super) fn is_of_one<T>(answers: &[Answered<T>]) -> bool {
        let last = answers.iter().map(|one| one.item).max();
        answers.iter().all(|one| one.person == 0) && last.is_some_and(|it| it + 1 == answers.len())
    }

    /// Returns an item for each answer, on which everybody gives that answer.
    pub(super) fn imagined<T, S: Copy>(
        answers: &[Answered<T>],
        each: impl Iterator<Item = S>,
    ) -> Vec<Answered<S>> {
        let next = answers.iter().map(|one| one.item + 1).max().unwrap_or(0);
        let people = answers.iter().map(|one| one.person + 1).max().unwrap_or(0);
        let of = |(place, said): (usize, S)| {
            (0..people).map(move |person| Answered { item: next + place, person, said })
        };
        each.enumerate().flat_map(of).collect()
    }
}
