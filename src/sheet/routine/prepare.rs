//! From marks to the scene: elements looked up, and every other mark at its element.

use std::collections::BTreeMap;

use crate::{
    marks::{Call, Id, Mark, Reading, Seen, Sheaf, What},
    rulebook::{Book, Element},
    units::Points,
};

use super::{
    angle_rules::{is_refused, most},
    frames::Frames,
    scene::{Act, Lower, Scene, Sight},
    vault,
};

impl<'a> Scene<'a> {
    /// Prepares the routine for evaluation under the book.
    pub(crate) fn new(book: &'a Book, sheaf: &'a Sheaf) -> Self {
        let event = sheaf.routine.event.as_str();
        let division = sheaf.routine.division.as_str();
        let marks = sheaf.in_order();
        let frames = Frames::new(sheaf, &marks);
        let mut scene = Self {
            book,
            event,
            division,
            sheaf,
            acts: Vec::new(),
            sights: Vec::new(),
            whens: book.whens_of(event, division),
            faults: book
                .faults_of(event, division)
                .into_iter()
                .rev()
                .map(|fault| (fault.id.as_str(), fault))
                .collect(),
            order: marks.iter().enumerate().map(|(place, mark)| (mark.id, place)).collect(),
            passed: [None; 3],
            frames,
            known: BTreeMap::new(),
        };
        scene.look_up(&marks);
        scene.sort(&marks);
        scene.name_vault();
        scene.hang();
        scene.choose();
        scene.pass();
        scene
    }

    /// Looks every element up once, however often it is shown.
    fn look_up(&mut self, marks: &[&'a Mark]) {
        for mark in marks {
            let What::Element { element: id } = &mark.what else { continue };
            if self.known.contains_key(id.as_str()) {
                continue;
            }
            if let Some(element) = self.book.element(self.event, id) {
                let angles = self.book.angles_of(element, self.event, self.division);
                self.known.insert(id, (element, angles, self.below(element)));
            }
        }
    }

    /// Notes when the phases of a vault began.
    fn pass(&mut self) {
        let first = |is: fn(&What) -> bool| {
            let marks = self.sights.iter().map(|sight| sight.mark);
            marks.filter(|mark| is(&mark.what)).map(|mark| mark.at.order()).min()
        };
        self.passed = [
            first(|what| matches!(what, What::HandContact { .. })),
            first(|what| matches!(what, What::HandRelease)),
            first(|what| matches!(what, What::Landing { .. })),
        ];
    }

    fn sort(&mut self, marks: &[&'a Mark]) {
        // A mark belongs to the element it names, else to the last one begun.
        let mut named: Vec<(usize, Id)> = Vec::new();
        for mark in marks.iter().filter(|mark| mark.seen != Seen::No) {
            if let What::Element { element } = &mark.what {
                let act = self.act(mark, element);
                self.acts.push(act);
                continue;
            }
            if let Some(of) = mark.of {
                named.push((self.sights.len(), of));
            }
            self.sights.push(Sight { mark, act: self.acts.len().checked_sub(1) });
        }
        let places: BTreeMap<Id, usize> =
            self.acts.iter().enumerate().map(|(place, act)| (act.mark.id, place)).collect();
        for (sight, of) in named {
            if let Some(place) = places.get(&of) {
                self.sights[sight].act = Some(*place);
            }
        }
    }

    /// Makes an element of a vault that nobody wrote down, so that its angles are asked for.
    fn name_vault(&mut self) {
        if !self.acts.is_empty() {
            return;
        }
        let facts = vault::facts(self);
        let fitting = vault::fitting(self, &facts);
        let mark = facts.mark.and_then(|id| self.sheaf.mark(id));
        if let (true, Some(element), Some(mark)) = (facts.told(), fitting.first(), mark) {
            let act = Act { written: false, ..self.act(mark, &element.id) };
            self.acts.push(act);
            self.sights.iter_mut().for_each(|sight| sight.act = Some(0));
        }
    }

    fn act(&self, mark: &'a Mark, id: &'a str) -> Act<'a> {
        let (element, angles, lower) = if let Some((element, angles, lower)) = self.known.get(id) {
            (Some(*element), angles.clone(), lower.clone())
        } else {
            let element = self.book.element(self.event, id);
            let angles = |element| self.book.angles_of(element, self.event, self.division);
            let lower = element.map(|element| self.below(element));
            (element, element.map(angles).unwrap_or_default(), lower.unwrap_or_default())
        };
        Act {
            mark,
            id,
            written: true,
            element,
            angles,
            lower,
            readings: BTreeMap::new(),
            calls: BTreeMap::new(),
            chosen: BTreeMap::new(),
        }
    }

    /// Returns what the element becomes, what that becomes, and so on, each once.
    fn below(&self, element: &'a Element) -> Vec<Lower<'a>> {
        let mut lower: Vec<Lower<'a>> = Vec::new();
        let mut becomes = &element.becomes;
        while let Some(element) = self.book.element(self.event, becomes) {
            if lower.iter().any(|known| known.element.id == element.id) {
                break;
            }
            let mut gates = self.book.angles_of(element, self.event, self.division);
            gates.retain(|rule| !rule.gates.is_empty());
            lower.push(Lower { element, gates });
            becomes = &element.becomes;
        }
        lower
    }

    /// Takes a fault that names an angle rule of its element as the amount that the judge chose.
    fn choose(&mut self) {
        let mut chosen = Vec::new();
        self.sights.retain(|sight| {
            let (Some(act), What::Fault { fault, amount: Some(amount) }) =
                (sight.act, &sight.mark.what)
            else {
                return true;
            };
            let rule = self.acts[act].angles.iter().find(|rule| rule.id == *fault);
            let Some(most) = rule.and_then(|rule| most(rule)) else { return true };
            let is_refused = rule.is_some_and(|rule| is_refused(rule, *amount));
            let amount = if is_refused { Points::ZERO } else { most.min(*amount) };
            chosen.push((act, fault.as_str(), sight.mark, amount));
            false
        });
        for (act, rule, mark, amount) in chosen {
            self.acts[act].chosen.insert(rule, (mark, amount));
        }
    }

    /// Hangs readings and calls at their elements; of two for the same question the newer counts.
    fn hang(&mut self) {
        let places: BTreeMap<Id, usize> =
            self.acts.iter().enumerate().map(|(place, act)| (act.mark.id, place)).collect();
        // A vault known by its turns is the only element, so that everything is read for it.
        let only = self.acts.first().is_some_and(|act| !act.written).then_some(0);
        let place = |of: &Id| places.get(of).copied().or(only);
        let mut readings: Vec<&Reading> = self.sheaf.readings.iter().collect();
        readings.sort_by_key(|reading| reading.id);
        for reading in readings {
            // What is no number decides nothing.
            if let (Some(place), true) = (place(&reading.of), reading.value.is_finite()) {
                self.acts[place].readings.insert(reading.quantity, reading);
            }
        }
        let mut calls: Vec<&Call> = self.sheaf.calls.iter().collect();
        calls.sort_by_key(|call| call.id);
        for call in calls {
            if let Some(place) = place(&call.of) {
                self.acts[place].calls.insert(&call.asks, call);
            }
        }
    }
}
