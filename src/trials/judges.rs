//! Keys that say how several scores become one, tried on drawn scores.

use crate::{
    rulebook::{Book, Panel},
    sheet::{Combined, attempts, beside_reference, combine, panel_for},
    units::Points,
};

use super::chance::Chance;

/// Scores of judges, or of attempts, and a reference.
pub(super) struct Scores {
    all: Vec<Option<Points>>,
    reference: Points,
}

/// What they come to: a panel alone and beside the reference, for each part of the score where parts are
/// put together apart; and as attempts, of one element and of different ones.
pub(super) type Come = (Vec<Option<(Combined, Combined)>>, Option<[Option<Points>; 2]>);

impl Scores {
    /// Draws from two to seven scores, far apart or near, from 0 to 20.
    pub(super) fn draw(chance: &mut Chance) -> Self {
        let most = [1000, 20_000][chance.below(2)];
        let middle = chance.below(most) as i64;
        let apart = [20, 200, 2000, 8000][chance.below(4)];
        let mut one = || Points((middle + chance.below(apart) as i64).max(0));
        let reference = one();
        let count = 2 + one().0 as usize % 6;
        let all = (0..count).map(|_| Some(one())).collect();
        Self { all, reference }
    }

    pub(super) fn come(&self, book: &Book, (event, division): (&str, &str)) -> Come {
        let of = |panel: &Panel| {
            let own = combine(panel, &self.all);
            let score = if let Combined::Score { score } = own { score } else { self.reference };
            let beside = beside_reference(panel, score, self.reference);
            (own, beside)
        };
        let panels = book.panels_of(event, division);
        let panels = if panels.iter().all(|panel| panel.parts.is_empty()) {
            vec![panels.first().copied().map(of)]
        } else {
            let parts = book.scoring(event, division).into_iter();
            let parts = parts.flat_map(|scoring| &scoring.ledger.parts);
            parts.map(|part| panel_for(&panels, &part.id).map(of)).collect()
        };
        let attempts = book.attempts_of(event, division).map(|rule| {
            let same = attempts(rule, &self.all);
            [same, same.map(|score| score + rule.unlike_adds.unwrap_or_default())]
        });
        (panels, attempts)
    }
}
