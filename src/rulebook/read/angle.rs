//! From checked tables to the model: what is asked of angles and lengths.

use crate::{
    geometry::Side,
    marks::Quantity,
    rulebook::{
        Angle, Band, BandAmount, Decides, TurnEnd,
        rows::{findings::Findings, row::Row},
    },
    units::{Magnitude, Points, Unit},
};

use super::{
    build::scope,
    rules::{counts, credits, group, needs_one_of, positive, word_of},
};

/// Returns what is asked of an angle.
pub(crate) fn angle(row: &Row, findings: &mut Findings<'_>) -> Angle {
    needs_one_of(row, &["elements", "tags"], findings);
    turn(row, findings);
    let gate_within = row.degrees("gate_within").unwrap_or_default();
    if row.has("gate_within") && !row.has("gates") {
        let message =
            "\"gate_within\" says how far credit is kept, and no credit is named".to_owned();
        let remedy = "add gates = [\"value-part\", \"requirement\"], or take the key out";
        findings.error(&row.span_of("gate_within"), message, remedy);
    }
    let quantity = word_of(row, "quantity").unwrap_or(Quantity::BodyLine);
    in_its_unit(row, quantity, findings);
    let round_to = round_to(row, quantity.unit(), findings);
    Angle {
        id: row.text("id"),
        label: row.text("label"),
        shorthand: row.text("shorthand"),
        scope: scope(row),
        elements: row.texts("elements"),
        tags: row.texts("tags"),
        quantity,
        moment: row.text("moment"),
        target: Magnitude(row.degrees("target").unwrap_or_default()),
        side: word_of(row, "side").unwrap_or(Side::AtLeast),
        round_to: Magnitude(round_to),
        decides: decides(row),
        ends: ends(row),
        gates: credits(row, "gates"),
        gate_within: Magnitude(gate_within),
        bands: bands(row.rows("bands"), quantity.unit(), findings),
        counts: counts(row),
        group: group(row),
        page: row.text("where"),
    }
}

/// Returns the largest step to round to, for lengths also the largest target.
const fn most(unit: Unit) -> f64 {
    match unit {
        Unit::Degree => 90.0,
        Unit::Metre => 30.0,
        Unit::ShoulderWidth => 10.0,
    }
}

/// Reports a target that nobody reaches in the quantity's unit: 90 shoulder widths, say.
fn in_its_unit(row: &Row, quantity: Quantity, findings: &mut Findings<'_>) {
    let unit = quantity.unit();
    let target = row.degrees("target").unwrap_or_default();
    // Turns have no end.
    if unit != Unit::Degree && !(0.0..=most(unit)).contains(&target) {
        let (words, most, unit) = (quantity.words(), most(unit), unit.words());
        let message = format!("{words} is counted in {unit}");
        let remedy = format!("write a target from 0 to {most} {unit}");
        findings.error(&row.span_of("target"), message, &remedy);
    }
}

/// Reports a turn of which nobody says what decides it, and what only turns have elsewhere.
fn turn(row: &Row, findings: &mut Findings<'_>) {
    if row.word("quantity") == "turn" {
        if !row.has("decides") {
            let message = "a turn rule says what decides how far the turn went".to_owned();
            let remedy =
                "add decides = \"turning-foot\", or \"front-foot\" where a jump lands on two";
            findings.error(&row.span_of("quantity"), message, remedy);
        }
        return;
    }
    for key in ["decides", "ends"].into_iter().filter(|key| row.has(key)) {
        let message = format!("\"{key}\" says something of a turn only");
        findings.error(
            &row.span_of(key),
            message,
            "take the key out, or write quantity = \"turn\"",
        );
    }
}

fn decides(row: &Row) -> Option<Decides> {
    match row.word("decides") {
        "turning-foot" => Some(Decides::TurningFoot),
        "front-foot" => Some(Decides::FrontFoot),
        "hips-and-shoulders" => Some(Decides::HipsAndShoulders),
        _ => None,
    }
}

fn ends(row: &Row) -> TurnEnd {
    match row.word("ends") {
        "free-foot-down" => TurnEnd::FreeFootDown,
        "second-hand" => TurnEnd::SecondHand,
        _ => TurnEnd::FirstHeelDrop,
    }
}

fn round_to(row: &Row, unit: Unit, findings: &mut Findings<'_>) -> f64 {
    let (most, words, like) = (most(unit), unit.words(), unit.step() * 10.0);
    match row.degrees("round_to") {
        Some(step) if step <= 0.0 || step > most => {
            let message = format!("steps to round to lie above 0 and up to {most} {words}");
            let remedy = format!("write a step in {words}, like round_to = {like}");
            findings.error(&row.span_of("round_to"), message, &remedy);
            0.0
        }
        step => step.unwrap_or_default(),
    }
}

fn bands(rows: &[Row], unit: Unit, findings: &mut Findings<'_>) -> Vec<Band> {
    let mut bands: Vec<Band> = Vec::new();
    for row in rows {
        needs_one_of(row, &["amount", "proportional"], findings);
        let before = bands.last();
        let over = row.degrees("over").or_else(|| before?.up_to.map(|up_to| up_to.0));
        let over = over.unwrap_or_default();
        let up_to = row.degrees("up_to");
        if before.is_some_and(|before| before.up_to.is_none()) {
            let message = "the band before this one has no end".to_owned();
            findings.error(&row.span, message, "give it up_to, or put it last");
        }
        if up_to.is_some_and(|up_to| up_to <= over) {
            let begins = unit.write(Magnitude(over));
            let message = format!("this band ends before it begins at {begins}");
            findings.error(&row.span_of("up_to"), message, "list the bands from small to large");
        }
        bands.push(Band {
            over: Magnitude(over),
            up_to: up_to.map(Magnitude),
            inclusive: row.flag("inclusive").unwrap_or(true),
            amount: band_amount(row, findings),
        });
    }
    bands
}

fn band_amount(row: &Row, findings: &mut Findings<'_>) -> BandAmount {
    let Some(inner) = row.row("proportional") else {
        return BandAmount::Flat(row.points("amount").unwrap_or_default());
    };
    if !row.has("up_to") {
        let message = "an amount that grows through its band needs the band's end".to_owned();
        findings.error(&row.span_of("proportional"), message, "add up_to");
    }
    let amount = |key: &str| inner.points(key).unwrap_or_default();
    let grid = positive(inner, "grid", Points(100), findings);
    BandAmount::Proportional { from: amount("from"), to: amount("to"), grid }
}
