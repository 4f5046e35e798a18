//! The least and the most that a rule takes at one place, for what is held against each other.

use crate::{
    rulebook::{BandAmount, Book, Counts, FaultAmount, TimeOf, Trigger},
    units::Points,
};

/// Where an amount stands: a rule takes the place of others at the same one only.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Place {
    /// At an element.
    Element,
    /// At none: before the first, or of the whole exercise.
    Exercise,
}

/// What a rule takes at one place.
pub(crate) struct Taken<'b> {
    /// The least and the most that it takes once.
    pub once: [Points; 2],
    /// Whether it may be taken again and again.
    pub again: bool,
    /// Group for caps.
    pub group: &'b str,
    /// Whether it makes the exercise void.
    pub void: bool,
}

/// Returns what the rule takes at a place of the event in the division; nothing where it takes
/// none there.
pub(crate) fn taken<'b>(
    book: &'b Book,
    rule: &str,
    at: (&str, &str),
    place: Place,
) -> Option<Taken<'b>> {
    let alone = |once, void| Taken { once, again: false, group: "", void };
    let fault = || {
        let found = book.faults_of(at.0, at.1).into_iter().find(|it| it.id == rule)?;
        let (once, again) = (amounts(book, &found.amount), found.counts == Counts::Each);
        Some(Taken { once, again, group: &found.group, void: found.void })
    };
    let when = || {
        let found = book.whens_of(at.0, at.1).into_iter().find(|it| it.id == rule)?;
        let of_fact = matches!(found.trigger, Trigger::Fact { .. });
        let again = found.counts == Counts::Each && !of_fact;
        let taken = Taken { once: [found.amount; 2], again, group: &found.group, void: found.void };
        (!of_fact || place == Place::Exercise).then_some(taken)
    };
    let angle = || {
        let covers = |it: &&crate::rulebook::Angle| it.id == rule && it.scope.covers(at.0, at.1);
        let found = book.angles.iter().find(covers).filter(|_| place == Place::Element)?;
        let most = found.bands.iter().map(|band| match band.amount {
            BandAmount::Flat(amount) => amount,
            BandAmount::Proportional { from, to, .. } => from.max(to),
        });
        // An angle is held against its rule once at each element.
        let once = [Points::ZERO, most.max().unwrap_or_default()];
        Some(Taken { once, again: false, group: &found.group, void: false })
    };
    let time = || {
        let found = book.times_of(at.0, at.1).into_iter().find(|it| it.id == rule)?;
        let (here, again) = match found.of {
            TimeOf::Exercise => (place == Place::Exercise, false),
            TimeOf::Element { .. } => (place == Place::Element, false),
            TimeOf::Fall | TimeOf::Stop => (true, true),
        };
        let taken = Taken { once: [found.amount; 2], again, group: &found.group, void: found.void };
        here.then_some(taken)
    };
    let too_many = || {
        let found = book.too_many_of(at.0, at.1).into_iter().find(|it| it.id == rule)?;
        (place == Place::Element).then(|| alone([found.amount; 2], found.void))
    };
    let too_few = || {
        let found = book.too_few_of(at.0, at.1).into_iter().find(|it| it.id == rule)?;
        let steps = || found.steps.iter().map(|step| step.amount);
        let once = [steps().min().unwrap_or_default(), steps().max().unwrap_or_default()];
        (place == Place::Exercise).then(|| alone(once, false))
    };
    let text = || text(book, rule, at, place).map(|once| alone(once, false));
    fault()
        .or_else(when)
        .or_else(angle)
        .or_else(time)
        .or_else(too_many)
        .or_else(too_few)
        .or_else(text)
}

/// Returns the least and the most that a compulsory text takes: at an element that it is added or
/// stands elsewhere, at none that some or all of its own are left out.
fn text(book: &Book, rule: &str, at: (&str, &str), place: Place) -> Option<[Points; 2]> {
    let text = book.text_of(at.0, at.1).filter(|text| text.id == rule)?;
    let mut amounts = match place {
        Place::Element => vec![text.added, text.swapped],
        Place::Exercise => {
            let worth = |id: &String| book.element(at.0, id).map(|it| book.worth(it));
            let left_out = |worth: Points| text.left_out + worth.scaled(text.left_out_value);
            text.elements.iter().map(|id| left_out(worth(id).unwrap_or_default())).collect()
        }
    };
    amounts.retain(|amount| *amount > Points::ZERO);
    let least = amounts.iter().min().copied()?;
    let most = match place {
        Place::Element => amounts.iter().max().copied()?,
        Place::Exercise => amounts.iter().copied().sum(),
    };
    Some([least, most])
}

/// Returns the least and the most that a fault takes once; what a judge chooses may be nothing
/// yet, so that the least of a choice is its smallest amount.
fn amounts(book: &Book, amount: &FaultAmount) -> [Points; 2] {
    match amount {
        FaultAmount::Flat(amount) => [*amount; 2],
        FaultAmount::UpTo { max, grid } => [*grid, *max],
        FaultAmount::Choice(choice) => {
            let least = choice.iter().min().copied().unwrap_or_default();
            [least, choice.iter().max().copied().unwrap_or_default()]
        }
        FaultAmount::OfValue(times) => {
            let worth = book.elements.iter().map(|element| book.worth(element));
            [Points::ZERO, worth.max().unwrap_or_default().scaled(*times)]
        }
    }
}
