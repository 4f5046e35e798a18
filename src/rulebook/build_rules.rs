//! From checked tables to the model: value parts, requirements, angles, faults and the rest.

use super::{
    Angle, Band, BandAmount, Book, Cap, Counts, Credit, Fault, FaultAmount, Need, Per, Replace,
    Requirement, Trigger, ValueParts, When,
    build::{Tables, scope},
    build_extra, build_small,
    findings::Findings,
    row::Row,
};
use crate::{
    geometry::Side,
    marks::{BodyPart, LandingOn, Manner, Phase, Quantity},
    units::{Degrees, Points},
};

/// Adds the rules of the tables to the book.
pub fn build(book: &mut Book, tables: &mut Tables<'_, '_, '_>) {
    book.value_parts = each(tables, "value_parts", |row, _| value_parts(row));
    book.requirements = each(tables, "requirement", requirement);
    book.angles = each(tables, "angle", angle);
    book.faults = each(tables, "fault", fault);
    book.whens = each(tables, "when", when);
    book.replaces = each(tables, "replace", |row, _| replace(row));
    book.caps = each(tables, "cap", |row, _| cap(row));
    book.merges = each(tables, "merge", build_small::merge);
    book.too_many = each(tables, "too_many", build_small::too_many);
    book.too_few = each(tables, "too_few", build_extra::too_few);
    book.times = each(tables, "time", build_extra::time);
    book.bonuses = each(tables, "bonus", build_extra::bonus);
    book.attempts = each(tables, "attempts", build_extra::attempts);
    book.panels = each(tables, "panel", build_small::panel);
}

fn each<T>(
    tables: &mut Tables<'_, '_, '_>,
    key: &str,
    read: impl Fn(&Row, &mut Findings<'_>) -> T,
) -> Vec<T> {
    let rows = tables.spread(key);
    rows.iter().map(|row| read(row, tables.findings)).collect()
}

fn value_parts(row: &Row) -> ValueParts {
    let need = |row: &Row| Need {
        class: row.text("class"),
        count: row.count("count").unwrap_or_default(),
        price: row.points("price").unwrap_or_default(),
    };
    ValueParts {
        scope: scope(row),
        need: row.rows("need").iter().map(need).collect(),
        higher_replaces: row.flag("higher_replaces").unwrap_or(true),
        page: row.text("where"),
    }
}

fn requirement(row: &Row, findings: &mut Findings<'_>) -> Requirement {
    needs_one_of(row, &["elements", "tags"], findings);
    Requirement {
        id: row.text("id"),
        label: row.text("label"),
        shorthand: row.text("shorthand"),
        scope: scope(row),
        price: row.points("price").unwrap_or_default(),
        count: row.count("count").unwrap_or(1),
        elements: row.texts("elements"),
        tags: row.texts("tags"),
        classes: row.texts("classes"),
        except: row.texts("except"),
        distinct: row.flag("distinct").unwrap_or(true),
        connected: row.flag("connected").unwrap_or(false),
        only_first: row.texts("only_first"),
        only_last: row.texts("only_last"),
        asks: row.texts("asks"),
        each: row.flag("each").unwrap_or(false),
        page: row.text("where"),
    }
}

fn angle(row: &Row, findings: &mut Findings<'_>) -> Angle {
    needs_one_of(row, &["elements", "tags"], findings);
    Angle {
        id: row.text("id"),
        label: row.text("label"),
        shorthand: row.text("shorthand"),
        scope: scope(row),
        elements: row.texts("elements"),
        tags: row.texts("tags"),
        quantity: word_of(row, "quantity").unwrap_or(Quantity::BodyLine),
        moment: row.text("moment"),
        target: Degrees(row.degrees("target").unwrap_or_default()),
        side: word_of(row, "side").unwrap_or(Side::AtLeast),
        gates: credits(row, "gates"),
        gate_within: Degrees(row.degrees("gate_within").unwrap_or_default()),
        bands: bands(row.rows("bands"), findings),
        counts: counts(row),
        group: group(row),
        page: row.text("where"),
    }
}

fn bands(rows: &[Row], findings: &mut Findings<'_>) -> Vec<Band> {
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
            let message = format!("this band ends before it begins at {}", Degrees(over));
            findings.error(&row.span_of("up_to"), message, "list the bands from small to large");
        }
        bands.push(Band {
            over: Degrees(over),
            up_to: up_to.map(Degrees),
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

fn fault(row: &Row, findings: &mut Findings<'_>) -> Fault {
    Fault {
        id: row.text("id"),
        label: row.text("label"),
        shorthand: row.text("shorthand"),
        scope: scope(row),
        amount: fault_amount(row, findings),
        counts: counts(row),
        removes: credits(row, "removes"),
        group: group(row),
        page: row.text("where"),
    }
}

fn fault_amount(row: &Row, findings: &mut Findings<'_>) -> FaultAmount {
    let ways: Vec<&str> =
        ["amount", "up_to", "choice"].into_iter().filter(|key| row.has(key)).collect();
    if ways.len() != 1 {
        let message = "a fault has exactly one of amount, up_to and choice".to_owned();
        findings.error(&row.span, message, "keep one of the three");
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
        _ => FaultAmount::Flat(row.points("amount").unwrap_or_default()),
    }
}

fn positive(row: &Row, key: &str, otherwise: Points, findings: &mut Findings<'_>) -> Points {
    let amount = row.points(key).unwrap_or(otherwise);
    if amount > Points::ZERO {
        return amount;
    }
    findings.error(&row.span_of(key), format!("{key} must be more than 0"), "such as 0.05 or 0.1");
    otherwise
}

fn when(row: &Row, findings: &mut Findings<'_>) -> When {
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
            (Trigger::Fact { fact: row.text("fact"), is: row.texts("is") }, &["fact", "is"])
        }
        "contact" => (contact(row), &["parts", "phases", "manners"]),
        "landing" => (Trigger::Landing { on: words_of::<LandingOn>(row, "on") }, &["on"]),
        _ => (Trigger::Fall, &[]),
    };
    let all = ["after", "parts", "phases", "manners", "on", "fact", "is"];
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

fn replace(row: &Row) -> Replace {
    Replace { scope: scope(row), rule: row.text("rule"), drops: row.texts("drops") }
}

fn cap(row: &Row) -> Cap {
    Cap {
        id: row.text("id"),
        label: row.text("label"),
        scope: scope(row),
        group: group(row),
        at_most: row.points("at_most").unwrap_or_default(),
        per: if row.word("per") == "element" { Per::Element } else { Per::Exercise },
        lifted_by: row.texts("lifted_by"),
        page: row.text("where"),
    }
}

fn group(row: &Row) -> String {
    row.texts("group").into_iter().next().unwrap_or_default()
}

fn counts(row: &Row) -> Counts {
    match row.word("counts") {
        "once" => Counts::Once,
        "once-per-element" => Counts::OncePerElement,
        _ => Counts::Each,
    }
}

fn credits(row: &Row, key: &str) -> Vec<Credit> {
    let credit = |word: &String| match word.as_str() {
        "value-part" => Credit::ValuePart,
        "connection" => Credit::Connection,
        _ => Credit::Requirement,
    };
    row.texts(key).iter().map(credit).collect()
}

/// Reports a table that has none of the keys.
pub fn needs_one_of(row: &Row, keys: &[&str], findings: &mut Findings<'_>) {
    if keys.iter().all(|key| !row.has(key)) {
        let message = format!("one of the keys {} is missing", keys.join(" and "));
        findings.error(&row.span, message, &format!("add {}", keys.join(" or ")));
    }
}

/// Returns the value that the word stands for in the marks file, which uses the same words.
pub fn word_of<T: serde::de::DeserializeOwned>(row: &Row, key: &str) -> Option<T> {
    serde_json::from_value(row.word(key).into()).ok()
}

/// Returns the values that the words stand for in the marks file.
pub fn words_of<T: serde::de::DeserializeOwned>(row: &Row, key: &str) -> Vec<T> {
    let words = row.texts(key).into_iter();
    words.filter_map(|word| serde_json::from_value(word.into()).ok()).collect()
}
