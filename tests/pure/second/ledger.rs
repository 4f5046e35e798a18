//! How a score is added up: parts, each with what it begins with, what adds to it, what is taken off it,
//! and how far it may go. The four ways that are ready made are written as parts, too.

use super::{charges::Charge, read::Row};

/// A part of the score.
#[derive(Clone, Default)]
struct Part {
    base: i64,
    holds: Vec<String>,
    groups: Vec<String>,
    /// In thousandths.
    share: i64,
    floor: Option<i64>,
    at_most: Option<i64>,
}

/// What a routine brings.
pub(super) struct Brings {
    /// The value of a vault.
    pub vault: Option<i64>,
    pub elements: i64,
    /// What all requirements are worth.
    pub asked: i64,
    pub missing_requirements: i64,
    pub missing_parts: i64,
    pub bonus: i64,
}

fn part(base: i64, holds: &[&str]) -> Part {
    let holds = holds.iter().map(|&it| it.to_owned()).collect();
    Part { base, holds, share: 1000, ..Part::default() }
}

fn parts(scoring: Row<'_>, vault: Option<i64>) -> Vec<Part> {
    let points = |key: &str| scoring.points(key).unwrap_or(0);
    let bucket = |key: &str| {
        let buckets = scoring.inner("buckets");
        buckets.first().and_then(|row| row.points(key)).unwrap_or(0)
    };
    let empty = |part: Part| Part { floor: Some(0), ..part };
    let neutral = part(0, &["neutral"]);
    let start = Part {
        at_most: scoring.points("start_at_most"),
        ..part(vault.unwrap_or(points("start")), &["requirements", "value-parts", "bonus"])
    };
    match scoring.text("formula").as_str() {
        "start-minus" => vec![start, part(0, &["faults"]), neutral],
        "start-minus-half" => vec![start, Part { share: 500, ..part(0, &["faults"]) }, neutral],
        "buckets" => {
            let artistry = part(bucket("artistry"), &[]);
            vec![
                empty(part(bucket("value_parts"), &["value-parts"])),
                empty(part(bucket("requirements"), &["requirements"])),
                empty(Part { groups: vec!["artistry".to_owned()], ..artistry }),
                empty(part(bucket("execution"), &["faults"])),
                part(0, &["bonus"]),
                neutral,
            ]
        }
        "open" => vec![
            Part {
                at_most: scoring.points("difficulty_at_most"),
                ..empty(part(0, &["elements", "met-requirements", "value-parts"]))
            },
            empty(part(points("execution"), &["faults"])),
            part(0, &["bonus"]),
            neutral,
        ],
        _ => scoring.inner("parts").into_iter().map(own).collect(),
    }
}

fn own(row: Row<'_>) -> Part {
    Part {
        base: row.points("base").unwrap_or(0),
        holds: row.names("holds"),
        groups: row.names("groups"),
        share: row.number("share").map_or(1000, |share| (share * 1000.0).round() as i64),
        floor: row.points("floor"),
        at_most: row.points("at_most"),
    }
}

/// Returns the start value and the score, before the book's highest and lowest.
pub(super) fn added_up(scoring: Row<'_>, brings: &Brings, left: &[(&Charge, i64)]) -> (i64, i64) {
    let parts = parts(scoring, brings.vault);
    let holds = |part: &Part, what: &str| part.holds.iter().any(|it| it == what);
    let of = |part: &Part, what: &str, amount: i64| if holds(part, what) { amount } else { 0 };
    // To which part a charge belongs.
    let home = |charge: &Charge| {
        let names = |part: &&Part| charge.groups.iter().any(|group| part.groups.contains(group));
        let is = |what: &str| parts.iter().position(|part| holds(part, what));
        if charge.is_neutral {
            return is("neutral");
        }
        parts.iter().position(|part| names(&part)).or_else(|| is("faults"))
    };
    let (mut start, mut score) = (0, 0);
    for (at, part) in parts.iter().enumerate() {
        let met = brings.asked - brings.missing_requirements;
        let mut begins = part.base + of(part, "elements", brings.elements);
        begins += of(part, "met-requirements", met);
        begins -= of(part, "requirements", brings.missing_requirements);
        begins -= of(part, "value-parts", brings.missing_parts);
        begins = begins.max(part.floor.unwrap_or(i64::MIN)).min(part.at_most.unwrap_or(i64::MAX));
        start += begins;
        let more = of(part, "bonus", brings.bonus);
        let full = (begins + more).min(part.at_most.unwrap_or(i64::MAX));
        let own = left.iter().filter(|(charge, _)| home(charge) == Some(at));
        let taken: i64 = own.map(|(_, left)| *left).sum::<i64>() * part.share / 1000;
        score += (full - taken).max(part.floor.unwrap_or(i64::MIN));
    }
    (start, score)
}

/// Whether a part of the score is made of this.
pub(super) fn is_held(scoring: Row<'_>, what: &str) -> bool {
    parts(scoring, None).iter().any(|part| part.holds.iter().any(|it| it == what))
}
