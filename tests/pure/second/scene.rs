//! What was done in one world: one answer to everything that is open.

use std::collections::BTreeMap;

use stillcall::marks::Quantity;

use super::{
    angles,
    read::{Row, Under},
    routine::{Done, What},
};

/// One answer to everything that is open.
#[derive(Clone, Debug, Default)]
pub(super) struct World {
    /// Steps that were left open and are held not to have happened.
    pub absent: Vec<usize>,
    /// Angles that nobody read: of which step's element, and how many.
    pub angles: BTreeMap<(usize, Quantity), f64>,
}

/// Credit that an element may lose.
pub(super) const CREDITS: [&str; 3] = ["value-part", "requirement", "connection"];

/// An element that was shown.
#[derive(Clone, Debug)]
pub(super) struct Shown {
    pub step: usize,
    pub id: String,
    pub is_allowed: bool,
    /// Which credit it lost, in the order of [`CREDITS`].
    pub lost: [bool; 3],
    /// What it counts as.
    pub counts_as: String,
}

/// The elements in order, and what happened.
pub(super) struct Scene<'s> {
    pub under: &'s Under<'s>,
    pub done: &'s Done,
    pub world: &'s World,
    pub shown: Vec<Shown>,
}

impl<'s> Scene<'s> {
    pub(super) fn new(under: &'s Under<'s>, done: &'s Done, world: &'s World) -> Self {
        let mut scene = Self { under, done, world, shown: Vec::new() };
        if under.event == "vault" {
            // All of it is one element.
            let id = "over".to_owned();
            let counts_as = id.clone();
            scene.shown.push(Shown { step: 0, id, is_allowed: true, lost: [false; 3], counts_as });
        }
        for step in scene.steps() {
            let What::Element(id) = &done.steps[step].what else { continue };
            let is_allowed = under.is_allowed(id);
            let counts_as = id.clone();
            scene.shown.push(Shown {
                step,
                id: id.clone(),
                is_allowed,
                lost: [false; 3],
                counts_as,
            });
        }
        scene
    }

    /// The steps that happened.
    pub(super) fn steps(&self) -> Vec<usize> {
        (0..self.done.steps.len()).filter(|step| !self.world.absent.contains(step)).collect()
    }

    /// The element to which a step belongs: itself, or the last one before it.
    pub(super) fn element_of(&self, step: usize) -> Option<usize> {
        self.shown.iter().rposition(|shown| shown.step <= step)
    }

    pub(super) fn lose(&mut self, element: Option<usize>, credits: &[String]) {
        let Some(element) = element else { return };
        for (at, credit) in CREDITS.iter().enumerate() {
            if credits.iter().any(|lost| lost == credit) {
                self.shown[element].lost[at] = true;
            }
        }
    }

    /// Takes the credit that angles take: all of it, or down to what the element becomes.
    pub(super) fn lose_by_angles(&mut self) {
        for element in 0..self.shown.len() {
            for rule in angles::asked(self, element) {
                if angles::keeps_credit(self, element, rule) {
                    continue;
                }
                let gates = rule.names("gates");
                let id = self.shown[element].id.clone();
                let becomes = self.under.element(&id).map(|row| row.text("becomes"));
                let becomes = becomes.filter(|becomes| !becomes.is_empty());
                match becomes.filter(|_| !gates.is_empty()) {
                    Some(_) => {
                        self.go_down(element, rule);
                        break;
                    }
                    None => self.lose(Some(element), &gates),
                }
            }
        }
    }

    /// Each lower element's own rules on the quantity are asked in turn.
    fn go_down(&mut self, element: usize, missed: Row<'s>) {
        let steps = angles::lower(self.under, &self.shown[element].id);
        for (at, lower) in steps.iter().enumerate() {
            self.shown[element].counts_as.clone_from(lower);
            let rules = angles::rules_of(self.under, lower).into_iter();
            let failed: Vec<Row<'_>> = rules
                .filter(|rule| rule.text("quantity") == missed.text("quantity"))
                .filter(|rule| !rule.names("gates").is_empty())
                .filter(|rule| !angles::keeps_credit(self, element, *rule))
                .collect();
            if failed.is_empty() {
                return;
            }
            if at + 1 == steps.len() {
                for rule in failed {
                    self.lose(Some(element), &rule.names("gates"));
                }
            }
        }
    }
}
