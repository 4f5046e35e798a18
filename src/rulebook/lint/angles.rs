//! Warnings about angles: bands that overlap or leave a gap, and steps that are off their grid.

use crate::rulebook::{Angle, BandAmount, Book, FaultAmount, rows::Findings};

use super::spots::Spots;

/// Adds warnings about the angle rules, and about amounts on a grid.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for angle in &book.angles {
        bands(angle, spots, findings);
        idle(book, angle, spots, findings);
    }
    grids(book, spots, findings);
}

/// Warns of a rule that asks of no element.
fn idle(book: &Book, angle: &Angle, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let asked = book
        .elements
        .iter()
        .any(|element| angle.scope.covers_event(&element.event) && angle.asks_of(element));
    if !asked {
        let message = format!("the angle \"{}\" is asked of no element", angle.id);
        let span = spots.of("angle", &angle.id, "id");
        findings.warning(&span, message, "check its events, and the tags of the elements there");
    }
}

fn bands(angle: &Angle, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let span = spots.of("angle", &angle.id, "bands");
    let write = |value| angle.quantity.write(value);
    for pair in angle.bands.windows(2) {
        let Some(last) = pair[0].up_to else { continue };
        let first = pair[1].over;
        let [begin, end] = [first, last].map(write);
        if first > last {
            let message = format!("being {end} to {begin} short lies in no band");
            findings.warning(&span, message, "leave \"over\" out: a band begins where one ends");
        } else if first < last {
            let message = format!("being {begin} to {end} short lies in two bands");
            findings.warning(&span, message, "let each band begin where the one before it ends");
        }
    }
    let Some(end) = angle.bands.last().and_then(|band| band.up_to) else { return };
    if angle.gates.is_empty() || angle.gate_within > end {
        let message = format!("being more than {} short costs nothing", write(end));
        findings.warning(&span, message, "leave \"up_to\" out of the last band");
    }
}

fn grids(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for fault in &book.faults {
        if let FaultAmount::UpTo { max, grid } = fault.amount
            && max.0 % grid.0 != 0
        {
            let message = format!("{} is not reached in steps of {}", max.short(), grid.short());
            let span = spots.of("fault", &fault.id, "up_to");
            findings.warning(&span, message, "choose a grid that divides the limit");
        }
    }
    for angle in &book.angles {
        for band in &angle.bands {
            if let BandAmount::Proportional { from, to, grid } = band.amount
                && (from.0 % grid.0 != 0 || to.0 % grid.0 != 0)
            {
                let message = format!("the band's ends do not lie on steps of {}", grid.short());
                let span = spots.of("angle", &angle.id, "bands");
                findings.warning(&span, message, "choose a grid that divides both ends");
            }
        }
    }
}
