//! When in an exercise there is something to look at.

use crate::{
    geometry::ReadAt,
    marks::Phase,
    report::{CardRow, CardSection},
    rulebook::{Angle, Book, Place, Requirement, Trigger},
};

/// A part of an exercise, in the order of time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Stretch {
    /// How it begins.
    Beginning,
    /// Of a vault: before the hands.
    FirstFlight,
    /// While it goes on.
    Middle,
    /// Of a vault: on the hands.
    Support,
    /// Of a vault: the hands leave.
    Leaving,
    /// Of a vault: after the hands.
    SecondFlight,
    /// At any time; told before the end, so that it is known by then.
    Always,
    /// How it ends: the dismount and the landing.
    End,
}

impl Stretch {
    /// Returns when it is, in words.
    pub(crate) const fn says(self) -> &'static str {
        match self {
            Self::Beginning => "at the beginning",
            Self::FirstFlight => "before the hands touch",
            Self::Middle => "while it goes on",
            Self::Support => "on the hands",
            Self::Leaving => "as the hands leave",
            Self::SecondFlight => "after the hands",
            Self::Always => "at any time",
            Self::End => "at the end",
        }
    }

    const fn of_phase(phase: Phase) -> Self {
        match phase {
            Phase::FirstFlight => Self::FirstFlight,
            Phase::Support => Self::Support,
            Phase::SecondFlight => Self::SecondFlight,
            Phase::Landing => Self::End,
        }
    }
}

/// Returns when a row of the judge's card is to be looked for.
pub(crate) fn stretch(
    book: &Book,
    section: &CardSection,
    row: &CardRow,
    at: (&str, &str),
) -> Stretch {
    let (event, division) = at;
    match (section.title, &row.angle) {
        ("Requirements", _) => {
            let rules = book.requirements_of(event, division);
            let rule = rules.into_iter().find(|rule| rule.label == row.label);
            rule.map_or(Stretch::Middle, |rule| of_requirement(book, rule, event))
        }
        (_, Some(angle)) => of_angle(book, angle, event),
        _ => {
            let rules = book.whens_of(event, division);
            let rule = rules.into_iter().find(|rule| rule.label == row.label);
            rule.map_or(Stretch::Always, |rule| of_trigger(&rule.trigger))
        }
    }
}

fn of_requirement(book: &Book, rule: &Requirement, event: &str) -> Stretch {
    match rule.place {
        Some(Place::First) => Stretch::Beginning,
        Some(Place::Last) => Stretch::End,
        None => of_elements(book, event, &rule.elements, &rule.tags),
    }
}

fn of_angle(book: &Book, rule: &Angle, event: &str) -> Stretch {
    match rule.quantity.read_at() {
        ReadAt::HandRelease => Stretch::Leaving,
        // Where a twist has come to is seen with both feet down.
        ReadAt::BothDown => Stretch::End,
        ReadAt::Frame | ReadAt::Peak | ReadAt::LiftToDrop => {
            of_elements(book, event, &rule.elements, &rule.tags)
        }
    }
}

fn of_trigger(trigger: &Trigger) -> Stretch {
    match trigger {
        Trigger::Landing { .. } => Stretch::End,
        Trigger::Contact { phases, .. } | Trigger::Spot { phases } => match phases[..] {
            [phase] => Stretch::of_phase(phase),
            _ => Stretch::Always,
        },
        Trigger::Fall | Trigger::Swing { .. } | Trigger::Stop | Trigger::Fact { .. } => {
            Stretch::Always
        }
    }
}

/// Elements that all begin or all end an exercise say when to look.
fn of_elements(book: &Book, event: &str, ids: &[String], tags: &[String]) -> Stretch {
    let named =
        |id: &String, own: &[String]| ids.contains(id) || tags.iter().any(|tag| own.contains(tag));
    let all: Vec<&[String]> = book
        .elements_of(event)
        .filter(|element| named(&element.id, &element.tags))
        .map(|element| element.tags.as_slice())
        .collect();
    let each = |tag: &str| !all.is_empty() && all.iter().all(|own| own.iter().any(|t| t == tag));
    match (each("mount"), each("dismount")) {
        (true, _) => Stretch::Beginning,
        (_, true) => Stretch::End,
        _ => Stretch::Middle,
    }
}
