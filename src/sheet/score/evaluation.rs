//! One evaluation in one world: credit, value parts, requirements, deductions, score.

use crate::{
    marks::Id,
    rulebook::{Consequence, Counts, Formula, Scoring},
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
        model::{ElementLine, Line, RequirementLine, Status, ValuePart, remark},
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

/// The result of one evaluation.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    /// Where the deductions begin.
    pub start_value: Points,
    /// The score, leaving void aside.
    pub score: Points,
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
}

impl Tally {
    /// Returns the score, or nothing when it is void.
    pub(crate) fn counted(&self) -> Option<Points> {
        self.void.is_empty().then_some(self.score)
    }
}

/// Returns the evaluation of the routine in this world.
pub(crate) fn tally(scene: &Scene<'_>, scoring: &Scoring, world: &World) -> Tally {
    let earned = credit(scene, world, scoring);
    let parts = parts(scene, &earned, scene.book.value_parts_of(scene.event, scene.division));
    let requirements = requirements(scene, world, &earned, scoring);
    let mut found = charges(scene, world, &earned, scoring.not_allowed);
    let mut tally = Tally {
        elements: elements::lines(scene, world, &earned, &parts, &requirements),
        ..Tally::default()
    };
    let start = start(scene, scoring, world, &mut tally, &mut found);
    let (void, costly): (Vec<Charge>, Vec<Charge>) =
        found.charges.into_iter().partition(|charge| charge.void);
    tally.void.extend(void.into_iter().map(|charge| charge.line));
    let artistry = costly
        .iter()
        .filter(|charge| charge.group == "artistry")
        .map(|charge| charge.line.amount)
        .sum();
    let bonuses = bonuses(scene, world, &earned, &costly);
    tally.deductions = settle(scene, costly);
    tally.remarks.append(&mut found.remarks);
    tally.remarks.extend(moments::missing(scene));
    tally.remarks.extend(turn_end::read_past(scene));
    build(
        scene,
        scoring,
        &mut tally,
        &Sums {
            start,
            missing_parts: parts.missing,
            missing_requirements: requirements.iter().map(|line| line.amount).sum(),
            all_requirements: all_requirements(scene),
            best: best_of(scene, scoring, &earned),
            artistry,
            bonuses,
        },
    );
    tally.value_parts = parts.lines;
    tally.requirements = requirements;
    tally
}

struct Sums {
    start: Points,
    missing_parts: Points,
    missing_requirements: Points,
    all_requirements: Points,
    best: Points,
    artistry: Points,
    bonuses: Vec<Line>,
}

/// Sets start value and score by the book's formula.
fn build(scene: &Scene<'_>, scoring: &Scoring, tally: &mut Tally, sums: &Sums) {
    let missing = sums.missing_parts + sums.missing_requirements;
    tally.start_value = match scoring.formula {
        Formula::StartMinus { .. } | Formula::StartMinusHalf { .. } => sums.start - missing,
        Formula::Buckets { value_parts, requirements, artistry, execution } => {
            let left = |full: Points, missing: Points| (full - missing).max(Points::ZERO);
            left(value_parts, sums.missing_parts)
                + left(requirements, sums.missing_requirements)
                + artistry
                + execution
        }
        Formula::Open { execution, at_most, .. } => {
            let difficulty = sums.best + sums.all_requirements - sums.missing_requirements;
            at_most.map_or(difficulty, |most| difficulty.min(most)) + execution
        }
    };
    let off = taken(tally) - neutral(scene, tally);
    match scoring.formula {
        Formula::StartMinusHalf { .. } => {
            adjust(scene, tally, ("half", "Half of the deductions"), Points(-(off.0 / 2)));
        }
        Formula::Buckets { artistry, execution, .. } => {
            let over = (sums.artistry - artistry).max(Points::ZERO);
            let rest = (off - sums.artistry - execution).max(Points::ZERO);
            adjust(scene, tally, ("empty-bucket", "A bucket is empty"), Points(-(over + rest).0));
        }
        Formula::Open { execution, .. } => {
            let over = (off - execution).max(Points::ZERO);
            adjust(scene, tally, ("empty-bucket", "Execution is used up"), Points(-over.0));
        }
        Formula::StartMinus { .. } => {}
    }
    tally.deductions.extend(sums.bonuses.iter().cloned());
    tally.score = tally.start_value - taken(tally);
    limit(scene, scoring, tally, sums);
}

/// Lifts or lowers the score to the book's lowest and highest.
fn limit(scene: &Scene<'_>, scoring: &Scoring, tally: &mut Tally, sums: &Sums) {
    if let Some(ceiling) = scoring.ceiling.filter(|ceiling| tally.score > *ceiling) {
        let over = tally.score - ceiling;
        adjust(scene, tally, ("ceiling", "Highest score"), over);
        tally.score = ceiling;
    }
    // A vault that is not known yet has no value to hold up.
    let floor = if sums.start == Points::ZERO { Points::ZERO } else { scoring.floor };
    let floor = floor.max(Points::ZERO);
    if tally.score < floor {
        let lift = tally.score - floor;
        adjust(scene, tally, ("floor", "Lowest score"), lift);
        tally.score = floor;
    }
}

/// Returns what all requirements are worth together.
fn all_requirements(scene: &Scene<'_>) -> Points {
    let rules = scene.book.requirements_of(scene.event, scene.division).into_iter();
    rules.map(|rule| rule.price.times(if rule.each { i64::from(rule.count) } else { 1 })).sum()
}

/// Returns what is taken off the whole score instead of execution.
fn neutral(scene: &Scene<'_>, tally: &Tally) -> Points {
    let rules = scene.book.neutral_rules(scene.event, scene.division);
    if rules.is_empty() {
        return Points::ZERO;
    }
    let lines = tally.deductions.iter().filter(|line| rules.contains(line.rule.as_str()));
    lines.map(|line| line.amount).sum()
}

fn taken(tally: &Tally) -> Points {
    tally.deductions.iter().map(|line| line.amount).sum()
}

/// Adds a line that gives something back by the way the score is built.
fn adjust(scene: &Scene<'_>, tally: &mut Tally, name: (&str, &str), amount: Points) {
    if amount == Points::ZERO {
        return;
    }
    let reason = "By the way this book builds a score.".to_owned();
    let line = remark(name, reason, scene.frames.span(), None);
    tally.deductions.push(Line { amount, status: Status::Taken, ..line });
}

/// Returns the start value before anything is missing; a vault brings its own.
fn start(
    scene: &Scene<'_>,
    scoring: &Scoring,
    world: &World,
    tally: &mut Tally,
    found: &mut Charges,
) -> Points {
    let start = match scoring.formula {
        Formula::StartMinus { start } | Formula::StartMinusHalf { start } => start,
        _ => Points::ZERO,
    };
    if scene.book.vaults(scene.event, scene.division).next().is_none() {
        return start;
    }
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
            element.vault.as_ref().map_or(start, |vault| vault.value_in(scene.division))
        }
        Named::Unlisted(element) => {
            let what = element.map_or("This vault", |element| element.name.as_str());
            let said = format!("{what} is not in this division's list.");
            let name = ("unlisted-vault", "Vault not in the list");
            follow(scene, scoring.unlisted_vault, (name, said, facts.mark), found);
            start
        }
        Named::NotYet => {
            let said = "Mark the hands and the landing, or write the vault down.".to_owned();
            let name = ("vault-not-known", "Which vault it was is not marked yet");
            tally.remarks.push(remark(name, said, scene.frames.span(), None));
            Points::ZERO
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
    found.charges.push(Charge {
        line,
        act: scene.acts.len().checked_sub(1),
        group: String::new(),
        counts: Counts::Each,
        void,
    });
}

/// Returns the parts of a tally for a routine that no scoring covers.
pub(crate) fn nothing(scene: &Scene<'_>) -> Tally {
    let said = format!(
        "The book says nothing of the event \"{}\" in the division \"{}\".",
        scene.event, scene.division
    );
    let line = remark(("no-rules", "Not in this book"), said, scene.frames.span(), None);
    Tally { remarks: vec![line], ..Tally::default() }
}
