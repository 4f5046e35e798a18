//! One evaluation in one world: credit, value parts, requirements, deductions, score.

use crate::{
    marks::Id,
    rulebook::{Consequence, Holds, Scoring},
    sheet::{
        credit::{
            best::best_of, earned::credit, elements, requirements::requirements, value_parts::parts,
        },
        deductions::{
            bonuses::bonuses,
            charge::Charge,
            charges::{Charges, charges},
            limits::settle,
        },
        model::{
            ElementLine, Line, PartLine, RequirementLine, Status, Unscored, ValuePart, remark,
        },
        routine::{
            moments,
            scene::Scene,
            turn_end,
            vault::{self, Named},
            world::World,
        },
    },
    units::Points,
};

use super::{
    given_back::given_back,
    ledger::{Brought, account},
};

/// The result of one evaluation.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    /// Where the deductions begin.
    pub start_value: Points,
    /// The score, leaving void aside.
    pub score: Points,
    /// The parts that it is added up from.
    pub parts: Vec<PartLine>,
    /// Why it is void.
    pub void: Vec<Line>,
    /// Elements in order.
    pub elements: Vec<ElementLine>,
    /// Value parts.
    pub value_parts: Vec<ValuePart>,
    /// Requirements.
    pub requirements: Vec<RequirementLine>,
    /// Deductions.
    pub deductions: Vec<Line>,
    /// What is to be said besides.
    pub remarks: Vec<Line>,
    /// Why there is no score at all.
    pub unscored: Option<Unscored>,
}

impl Tally {
    /// Returns the score, or nothing when it is void or there is none.
    pub(crate) fn counted(&self) -> Option<Points> {
        (self.void.is_empty() && self.unscored.is_none()).then_some(self.score)
    }

    /// Returns where the deductions begin; nothing where there is no score at all.
    pub(crate) fn start(&self) -> Option<Points> {
        self.unscored.is_none().then_some(self.start_value)
    }
}

/// Returns the evaluation of the routine in this world.
pub(crate) fn tally(scene: &Scene<'_>, scoring: &Scoring, world: &World) -> Tally {
    let ledger = &scoring.ledger;
    let earned = credit(scene, world, scoring);
    let parts = parts(scene, &earned, scene.book.value_parts_of(scene.event, scene.division));
    let (requirements, is_exact) = requirements(scene, world, &earned, scoring);
    let best = best_of(scene, scoring, &earned);
    let mut found = charges(scene, world, &earned, scoring.not_allowed);
    let mut tally = Tally {
        elements: elements::lines(scene, world, &earned, (&parts, &best), &requirements),
        ..Tally::default()
    };
    let vault = vault_value(scene, scoring, world, &mut tally, &mut found);
    let (void, mut costly): (Vec<Charge>, Vec<Charge>) =
        found.charges.into_iter().partition(|charge| charge.void);
    tally.void.extend(void.into_iter().map(|charge| charge.line));
    let (bonuses, all_tried) = if ledger.holds(Holds::Bonus) {
        bonuses(scene, world, &earned, &costly)
    } else {
        (Vec::new(), true)
    };
    let capped = settle(scene, &mut costly);
    tally.remarks.append(&mut found.remarks);
    tally.remarks.extend((!is_exact).then(|| too_many_ways(scene, IN_REQUIREMENTS)));
    tally.remarks.extend((!all_tried).then(|| too_many_ways(scene, IN_CONNECTIONS)));
    tally.remarks.extend(moments::missing(scene));
    tally.remarks.extend(turn_end::read_past(scene));
    let missed = requirements.iter().map(|line| line.amount).sum();
    let brought = Brought {
        vault,
        elements: best.sum,
        met: all_requirements(scene) - missed,
        missed,
        missing_parts: parts.missing,
        bonus: Points::ZERO - bonuses.iter().map(|line| line.amount).sum(),
    };
    let account = account(scene, ledger, &brought, &costly);
    tally.start_value = account.start_value();
    let charged = costly.into_iter().map(|charge| charge.line);
    tally.deductions = charged.chain(capped).chain(account.lines).chain(bonuses).collect();
    tally.parts = account.parts;
    tally.score = tally.parts.iter().map(|part| part.comes_to).sum();
    limit(scene, scoring, &mut tally, vault == Some(Points::ZERO));
    tally.value_parts = parts.lines;
    tally.requirements = requirements;
    tally
}

/// Lifts or lowers the score to the book's lowest and highest. A vault that is not known yet has no
/// value to hold up.
fn limit(scene: &Scene<'_>, scoring: &Scoring, tally: &mut Tally, is_unknown: bool) {
    let floor = if is_unknown { Points::ZERO } else { scoring.floor.max(Points::ZERO) };
    let over = scoring.ceiling.filter(|ceiling| tally.score > *ceiling);
    let limits = [
        (over, ("ceiling", "Highest score")),
        (Some(floor).filter(|floor| tally.score < *floor), ("floor", "Lowest score")),
    ];
    for (limit, name) in limits {
        let Some(limit) = limit else { continue };
        tally.deductions.extend(given_back(scene, name, tally.score - limit));
        tally.score = limit;
    }
}

/// What is said where a search ended before every way was tried: its name, and why.
const IN_REQUIREMENTS: [&str; 2] = [
    "Requirements at least as shown",
    "So many elements could serve several requirements that not every way was tried: at least as much \
     is met as is shown.",
];
const IN_CONNECTIONS: [&str; 2] = [
    "Connections at least as shown",
    "So many elements could stand in several connections that not every way was tried: at least as \
     much is added as is shown.",
];

fn too_many_ways(scene: &Scene<'_>, [label, said]: [&str; 2]) -> Line {
    remark(("at-least", label), said.to_owned(), scene.frames.span(), None)
}

/// Returns what all requirements are worth together.
fn all_requirements(scene: &Scene<'_>) -> Points {
    let rules = scene.book.requirements_of(scene.event, scene.division).into_iter();
    rules.map(|rule| rule.price.times(if rule.each { i64::from(rule.count) } else { 1 })).sum()
}

/// Returns the value that the vault brings: that of the book where it is not in the list, none while it
/// is not known. Nothing where no vault is asked for.
fn vault_value(
    scene: &Scene<'_>,
    scoring: &Scoring,
    world: &World,
    tally: &mut Tally,
    found: &mut Charges,
) -> Option<Points> {
    scene.book.vaults(scene.event, scene.division).next()?;
    let facts = vault::facts(scene);
    let announced = vault::announced(scene);
    match vault::name(scene, world) {
        Named::Listed(element) => {
            if let Some(line) = tally.elements.first_mut().filter(|_| announced.is_none()) {
                line.element.clone_from(&element.id);
                line.label.clone_from(&element.name);
            }
            if let Some(other) = announced.filter(|other| other.id != element.id) {
                let said = format!("{} was announced, {} was shown.", other.name, element.name);
                let name = ("not-as-announced", "Not the vault that was announced");
                follow(scene, scoring.not_as_announced, (name, said, facts.mark), found);
            }
            element.vault.as_ref().map(|vault| vault.value_in(scene.division))
        }
        Named::Unlisted(element) => {
            let what = element.map_or("This vault", |element| element.name.as_str());
            let said = format!("{what} is not in this division's list.");
            let name = ("unlisted-vault", "Vault not in the list");
            follow(scene, scoring.unlisted_vault, (name, said, facts.mark), found);
            None
        }
        Named::NotYet => {
            let said = "Mark the hands and the landing, or write the vault down.".to_owned();
            let name = ("vault-not-known", "Which vault it was is not marked yet");
            tally.remarks.push(remark(name, said, scene.frames.span(), None));
            Some(Points::ZERO)
        }
    }
}

/// Adds what follows from a vault that the book does not want.
fn follow(
    scene: &Scene<'_>,
    consequence: Consequence,
    (name, said, mark): ((&str, &str), String, Option<Id>),
    found: &mut Charges,
) {
    let frames = mark.and_then(|id| scene.sheaf.mark(id)).map(|mark| scene.frames.at(&mark.at));
    let line = remark(name, said, frames.unwrap_or_default(), mark);
    let (amount, void) = match consequence {
        Consequence::NoCredit => return found.remarks.push(line),
        Consequence::Amount(amount) => (amount, false),
        Consequence::Void => (Points::ZERO, true),
    };
    let line = Line { amount, status: Status::Taken, ..line };
    found.charges.push(Charge { void, ..Charge::new(line, scene.acts.len().checked_sub(1)) });
}

/// Returns the tally of a routine that the book has no score for.
pub(crate) fn nothing(scene: &Scene<'_>, unscored: Unscored) -> Tally {
    let line = remark(("no-rules", "No score"), unscored.said(), scene.frames.span(), None);
    Tally { remarks: vec![line], unscored: Some(unscored), ..Tally::default() }
}
