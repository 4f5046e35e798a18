//! From checked tables to the model: times, bonuses, too few elements, attempts, limits.

use crate::rulebook::{
    Attempts, Bonus, Limit, Rounding, Step, Take, Time, TimeOf, TooFew,
    rows::{findings::Findings, row::Row},
};

use super::{
    build::scope,
    rules::{credits, needs_one_of},
};

/// Returns the limit of time.
pub(crate) fn time(row: &Row, findings: &mut Findings<'_>) -> Time {
    needs_one_of(row, &["at_least", "at_most"], findings);
    needs_one_of(row, &["amount", "void", "removes"], findings);
    if row.has("removes") && row.word("of") != "element" {
        let message = "only an element has credit to lose".to_owned();
        findings.error(
            &row.span_of("removes"),
            message,
            "take the key out, or write of = \"element\"",
        );
    }
    let milliseconds = |key: &str| row.points(key).map(|seconds| seconds.0);
    Time {
        id: row.text("id"),
        label: row.text("label"),
        scope: scope(row),
        of: time_of(row, findings),
        at_least: milliseconds("at_least"),
        at_most: milliseconds("at_most"),
        warn_at: milliseconds("warn_at"),
        amount: row.points("amount").unwrap_or_default(),
        void: row.flag("void").unwrap_or(false),
        removes: credits(row, "removes"),
        neutral: row.flag("neutral").unwrap_or(false),
        group: row.texts("group").into_iter().next().unwrap_or_default(),
        page: row.text("where"),
    }
}

fn time_of(row: &Row, findings: &mut Findings<'_>) -> TimeOf {
    if row.word("of") == "element" {
        needs_one_of(row, &["elements", "tags"], findings);
        return TimeOf::Element { elements: row.texts("elements"), tags: row.texts("tags") };
    }
    for key in ["elements", "tags"].into_iter().filter(|key| row.has(key)) {
        let message = format!("\"{key}\" says nothing about the time of \"{}\"", row.word("of"));
        findings.error(&row.span_of(key), message, "take the key out, or write of = \"element\"");
    }
    match row.word("of") {
        "fall" => TimeOf::Fall,
        "stop" => TimeOf::Stop,
        _ => TimeOf::Exercise,
    }
}

/// Returns what adds to the score.
pub(crate) fn bonus(row: &Row, findings: &mut Findings<'_>) -> Bonus {
    needs_one_of(row, &["elements", "tags", "fact"], findings);
    Bonus {
        id: row.text("id"),
        label: row.text("label"),
        scope: scope(row),
        elements: row.texts("elements"),
        tags: row.texts("tags"),
        fact: row.text("fact"),
        is: row.texts("is"),
        amount: row.points("amount").unwrap_or_default(),
        at_most: row.count("at_most").unwrap_or(1),
        unless: row.texts("unless"),
        page: row.text("where"),
    }
}

/// Returns what too few elements cost.
pub(crate) fn too_few(row: &Row, findings: &mut Findings<'_>) -> TooFew {
    let step = |row: &Row| Step {
        below: row.count("below").unwrap_or_default(),
        amount: row.points("amount").unwrap_or_default(),
    };
    let steps: Vec<Step> = row.rows("steps").iter().map(step).collect();
    if steps.windows(2).any(|pair| pair[0].below <= pair[1].below) {
        let message = "the steps do not go down".to_owned();
        findings.error(&row.span_of("steps"), message, "list them from most elements to fewest");
    }
    TooFew {
        id: row.text("id"),
        label: row.text("label"),
        scope: scope(row),
        steps,
        neutral: row.flag("neutral").unwrap_or(false),
        page: row.text("where"),
    }
}

/// Returns how the scores of several attempts become one.
pub(crate) fn attempts(row: &Row, findings: &mut Findings<'_>) -> Attempts {
    let digits = row.count("digits").unwrap_or(3);
    if digits > 3 {
        let message = "a score has at most three decimals".to_owned();
        findings.error(&row.span_of("digits"), message, "write 1, 2 or 3");
    }
    Attempts {
        scope: scope(row),
        take: match row.word("take") {
            "mean" => Take::Mean,
            "sum" => Take::Sum,
            _ => Take::Best,
        },
        digits: digits.min(3),
        rounding: match row.word("rounding") {
            "nearest" => Rounding::Nearest,
            _ => Rounding::Cut,
        },
    }
}

/// Returns a limit on which elements are among the best.
pub(crate) fn limit(row: &Row, findings: &mut Findings<'_>) -> Limit {
    needs_one_of(row, &["at_most", "at_least"], findings);
    Limit {
        tags: row.texts("tags"),
        at_most: row.count("at_most"),
        at_least: row.count("at_least"),
    }
}
