//! What is taken off: every fault, angle and mark that costs something, one charge each.

use crate::{
    marks::What,
    rulebook::{Consequence, Fault, FaultAmount, TooMany, Trigger, When},
    sheet::{
        credit::earned::{Earned, State},
        model::{Line, Status, remark},
        routine::{
            scene::{Scene, Sight},
            triggers::{is_about, triggers},
            world::World,
        },
    },
    units::Points,
};

use super::{angles::angle_charges, charge::Charge, compulsory, times};

/// Everything that follows from the marks beside credit.
#[derive(Default)]
pub(crate) struct Charges {
    /// What costs or voids, in the order of the routine.
    pub charges: Vec<Charge>,
    /// What the book does not know.
    pub remarks: Vec<Line>,
}

/// Returns what the marks of the routine cost in this world.
pub(crate) fn charges(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    not_allowed: Consequence,
) -> Charges {
    let mut found = Charges::default();
    for sight in scene.sights.iter().filter(|sight| world.stands(sight.mark.id)) {
        match &sight.mark.what {
            What::Fault { fault, amount } => {
                fault_charge(scene, sight, (fault, *amount), &mut found);
            }
            _ => when_charges(scene, world, sight, &mut found),
        }
    }
    for (act, earned) in earned.iter().enumerate() {
        if earned.state == State::NotShown {
            continue;
        }
        found.charges.extend(angle_charges(scene, world, act));
        if earned.state == State::NotAllowed {
            found.charges.extend(not_allowed_charge(scene, act, not_allowed));
        }
        if earned.state == State::Unknown {
            found.remarks.push(unknown_element(scene, act));
        }
    }
    facts(scene, &mut found);
    found.charges.extend(times::times(scene, world));
    found.charges.extend(times::too_few(scene, earned));
    found.charges.extend(compulsory::differences(scene, earned));
    for rule in scene.book.too_many_of(scene.event, scene.division) {
        too_many(scene, earned, rule, &mut found);
    }
    // Marks are numbered by their order, so that charges are sorted without looking times up.
    let place = |charge: &Charge| charge.line.mark.and_then(|id| scene.order.get(&id)).copied();
    found.charges.sort_by_cached_key(place);
    found
}

fn fault_charge(
    scene: &Scene<'_>,
    sight: &Sight<'_>,
    (id, amount): (&str, Option<Points>),
    found: &mut Charges,
) {
    let Some(fault) = scene.faults.get(id) else {
        match scene.book.faults.iter().find(|fault| fault.id == id) {
            Some(fault) => found.charges.push(not_counted(
                scene,
                sight,
                (&fault.id, &fault.label, &fault.page),
            )),
            None => found.remarks.push(unknown_fault(scene, sight, id)),
        }
        return;
    };
    let element = sight.act.and_then(|act| scene.acts[act].element);
    let worth = element.map(|element| scene.book.worth(element, scene.division));
    let written = amount;
    let (amount, said) = chosen(fault, amount, worth.unwrap_or_default());
    if let Some(written) = written.filter(|it| is_refused(&fault.amount, *it)) {
        found.remarks.push(refused(scene, sight, (fault, written), &said));
    }
    let line = Line {
        rule: fault.id.clone(),
        label: fault.label.clone(),
        amount,
        status: Status::Taken,
        frames: scene.frames.at(&sight.mark.at),
        reason: format!("{}{said}", place_of(scene, sight)),
        page: fault.page.clone(),
        mark: Some(sight.mark.id),
        under: String::new(),
    };
    let (groups, counts, void) = (fault.groups.clone(), fault.counts, fault.void);
    found.charges.push(Charge { groups, counts, void, ..Charge::new(line, sight.act) });
}

/// Returns what a fault costs as the judge chose, and what is to be said of the choice.
fn chosen(fault: &Fault, amount: Option<Points>, worth: Points) -> (Points, String) {
    match (&fault.amount, amount) {
        (FaultAmount::OfValue(times), _) => {
            let amount = worth.scaled(*times);
            (amount, format!(" {} times its worth of {}.", times.short(), worth.short()))
        }
        (FaultAmount::Flat(flat), Some(other)) if other != *flat => {
            (*flat, format!(" The book takes {}, not {}.", flat.short(), other.short()))
        }
        (FaultAmount::Flat(flat), _) => (*flat, String::new()),
        (FaultAmount::UpTo { max, .. }, None) => {
            (Points::ZERO, format!(" The amount is still to be chosen, up to {}.", max.short()))
        }
        (FaultAmount::UpTo { max, .. }, Some(amount)) if amount > *max => (
            *max,
            format!(" {} was written; the book allows up to {}.", amount.short(), max.short()),
        ),
        (FaultAmount::UpTo { .. }, Some(amount)) if amount < Points::ZERO => {
            (Points::ZERO, format!(" {} is no deduction; choose again.", amount.short()))
        }
        (FaultAmount::UpTo { grid, .. }, Some(amount)) if amount.0 % grid.0 != 0 => (
            Points::ZERO,
            format!(
                " {} is not taken: the book chooses in steps of {}. Choose again.",
                amount.short(),
                grid.short()
            ),
        ),
        (FaultAmount::Choice(choice), None) => {
            (Points::ZERO, format!(" The amount is still to be chosen: {}.", listed(choice)))
        }
        (FaultAmount::Choice(choice), Some(amount)) if !choice.contains(&amount) => (
            Points::ZERO,
            format!(
                " {} is not taken: the book chooses from {}. Choose again.",
                amount.short(),
                listed(choice)
            ),
        ),
        (_, Some(amount)) => (amount, String::new()),
    }
}

/// Returns whether the book has no such amount for a judge to choose.
fn is_refused(amount: &FaultAmount, written: Points) -> bool {
    match amount {
        FaultAmount::UpTo { max, grid } => {
            written < Points::ZERO || written <= *max && written.0 % grid.0 != 0
        }
        FaultAmount::Choice(choice) => !choice.contains(&written),
        FaultAmount::Flat(_) | FaultAmount::OfValue(_) => false,
    }
}

fn refused(
    scene: &Scene<'_>,
    sight: &Sight<'_>,
    (fault, written): (&Fault, Points),
    said: &str,
) -> Line {
    let label = format!("{} of {} is not in this book", fault.label, written.short());
    let frames = scene.frames.at(&sight.mark.at);
    remark(("not-among-amounts", &label), said.trim().to_owned(), frames, Some(sight.mark.id))
}

fn listed(choice: &[Points]) -> String {
    choice.iter().map(|points| points.short()).collect::<Vec<_>>().join(", ")
}

fn when_charges(scene: &Scene<'_>, world: &World, sight: &Sight<'_>, found: &mut Charges) {
    let before = found.charges.len();
    for when in &scene.whens {
        if triggers(scene, world, sight, when) {
            found.charges.push(when_charge(scene, sight, when));
        }
    }
    if found.charges.len() > before || scene.event.is_empty() {
        return;
    }
    // Seen, and counted elsewhere in this book: it stands on the sheet, so that nobody wonders.
    let elsewhere = scene.book.whens.iter().find(|when| {
        when.scope.covers_event(scene.event)
            && !when.scope.covers_division(scene.division)
            && is_about(sight, when)
    });
    if let Some(when) = elsewhere {
        found.charges.push(not_counted(scene, sight, (&when.id, &when.label, &when.page)));
    }
}

fn when_charge(scene: &Scene<'_>, sight: &Sight<'_>, when: &When) -> Charge {
    let line = Line {
        rule: when.id.clone(),
        label: when.label.clone(),
        amount: when.amount,
        status: Status::Taken,
        frames: scene.frames.at(&sight.mark.at),
        reason: place_of(scene, sight),
        page: when.page.clone(),
        mark: Some(sight.mark.id),
        under: String::new(),
    };
    let (groups, counts, void) = (when.groups.clone(), when.counts, when.void);
    Charge { groups, counts, void, ..Charge::new(line, sight.act) }
}

fn not_counted(
    scene: &Scene<'_>,
    sight: &Sight<'_>,
    (id, label, page): (&str, &str, &str),
) -> Charge {
    let division = scene.book.division(scene.division).map_or(scene.division, |d| d.name.as_str());
    let line = Line {
        rule: id.to_owned(),
        label: label.to_owned(),
        amount: Points::ZERO,
        status: Status::NotCounted,
        frames: scene.frames.at(&sight.mark.at),
        reason: format!("{} {division} does not count it.", place_of(scene, sight)),
        page: page.to_owned(),
        mark: Some(sight.mark.id),
        under: String::new(),
    };
    Charge::new(line, sight.act)
}

/// Returns where in the routine something was, in words.
fn place_of(scene: &Scene<'_>, sight: &Sight<'_>) -> String {
    match sight.act {
        Some(act) if sight.mark.what == What::Swing => {
            format!("It follows {}.", scene.name_of(act))
        }
        Some(act) => format!("After the beginning of {}.", scene.name_of(act)),
        None => "Before the first element.".to_owned(),
    }
}

fn not_allowed_charge(scene: &Scene<'_>, act: usize, consequence: Consequence) -> Option<Charge> {
    let (amount, void) = match consequence {
        Consequence::NoCredit => return None,
        Consequence::Amount(amount) => (amount, false),
        Consequence::Void => (Points::ZERO, true),
    };
    let line = Line {
        rule: "not-allowed".to_owned(),
        label: format!("{} is not allowed in this division", scene.name_of(act)),
        amount,
        status: Status::Taken,
        frames: scene.frames.at(&scene.acts[act].mark.at),
        reason: "The division's list does not have it.".to_owned(),
        page: scene.acts[act].element.map(|element| element.page.clone()).unwrap_or_default(),
        mark: Some(scene.acts[act].mark.id),
        under: String::new(),
    };
    Some(Charge { void, ..Charge::new(line, Some(act)) })
}

/// Charges what follows from the facts of the attempt, such as its board or mat.
fn facts(scene: &Scene<'_>, found: &mut Charges) {
    for when in scene.book.whens_of(scene.event, scene.division) {
        let Trigger::Fact { fact, .. } = &when.trigger else { continue };
        let Some(value) = scene.sheaf.routine.facts.get(fact) else { continue };
        if !fact_triggers(when, value) {
            continue;
        }
        let line = Line {
            rule: when.id.clone(),
            label: when.label.clone(),
            amount: when.amount,
            status: Status::Taken,
            frames: scene.frames.span(),
            reason: format!("The {fact} is given as \"{value}\"."),
            page: when.page.clone(),
            mark: None,
            under: String::new(),
        };
        let (groups, counts, void) = (when.groups.clone(), when.counts, when.void);
        found.charges.push(Charge { groups, counts, void, ..Charge::new(line, None) });
    }
}

/// Returns whether the value of a fact brings the rule about: it is listed, or a number outside.
fn fact_triggers(when: &When, value: &str) -> bool {
    let Trigger::Fact { is, below, above, .. } = &when.trigger else { return false };
    let number = value.trim().parse::<Points>().ok();
    let outside = number.is_some_and(|number| {
        below.is_some_and(|below| number < below) || above.is_some_and(|above| number > above)
    });
    let any = is.is_empty() && below.is_none() && above.is_none();
    any || outside || is.iter().any(|listed| listed == value)
}

/// Charges every showing of the elements beyond those that may be.
fn too_many(scene: &Scene<'_>, earned: &[Earned<'_>], rule: &TooMany, found: &mut Charges) {
    let named = |act: &usize| {
        let element = scene.acts[*act].element.filter(|_| earned[*act].state != State::NotShown);
        element.is_some_and(|element| {
            rule.elements.contains(&element.id)
                || rule.tags.iter().any(|tag| element.tags.contains(tag))
                || is_in(&rule.classes, element.class_in(scene.division))
        })
    };
    for act in (0..scene.acts.len()).filter(named).skip(rule.at_most as usize) {
        let mark = scene.acts[act].mark;
        let line = Line {
            rule: rule.id.clone(),
            label: rule.label.clone(),
            amount: rule.amount,
            status: Status::Taken,
            frames: scene.frames.at(&mark.at),
            reason: match rule.at_most {
                0 => format!("{} may not be shown.", scene.name_of(act)),
                most => format!("{}: at most {most} may be shown.", scene.name_of(act)),
            },
            page: rule.page.clone(),
            mark: Some(mark.id),
            under: String::new(),
        };
        found.charges.push(Charge { void: rule.void, ..Charge::new(line, Some(act)) });
    }
}

fn is_in(names: &[String], name: &str) -> bool {
    names.iter().any(|known| known == name)
}

fn unknown_element(scene: &Scene<'_>, act: usize) -> Line {
    remark(
        ("not-in-this-book", "Not in this book"),
        format!("The book has no element \"{}\" on this event.", scene.acts[act].id),
        scene.frames.at(&scene.acts[act].mark.at),
        Some(scene.acts[act].mark.id),
    )
}

fn unknown_fault(scene: &Scene<'_>, sight: &Sight<'_>, id: &str) -> Line {
    remark(
        ("not-in-this-book", "Not in this book"),
        format!("The book has no fault \"{id}\"."),
        scene.frames.at(&sight.mark.at),
        Some(sight.mark.id),
    )
}
