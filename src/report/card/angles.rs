//! The angles of a card: what is asked, what is lost when it is not met, and what it costs.

use super::row::{CardRow, credit, row, times};
use crate::{
    rulebook::{Angle, Band, BandAmount, Book, Decides, TurnEnd},
    units::Magnitude,
};

/// Returns a row for every angle rule that some element of the division is asked.
pub(super) fn angles(book: &Book, (event, division): (&str, &str)) -> Vec<CardRow> {
    let asked = |angle: &&Angle| {
        angle.scope.covers(event, division)
            && book
                .elements
                .iter()
                .any(|e| e.event == event && book.allowed(e, division) && angle.asks_of(e))
    };
    book.angles.iter().filter(asked).map(angle).collect()
}

fn angle(rule: &Angle) -> CardRow {
    let write = |value| rule.quantity.write(value);
    let mut says = vec![rule.asks()];
    if rule.round_to.0 > 0.0 {
        says.push(format!("rounded to {}", write(rule.round_to)));
    }
    says.extend(rule.decides.map(|decides| turn(rule, decides)));
    if !rule.gates.is_empty() {
        let within = rule.gate_within;
        let kept =
            if within.0 > 0.0 { format!(" beyond {} short", write(within)) } else { String::new() };
        says.push(format!("no {}{kept}", credit(&rule.gates)));
    }
    let before = std::iter::once(None).chain(rule.bands.iter().map(Some));
    says.extend(before.zip(&rule.bands).map(|(before, own)| band(before, own, &write)));
    let said = says.join("; ") + times(rule.counts);
    CardRow { angle: Some(rule.clone()), ..row(&rule.shorthand, &rule.label, &said, &rule.page) }
}

/// Returns what decides a turn and what ends it.
fn turn(rule: &Angle, decides: Decides) -> String {
    // A jump has no heel that drops: it is over when it lands.
    match (decides, rule.ends) {
        (Decides::FrontFoot | Decides::HipsAndShoulders, TurnEnd::FirstHeelDrop) => {
            format!("by {}", decides.words())
        }
        _ => format!("by {}, to {}", decides.words(), rule.ends.words()),
    }
}

/// Returns what a band costs; where it begins is said only where the one before does not say it.
fn band(before: Option<&Band>, own: &Band, write: &dyn Fn(Magnitude) -> String) -> String {
    let amount = match own.amount {
        BandAmount::Flat(amount) => amount.short(),
        BandAmount::Proportional { from, to, grid } => {
            format!("{}–{} in steps of {}", from.short(), to.short(), grid.short())
        }
    };
    let begins = before.and_then(|before| before.up_to).unwrap_or(Magnitude(0.0));
    let gap = own.over != begins;
    let over = write(own.over);
    let leaves_its_end = before.is_some_and(|before| !before.inclusive);
    match own.up_to {
        Some(end) => {
            let over = if gap { format!("over {over} ") } else { String::new() };
            let end = write(end);
            let to = if own.inclusive { "to" } else { "to under" };
            format!("{over}{to} {end} short {amount}")
        }
        None if gap => format!("over {over} short {amount}"),
        None if leaves_its_end => format!("from {over} short {amount}"),
        None => format!("beyond {amount}"),
    }
}
