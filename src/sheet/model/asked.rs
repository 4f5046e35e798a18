//! Which rules of a book the sheet held a quantity against.

use super::sheet::ScoreSheet;
use crate::{
    marks::{Id, Quantity},
    rulebook::{Angle, Book},
};

impl ScoreSheet {
    /// Returns the rules that ask an element for a quantity.
    pub fn asked_of<'a>(
        &self,
        book: &'a Book,
        element: Id,
        quantity: Quantity,
    ) -> impl Iterator<Item = &'a Angle> {
        let lines = self.elements.iter().filter(|line| line.mark == element);
        let decisions = lines.flat_map(|line| &line.decisions);
        let ids: Vec<&str> =
            decisions.filter(|it| it.quantity == quantity).map(|it| it.rule.as_str()).collect();
        let standing = &self.standing;
        // Divisions may share a rule's id and differ in what it asks.
        book.angles.iter().filter(move |angle| {
            ids.contains(&angle.id.as_str())
                && angle.quantity == quantity
                && angle.scope.covers(&standing.event, &standing.division)
        })
    }
}
