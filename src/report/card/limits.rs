//! The limits of a card: times, caps, what may be shown only so often, and what adds to the score.

use std::fmt::Write as _;

use super::row::{CardRow, credit, row, rows};
use crate::{
    rulebook::{
        Bonus, BonusLimit, Book, Cap, Connection, Consequence, ElementLimit, Per, Scoring, Time,
        TooFew, TooMany,
    },
    units::{Points, capitalised},
};

/// Returns what elements and vaults bring that the division may not do, where it costs something.
pub(super) fn consequences(scoring: &Scoring) -> Vec<CardRow> {
    let all = [
        ("Element not allowed", scoring.not_allowed),
        ("Vault not in the list", scoring.unlisted_vault),
        ("Vault not as announced", scoring.not_as_announced),
    ];
    let says = |consequence| match consequence {
        Consequence::NoCredit => None,
        Consequence::Amount(amount) => Some(amount.short()),
        Consequence::Void => Some("void".to_owned()),
    };
    all.into_iter().filter_map(|(label, is)| Some(row("", label, &says(is)?, ""))).collect()
}

/// Returns the limits of time with their signals.
pub(super) fn times(book: &Book, (event, division): (&str, &str)) -> Vec<CardRow> {
    rows(book.times_of(event, division), time)
}

/// Returns which kinds of elements may be among the best, caps, what there may be too many or too few of,
/// connections and bonuses.
pub(super) fn limits(book: &Book, (event, division): (&str, &str)) -> Vec<CardRow> {
    let scoring = book.scoring(event, division);
    let kinds = scoring.into_iter().flat_map(|scoring| &scoring.limits);
    let mut limits: Vec<CardRow> = kinds.map(kind).collect();
    limits.extend(rows(book.caps_of(event, division), |rule| cap(book, rule)));
    limits.extend(rows(book.too_many_of(event, division), too_many));
    limits.extend(rows(book.too_few_of(event, division), too_few));
    limits.extend(rows(book.connections_of(event, division), connection));
    limits.extend(rows(book.bonuses_of(event, division), bonus));
    limits.extend(rows(book.bonus_limits_of(event, division), bonus_limit));
    limits
}

fn kind(limit: &ElementLimit) -> CardRow {
    let most = limit.at_most.map(|most| format!("at most {most} among the best"));
    let kept = limit.at_least.map(|kept| match kept {
        1 => "one place is kept for it".to_owned(),
        _ => format!("{kept} places are kept for it"),
    });
    let says: Vec<String> = most.into_iter().chain(kept).collect();
    row("", &capitalised(&limit.tags.join(" or ")), &says.join(", "), "")
}

fn time(rule: &Time) -> CardRow {
    let mut says = if rule.void { "void".to_owned() } else { rule.amount.short() };
    if !rule.removes.is_empty() {
        let _ = write!(says, ", no {}", credit(&rule.removes));
    }
    if rule.neutral {
        says.push_str(OFF_THE_WHOLE);
    }
    if let Some(signal) = rule.warn_at {
        let seconds = Points(signal).short();
        let _ = write!(says, ", signal at {} s", seconds.trim_end_matches(".0"));
    }
    row("", &rule.label, &says, &rule.page)
}

/// Words for what is neither halved nor taken off a bucket.
pub(super) const OFF_THE_WHOLE: &str = ", off the whole score";

fn cap(book: &Book, rule: &Cap) -> CardRow {
    let worth = if rule.plus_value { " and its worth" } else { "" };
    let per = match rule.per {
        Per::Phase => ", each phase",
        Per::Element => ", each element",
        Per::Exercise => "",
    };
    let mut says = format!("at most {}{worth}{per}", rule.at_most.short());
    let labels = |ids: &[String]| {
        let labels: Vec<&str> = ids.iter().map(|id| book.label_of(id).unwrap_or(id)).collect();
        labels.join(", ")
    };
    if !rule.except.is_empty() {
        let _ = write!(says, ", {} on top", labels(&rule.except));
    }
    if !rule.lifted_by.is_empty() {
        let _ = write!(says, ", not with {}", labels(&rule.lifted_by));
    }
    row("", &rule.label, &says, &rule.page)
}

fn too_many(rule: &TooMany) -> CardRow {
    let each = if rule.void { "void".to_owned() } else { rule.amount.short() };
    row("", &rule.label, &format!("{each} for each beyond {}", rule.at_most), &rule.page)
}

fn too_few(rule: &TooFew) -> CardRow {
    let steps = rule.steps.iter();
    let steps = steps.map(|step| format!("below {} {}", step.below, step.amount.short()));
    let mut says = steps.collect::<Vec<_>>().join("; ");
    if rule.neutral {
        says.push_str(OFF_THE_WHOLE);
    }
    row("", &rule.label, &says, &rule.page)
}

fn connection(rule: &Connection) -> CardRow {
    row(&rule.shorthand, &rule.label, &format!("+ {}", rule.amount.short()), &rule.page)
}

fn bonus(rule: &Bonus) -> CardRow {
    row("", &rule.label, &format!("+ {}", rule.amount.short()), &rule.page)
}

fn bonus_limit(rule: &BonusLimit) -> CardRow {
    row("", &rule.label, &format!("at most {} together", rule.at_most.short()), &rule.page)
}
