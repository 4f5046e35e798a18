//! The routine as the evaluator sees it: elements in order, and every other mark at its element.

use std::collections::BTreeMap;

use crate::{
    marks::{At, Call, Id, Mark, Quantity, Reading, Sheaf},
    rulebook::{Angle, Book, Element, Fault, When},
    units::{FrameIndex, Points, Ticks},
};

use super::frames::Frames;

/// One routine under one book, prepared for evaluation.
pub(crate) struct Scene<'a> {
    /// The rules.
    pub book: &'a Book,
    /// Event id.
    pub event: &'a str,
    /// Division id.
    pub division: &'a str,
    /// Everything that was written down.
    pub sheaf: &'a Sheaf,
    /// Elements in order of performance.
    pub acts: Vec<Act<'a>>,
    /// The other marks in order.
    pub sights: Vec<Sight<'a>>,
    /// Rules on marks that are neither element nor fault.
    pub whens: Vec<&'a When>,
    /// Faults that the division counts.
    pub faults: BTreeMap<&'a str, &'a Fault>,
    /// Place of every mark in the order of the routine.
    pub order: BTreeMap<Id, usize>,
    /// When the hands were first on, first off, and the first landing.
    pub passed: [Option<(Ticks, FrameIndex)>; 3],
    /// Turns places into frames of the sheet.
    pub frames: Frames,
    pub(super) known: BTreeMap<&'a str, Known<'a>>,
}

/// An element as it was performed.
pub(crate) struct Act<'a> {
    /// Its mark.
    pub mark: &'a Mark,
    /// Id that the mark names, or that of the vault known by its turns.
    pub id: &'a str,
    /// Whether a person wrote it down, or it is a vault known by its turns.
    pub written: bool,
    /// The element, where the book has it.
    pub element: Option<&'a Element>,
    /// What is asked of its angles.
    pub angles: Vec<&'a Angle>,
    /// What it may count as instead, one below the other.
    pub lower: Vec<Lower<'a>>,
    /// Newest reading of each quantity.
    pub readings: BTreeMap<Quantity, &'a Reading>,
    /// Newest call on each rule.
    pub calls: BTreeMap<&'a str, &'a Call>,
    /// Amounts that the judge chose for angle rules, with the marks that say so.
    pub chosen: BTreeMap<&'a str, (&'a Mark, Points)>,
}

/// An element of the book, what is asked of its angles, and what it may count as instead.
pub(super) type Known<'a> = (&'a Element, Vec<&'a Angle>, Vec<Lower<'a>>);

/// An element that another counts as where an angle takes its credit.
#[derive(Clone)]
pub(crate) struct Lower<'a> {
    /// The element.
    pub element: &'a Element,
    /// Rules that may take its credit in turn.
    pub gates: Vec<&'a Angle>,
}

/// A mark that is no element, with the element it belongs to.
#[derive(Clone, Copy)]
pub(crate) struct Sight<'a> {
    /// The mark.
    pub mark: &'a Mark,
    /// Index of the element among the acts; nothing before the first.
    pub act: Option<usize>,
}

impl<'a> Act<'a> {
    /// Returns the rules on one quantity of what the element may count as instead.
    pub(crate) fn gates_below(&self, quantity: Quantity) -> Vec<&'a Angle> {
        let gates = self.lower.iter().flat_map(|lower| lower.gates.iter().copied());
        gates.filter(|rule| rule.quantity == quantity).collect()
    }
}

impl Scene<'_> {
    /// Returns the element's name, or what the mark names where the book does not have it.
    pub(crate) fn name_of(&self, act: usize) -> &str {
        let act = &self.acts[act];
        act.element.map_or(act.id, |element| element.name.as_str())
    }

    /// Returns whether the routine is planned rather than performed.
    pub(crate) fn is_planned(&self, act: usize) -> bool {
        matches!(self.acts[act].mark.at, At::Place(_))
    }
}
