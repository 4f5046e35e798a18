//! From checked tables to the model: value parts, requirements, connections, compulsory texts.

use crate::rulebook::{
    Breaker, Connection, Follow, Need, Place, Requirement, Text, ValueParts,
    rows::{findings::Findings, row::Row},
};

use super::{build::scope, rules::needs_one_of};

/// Returns how many value parts are asked for.
pub(crate) fn value_parts(row: &Row) -> ValueParts {
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

/// Returns what a routine must show.
pub(crate) fn requirement(row: &Row, findings: &mut Findings<'_>) -> Requirement {
    needs_one_of(row, &["elements", "tags"], findings);
    let connected = row.flag("connected").unwrap_or(false);
    let of_series = ["links", "breaks", "gap", "only_first", "only_last"];
    for key in of_series.into_iter().filter(|key| !connected && row.has(key)) {
        let message = format!("\"{key}\" says something of a series only");
        findings.error(&row.span_of(key), message, "add connected = true, or take the key out");
    }
    if row.flag("each_tag").unwrap_or(false) && row.texts("tags").len() < 2 {
        let message = "\"each_tag\" needs several tags to count".to_owned();
        findings.error(&row.span_of("each_tag"), message, "list the groups in tags");
    }
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
        each_tag: row.flag("each_tag").unwrap_or(false),
        with: row.texts("with"),
        place: place(row),
        apart_from: row.texts("apart_from"),
        connected,
        follow: follow(row),
        only_first: row.texts("only_first"),
        only_last: row.texts("only_last"),
        asks: row.texts("asks"),
        each: row.flag("each").unwrap_or(false),
        page: row.text("where"),
    }
}

fn place(row: &Row) -> Option<Place> {
    match row.word("place") {
        "first" => Some(Place::First),
        "last" => Some(Place::Last),
        _ => None,
    }
}

fn follow(row: &Row) -> Follow {
    let breaker = |word: &String| match word.as_str() {
        "fall" => Breaker::Fall,
        "swing" => Breaker::Swing,
        "spot" => Breaker::Spot,
        _ => Breaker::Stop,
    };
    let breaks = if row.has("breaks") {
        row.texts("breaks").iter().map(breaker).collect()
    } else {
        vec![Breaker::Stop, Breaker::Fall, Breaker::Swing]
    };
    let gap = row.points("gap").map(|seconds| seconds.0);
    Follow { links: row.texts("links"), breaks, gap }
}

/// Returns what adds to the score where elements follow one another.
pub(crate) fn connection(row: &Row, findings: &mut Findings<'_>) -> Connection {
    let series = row.texts("series");
    if row.has("series") && series.len() < 2 {
        let message = "a series has at least two elements".to_owned();
        findings.error(&row.span_of("series"), message, "give a tag for each of them");
    }
    Connection {
        id: row.text("id"),
        label: row.text("label"),
        shorthand: row.text("shorthand"),
        scope: scope(row),
        series,
        any_order: row.flag("any_order").unwrap_or(false),
        follow: follow(row),
        amount: row.points("amount").unwrap_or_default(),
        at_most: row.count("at_most"),
        page: row.text("where"),
    }
}

/// Returns the text of a compulsory routine.
pub(crate) fn text(row: &Row, findings: &mut Findings<'_>) -> Text {
    needs_one_of(row, &["left_out", "left_out_value", "added", "swapped"], findings);
    Text {
        id: row.text("id"),
        label: row.text("label"),
        scope: scope(row),
        elements: row.texts("elements"),
        left_out: row.points("left_out").unwrap_or_default(),
        left_out_value: row.points("left_out_value").unwrap_or_default(),
        added: row.points("added").unwrap_or_default(),
        swapped: row.points("swapped").unwrap_or_default(),
        neutral: row.flag("neutral").unwrap_or(false),
        page: row.text("where"),
    }
}
