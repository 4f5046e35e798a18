//! From checked tables to the model: merges, elements shown too often, panels.

use crate::rulebook::{
    Allowed, Beyond, Combine, Merge, Panel, Rounding, TooMany,
    rows::{findings::Findings, row::Row},
};

use super::{build::scope, rules::needs_one_of};

/// Returns the rule on small faults that make a larger one.
pub(crate) fn merge(row: &Row, findings: &mut Findings<'_>) -> Merge {
    let count = row.count("count").unwrap_or(2);
    if count < 2 {
        let message = "it takes at least two to merge".to_owned();
        findings.error(&row.span_of("count"), message, "write 2 or more");
    }
    Merge {
        scope: scope(row),
        rule: row.text("rule"),
        of: row.points("of").unwrap_or_default(),
        count: count.max(2),
        into: row.points("into").unwrap_or_default(),
    }
}

/// Returns the rule on elements shown too often.
pub(crate) fn too_many(row: &Row, findings: &mut Findings<'_>) -> TooMany {
    needs_one_of(row, &["elements", "tags", "classes"], findings);
    needs_one_of(row, &["amount", "void"], findings);
    TooMany {
        id: row.text("id"),
        label: row.text("label"),
        scope: scope(row),
        elements: row.texts("elements"),
        tags: row.texts("tags"),
        classes: row.texts("classes"),
        at_most: row.count("at_most").unwrap_or_default(),
        amount: row.points("amount").unwrap_or_default(),
        void: row.flag("void").unwrap_or(false),
        page: row.text("where"),
    }
}

/// Returns how the scores of several judges become one.
pub(crate) fn panel(row: &Row, findings: &mut Findings<'_>) -> Panel {
    let digits = row.count("digits").unwrap_or(3);
    if digits > 3 {
        let message = "a score has at most three decimals".to_owned();
        findings.error(&row.span_of("digits"), message, "write 1, 2 or 3");
    }
    let allowed = |row: &Row| Allowed {
        from: row.points("from").unwrap_or_default(),
        difference: row.points("difference").unwrap_or_default(),
    };
    Panel {
        scope: scope(row),
        combine: match row.word("combine") {
            "drop-ends" => Combine::DropEnds,
            "middle" => Combine::Middle(middle(row, findings)),
            _ => Combine::Mean,
        },
        digits: digits.min(3),
        rounding: match row.word("rounding") {
            "nearest" => Rounding::Nearest,
            _ => Rounding::Cut,
        },
        allowed: row.rows("allowed").iter().map(allowed).collect(),
        beyond: match row.word("beyond") {
            "average" => Beyond::Average,
            "mean-of-all" => Beyond::MeanOfAll,
            _ => Beyond::Confer,
        },
    }
}

fn middle(row: &Row, findings: &mut Findings<'_>) -> u32 {
    let middle = row.count("middle").unwrap_or_default();
    if middle == 0 {
        let message = "\"middle\" does not say how many".to_owned();
        findings.error(&row.span_of("middle"), message, "add middle = 3, or another number");
    }
    middle.max(1)
}
