//! From what a routine brings to its score, part by part.

use crate::{
    rulebook::{Holds, Ledger, ScorePart},
    sheet::{
        deductions::charge::Charge,
        model::{Line, PartLine},
        routine::scene::Scene,
    },
    units::Points,
};

use super::given_back::given_back;

/// What a routine brings before anything is taken off.
#[derive(Default)]
pub(crate) struct Brought {
    /// Its own start value, where it is a vault; nothing where no vault is asked for.
    pub vault: Option<Points>,
    /// Worth of the elements that count.
    pub elements: Points,
    /// Price of the requirements that are met.
    pub met: Points,
    /// Price of those that are missed.
    pub missed: Points,
    /// Price of the value parts that are missing.
    pub missing_parts: Points,
    /// What bonuses and connections add.
    pub bonus: Points,
}

/// A score by its parts.
pub(crate) struct Account {
    pub parts: Vec<PartLine>,
    /// Lines that give something back, so that the lines add up.
    pub lines: Vec<Line>,
}

impl Account {
    /// Returns where the deductions begin, bonuses aside.
    pub(crate) fn start_value(&self) -> Points {
        self.parts.iter().map(|part| part.begins).sum()
    }
}

/// Settles the parts.
pub(crate) fn account(
    scene: &Scene<'_>,
    ledger: &Ledger,
    brought: &Brought,
    charges: &[Charge],
) -> Account {
    let neutral = scene.book.neutral_rules(scene.event, scene.division);
    let mut taken = vec![Points::ZERO; ledger.parts.len()];
    for charge in charges.iter().filter(|charge| charge.left != Points::ZERO) {
        if let Some(at) = part_of(ledger, charge, neutral.contains(charge.line.rule.as_str())) {
            taken[at] += charge.left;
        }
    }
    let mut lines = Vec::new();
    let parts = ledger.parts.iter().zip(taken);
    let parts = parts.map(|(part, taken)| settle(scene, part, (brought, taken), &mut lines));
    Account { parts: parts.collect(), lines }
}

/// Returns the part that a charge is taken off: the first that names one of its groups, else the one
/// that holds all others.
fn part_of(ledger: &Ledger, charge: &Charge, is_neutral: bool) -> Option<usize> {
    let holding = |what| ledger.parts.iter().position(|part| part.holds(what));
    let is_named = |part: &ScorePart| charge.groups.iter().any(|group| part.groups.contains(group));
    let whole = holding(Holds::Neutral).filter(|_| is_neutral);
    whole.or_else(|| ledger.parts.iter().position(is_named)).or_else(|| holding(Holds::Faults))
}

fn settle(
    scene: &Scene<'_>,
    part: &ScorePart,
    (brought, taken): (&Brought, Points),
    lines: &mut Vec<Line>,
) -> PartLine {
    let begins = begins(part, brought);
    let bonus = if part.holds(Holds::Bonus) { brought.bonus } else { Points::ZERO };
    let mut value = begins + bonus;
    if let Some(most) = part.at_most.filter(|most| value > *most) {
        let label = format!("{} at most {}", part.label, most.short());
        lines.extend(given_back(scene, (&format!("{}-at-most", part.id), &label), value - most));
        value = most;
    }
    let counted = taken.scaled(part.share);
    let label = match part.share.0 {
        500 => "Half of the deductions".to_owned(),
        _ => format!("{} of the deductions count", part.share.short()),
    };
    lines.extend(given_back(scene, ("share", &label), counted - taken));
    let mut ends = value - counted;
    if let Some(floor) = part.floor.filter(|floor| ends < *floor) {
        let label = format!("{} is used up", part.label);
        lines.extend(given_back(scene, ("used-up", &label), ends - floor));
        ends = floor;
    }
    PartLine {
        id: part.id.clone(),
        label: part.label.clone(),
        begins,
        bonus: value - begins,
        taken: value - ends,
        comes_to: ends,
        opens: part.opens(),
    }
}

/// Returns what a part is before bonuses and faults.
fn begins(part: &ScorePart, brought: &Brought) -> Points {
    let base = brought.vault.filter(|_| part.vault).unwrap_or(part.base);
    let of = |what, amount: Points| if part.holds(what) { amount } else { Points::ZERO };
    let value = base + of(Holds::Elements, brought.elements) + of(Holds::Met, brought.met)
        - of(Holds::Requirements, brought.missed)
        - of(Holds::ValueParts, brought.missing_parts);
    let value = part.floor.map_or(value, |floor| value.max(floor));
    part.at_most.map_or(value, |most| value.min(most))
}
