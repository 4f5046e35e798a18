//! From checked tables to the model: faults, and what follows from other marks.

use crate::{
    marks::{BodyPart, LandingOn, Manner, Phase},
    rulebook::{
        Fault, FaultAmount, Trigger, When,
        rows::{findings::Findings, row::Row},
    },
    units::Points,
};

use super::{
    build::scope,
    rules::{counts, credits, group, needs_one_of, positive, words_of},
};

/// Returns the fault that a judge writes down.
pub(crate) fn fault(row: &Row, findings: &mut Findings<'_>) -> Fault {
    Fault {
        id: row.text("id"),
        label: row.text("label"),
        shorthand: row.text("shorthand"),
        scope: scope(row),
        amount: fault_amount(row, findings),
        means: means(row, findings),
        void: row.flag("void").unwrap_or(false),
        counts: counts(row),
        removes: credits(row, "removes"),
        group: group(row),
        neutral: row.flag("neutral").unwrap_or(false),
        page: row.text("where"),
    }
}

fn fault_amount(row: &Row, findings: &mut Findings<'_>) -> FaultAmount {
    let ways: Vec<&str> =
        ["amount", "up_to", "choice", "of_value"].into_iter().filter(|key| row.has(key)).collect();
    let void = row.flag("void").unwrap_or(false);
    if ways.len() > 1 || ways.is_empty() && !void {
        let message = "a fault has exactly one of amount, up_to, choice and of_value".to_owned();
        let remedy = if ways.is_empty() { "add one of the four" } else { "keep one of them" };
        findings.error(&row.span, message, remedy);
    }
    match ways.first() {
        Some(&"up_to") => FaultAmount::UpTo {
            max: row.points("up_to").unwrap_or_default(),
            grid: positive(row, "grid", Points(100), findings),
        },
        Some(&"choice") => {
            let amounts = row.amounts("choice");
            if amounts.is_empty() {
                let message = "there is nothing to choose from".to_owned();
                findings.error(&row.span_of("choice"), message, "list amounts: [0.1, 0.3]");
            }
            FaultAmount::Choice(amounts)
        }
        Some(&"of_value") => FaultAmount::OfValue(row.points("of_value").unwrap_or_default()),
        _ => FaultAmount::Flat(row.points("amount").unwrap_or_default()),
    }
}

fn means(row: &Row, findings: &mut Findings<'_>) -> Vec<String> {
    let means = row.texts("means");
    if row.has("means") && means.len() != row.amounts("choice").len() {
        let message = "there are not as many words as amounts to choose from".to_owned();
        findings.error(&row.span_of("means"), message, "give one word for each amount of choice");
    }
    means
}

/// Returns what follows from the mark.
pub(crate) fn when(row: &Row, findings: &mut Findings<'_>) -> When {
    When {
        id: row.text("id"),
        label: row.text("label"),
        shorthand: row.text("shorthand"),
        scope: scope(row),
        trigger: trigger(row, findings),
        amount: row.points("amount").unwrap_or_default(),
        void: row.flag("void").unwrap_or(false),
        counts: counts(row),
        removes: credits(row, "removes"),
        group: group(row),
        neutral: row.flag("neutral").unwrap_or(false),
        page: row.text("where"),
    }
}

fn trigger(row: &Row, findings: &mut Findings<'_>) -> Trigger {
    let (trigger, own): (Trigger, &[&str]) = match row.word("mark") {
        "spot" => (Trigger::Spot { phases: words_of::<Phase>(row, "phases") }, &["phases"]),
        "swing" => (Trigger::Swing { after: row.texts("after") }, &["after"]),
        "stop" => (Trigger::Stop, &[]),
        "fact" => {
            needs_one_of(row, &["fact"], findings);
            let (is, below, above) = (row.texts("is"), row.points("below"), row.points("above"));
            let fact = row.text("fact");
            (Trigger::Fact { fact, is, below, above }, &["fact", "is", "below", "above"])
        }
        "contact" => (contact(row), &["parts", "phases", "manners"]),
        "landing" => (Trigger::Landing { on: words_of::<LandingOn>(row, "on") }, &["on"]),
        _ => (Trigger::Fall, &[]),
    };
    let all = ["after", "parts", "phases", "manners", "on", "fact", "is", "below", "above"];
    for key in all.into_iter().filter(|key| row.has(key) && !own.contains(key)) {
        let message = format!("\"{key}\" says nothing about the mark \"{}\"", row.word("mark"));
        findings.error(&row.span_of(key), message, "take the key out");
    }
    trigger
}

fn contact(row: &Row) -> Trigger {
    Trigger::Contact {
        parts: words_of::<BodyPart>(row, "parts"),
        phases: words_of::<Phase>(row, "phases"),
        manners: words_of::<Manner>(row, "manners"),
    }
}
