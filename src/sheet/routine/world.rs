//! What is taken as true for one evaluation, and the questions that the evidence leaves open.

use std::collections::BTreeMap;

use crate::{
    marks::{Id, Manner, Quantity},
    units::Magnitude,
};

/// What is taken as true where the evidence leaves room.
#[derive(Clone, Debug, Default)]
pub(crate) struct World {
    /// Value of a quantity at an act.
    pub values: BTreeMap<(usize, Quantity), Magnitude>,
    /// Value that a person's call stands for, by act and place among the act's angle rules.
    pub called: BTreeMap<(usize, usize), Magnitude>,
    /// How a contact was made.
    pub manners: BTreeMap<Id, Manner>,
    /// Whether a mark stands.
    pub stands: BTreeMap<Id, bool>,
    /// Which of the fitting vaults it was.
    pub vault: usize,
}

/// One fact of a world.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Fact {
    /// A value of a quantity at an act.
    Value(usize, Quantity, Magnitude),
    /// A value that a call stands for, at an act and its angle rule.
    Called(usize, usize, Magnitude),
    /// A manner of contact.
    Manner(Id, Manner),
    /// Whether a mark stands.
    Stands(Id, bool),
    /// Which of the fitting vaults.
    Vault(usize),
}

/// Something that the evidence leaves open, with every answer it allows.
#[derive(Clone, Debug)]
pub(crate) struct Question {
    /// The answers.
    pub options: Vec<Fact>,
    /// The answer that the score shown takes.
    pub taken: usize,
}

impl World {
    /// Takes a fact as true.
    pub(crate) fn take(&mut self, fact: Fact) {
        match fact {
            Fact::Value(act, quantity, value) => {
                self.values.insert((act, quantity), value);
            }
            Fact::Called(act, rule, value) => {
                self.called.insert((act, rule), value);
            }
            Fact::Manner(id, manner) => {
                self.manners.insert(id, manner);
            }
            Fact::Stands(id, stands) => {
                self.stands.insert(id, stands);
            }
            Fact::Vault(place) => self.vault = place,
        }
    }

    /// Returns this world with one fact more, or another in its place.
    pub(crate) fn with(&self, fact: Fact) -> Self {
        let mut world = self.clone();
        world.take(fact);
        world
    }

    /// Returns the world in which every question has the answer that the score shown takes.
    pub(crate) fn shown(&self, questions: &[Question]) -> Self {
        let mut world = self.clone();
        for question in questions {
            world.take(question.options[question.taken]);
        }
        world
    }

    /// Returns the value that an angle rule of an act is held against.
    pub(crate) fn value(&self, act: usize, rule: usize, quantity: Quantity) -> Option<Magnitude> {
        self.called.get(&(act, rule)).or_else(|| self.values.get(&(act, quantity))).copied()
    }

    /// Returns whether a mark stands.
    pub(crate) fn stands(&self, id: Id) -> bool {
        self.stands.get(&id).copied().unwrap_or(true)
    }
}

impl Question {
    /// Returns the answers that the score shown does not take.
    pub(crate) fn others(&self) -> impl Iterator<Item = Fact> + '_ {
        let others = self.options.iter().enumerate().filter(|(at, _)| *at != self.taken);
        others.map(|(_, fact)| *fact)
    }
}
