use base64::Engine as _;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::{
    sheet::{
        BesidePlan, BesideResult, FrameAt, Line, Requirement, ScoreSheet, Status, ValuePart,
        WinBack,
    },
    units::Points,
};

/// A picture that is shown under the sheet because somebody asked for stills.
pub struct Still {
    /// Which frame it is.
    pub frame: FrameAt,
    /// Whole PNG file.
    pub png: Vec<u8>,
    /// What it shows, in the words of the lines that lead to it.
    pub caption: String,
}

/// Returns the score sheet as one HTML page that needs no other file and prints on A4.
pub fn sheet_page(sheet: &ScoreSheet, stills: &[Still]) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Score sheet " (sheet.standing.athlete) }
                style { (PreEscaped(include_str!("sheet.css"))) }
            }
            body {
                (head(sheet))
                (total(sheet))
                (close_calls(sheet))
                (voids(sheet))
                (elements(sheet))
                (value_parts(&sheet.value_parts))
                (requirements(&sheet.requirements))
                (deductions(&sheet.deductions))
                (beside_result(&sheet.result))
                (sheet.plan.as_ref().map_or(Markup::default(), beside_plan))
                (win_backs("To win it back", sheet.win_back.iter().filter(|way| !way.learning)))
                (win_backs(
                    "With what is still being learned",
                    sheet.win_back.iter().filter(|way| way.learning),
                ))
                (remarks(&sheet.remarks))
                (pictures(stills))
                (caution(sheet))
            }
        }
    };
    page.into_string()
}

fn head(sheet: &ScoreSheet) -> Markup {
    let of = &sheet.standing;
    let facts = [&of.event, &of.division].map(|id| capitalised(id));
    html! {
        header {
            h1 { "Score sheet " (of.athlete) }
            p {
                (facts.join(", "))
                @if !of.judge.is_empty() { " · judge " (of.judge) }
                @if !of.date.is_empty() { " · " (of.date) }
            }
            p { (of.title) ", edition " (of.edition) " (" (of.short_hash()) ")" }
        }
    }
}

fn total(sheet: &ScoreSheet) -> Markup {
    let taken: Points = sheet.deductions.iter().map(|line| line.amount).sum();
    let score = scored(sheet.score);
    html! {
        div.total {
            div { dl { dt { "Start value" } dd { (sheet.start_value) } } }
            div { dl { dt { "Deductions" } dd { (taken) } } }
            div { dl { dt { "Score" } dd { (score) } } }
            div { dl { dt { "Range over close calls" } dd { (range(sheet)) } } }
        }
    }
}

/// Returns the range in words: one number when nothing is open.
fn range(sheet: &ScoreSheet) -> String {
    let between = sheet.score_range;
    let scores = if between.low == between.high {
        between.low.to_string()
    } else {
        format!("{} – {}", between.low, between.high)
    };
    match (sheet.void, between.may_be_void) {
        (true, _) => "void".to_owned(),
        (false, true) => format!("{scores} or void"),
        (false, false) => scores,
    }
}

fn voids(sheet: &ScoreSheet) -> Markup {
    let title = if sheet.void { "Void" } else { "May be void" };
    table(title, RULES, sheet.void_reasons.iter().map(line))
}

fn elements(sheet: &ScoreSheet) -> Markup {
    let rows = sheet.elements.iter().map(|element| {
        let (class, frames) = (element.class.clone(), frames(&element.frames));
        let asked = element
            .decisions
            .iter()
            .map(|asked| format!(" {}: {}", asked.label, with_page(&asked.reason, &asked.page)));
        let why = with_page(&element.reason, &element.page) + &asked.collect::<String>();
        [element.label.clone(), status(element.status), class, frames, why]
    });
    table("Elements", ["Element", "Counts", "Class", "Frames", "Why"], rows)
}

fn value_parts(parts: &[ValuePart]) -> Markup {
    let rows = parts.iter().map(|part| {
        let shown = format!("{} of {}", part.shown, part.asked);
        let why = with_page(&part.reason, &part.page);
        [part.label.clone(), status(part.status), off(part.amount), shown, why]
    });
    table("Value parts", ["Class", "", "Off", "Shown of asked", "Why"], rows)
}

fn requirements(requirements: &[Requirement]) -> Markup {
    let rows = requirements.iter().map(|it| {
        let why = with_page(&it.reason, &it.page);
        [it.label.clone(), status(it.status), off(it.amount), frames(&it.frames), why]
    });
    table("Requirements", ["Requirement", "", "Off", "Frames", "Why"], rows)
}

fn deductions(deductions: &[Line]) -> Markup {
    html! {
        @if deductions.is_empty() { h2 { "Deductions" } p { "None noted." } }
        (table("Deductions", RULES, deductions.iter().map(line)))
    }
}

/// Columns of a table of rule lines.
const RULES: [&str; 5] = ["Rule", "", "Off", "Frames", "Why"];

fn line(line: &Line) -> [String; 5] {
    let why = with_page(&line.reason, &line.page);
    [line.label.clone(), status(line.status), off(line.amount), frames(&line.frames), why]
}

/// Draws one table under its title; nothing when it has no rows.
fn table(title: &str, head: [&str; 5], rows: impl Iterator<Item = [String; 5]>) -> Markup {
    const COLUMNS: [&str; 5] = ["name", "status", "amount", "frames", "why"];
    let mut rows = rows.peekable();
    html! {
        @if rows.peek().is_some() {
            h2 { (title) }
            table {
                tr { @for (column, name) in COLUMNS.iter().zip(head) { th class=(column) { (name) } } }
                @for row in rows {
                    tr { @for (column, cell) in COLUMNS.iter().zip(row) { td class=(column) { (cell) } } }
                }
            }
        }
    }
}

fn win_backs<'s>(title: &str, ways: impl Iterator<Item = &'s WinBack>) -> Markup {
    let mut ways = ways.peekable();
    html! {
        @if ways.peek().is_some() {
            h2 { (title) }
            ul { @for way in ways {
                li {
                    (way.change) " Start value " (way.start_value) ", score "
                    (scored(way.score)) "."
                    @if !way.wins.is_empty() { " Wins " (way.wins.join(", ")) "." }
                }
            } }
        }
    }
}

fn close_calls(sheet: &ScoreSheet) -> Markup {
    html! {
        @if !sheet.close_calls.is_empty() {
            h2 { "Close calls that change the score" }
            ul { @for call in &sheet.close_calls {
                li { (call.label) ", frames " (frames(&call.frames)) ". " (call.reason) }
            } }
        }
    }
}

fn beside_result(parts: &[BesideResult]) -> Markup {
    let rows = parts.iter().map(|part| {
        let difference = part.difference.map(Points::more_or_less);
        [
            part.part.clone(),
            String::new(),
            part.given.to_string(),
            scored(part.sheet),
            difference.map_or_else(|| "–".to_owned(), |more| format!("{more} here")),
        ]
    });
    table("Beside the result of the meet", ["Part", "", "Given", "Here", "Difference"], rows)
}

fn beside_plan(plan: &BesidePlan) -> Markup {
    html! {
        h2 { "Beside the plan" }
        p {
            "Planned: start value " (plan.start_value) ", score " (scored(plan.score))
            ". Start value " (plan.difference.more_or_less()) " as done."
        }
        @if plan.changes.is_empty() { p { "Every element was done as planned." } }
        ul { @for change in &plan.changes {
            li { (change.said()) @if !change.frames.is_empty() { " Frames " (frames(&change.frames)) "." } }
        } }
    }
}

fn scored(score: Option<Points>) -> String {
    score.map_or_else(|| "void".to_owned(), |score| score.to_string())
}

fn remarks(remarks: &[Line]) -> Markup {
    html! {
        @if !remarks.is_empty() {
            h2 { "Remarks" }
            ul { @for remark in remarks { li { (remark.reason) } } }
        }
    }
}

fn pictures(stills: &[Still]) -> Markup {
    let encode = |png: &[u8]| base64::engine::general_purpose::STANDARD.encode(png);
    html! {
        @if !stills.is_empty() {
            h2 { "Stills" }
            @for still in stills {
                figure {
                    img src={ "data:image/png;base64," (encode(&still.png)) } alt=(still.caption);
                    figcaption { (frame(&still.frame)) ": " (still.caption) }
                }
            }
        }
    }
}

fn caution(sheet: &ScoreSheet) -> Markup {
    html! {
        p.caution {
            (sheet.caution) " Scored with " (sheet.standing.title) ", edition "
            (sheet.standing.edition) "; check the current book."
        }
    }
}

/// Returns a status as a sign and a word, so that it is readable in black and white.
fn status(status: Status) -> String {
    let said = match status {
        Status::Met => "✓ met",
        Status::Missed => "✗ missed",
        Status::Close => "≈ close call",
        Status::Taken => "− taken",
        Status::NotCounted => "○ not counted",
    };
    said.to_owned()
}

fn off(amount: Points) -> String {
    if amount == Points::ZERO { "–".to_owned() } else { amount.taken_off() }
}

fn frames(frames: &[FrameAt]) -> String {
    match frames {
        [] => "–".to_owned(),
        [one] => format!("{} ({:.2} s)", one.frame, one.time_s),
        [first, .., last] => {
            format!("{} – {} ({:.2} – {:.2} s)", first.frame, last.frame, first.time_s, last.time_s)
        }
    }
}

fn frame(at: &FrameAt) -> String {
    format!("Frame {} at {:.3} s", at.frame, at.time_s)
}

fn with_page(reason: &str, page: &str) -> String {
    if page.is_empty() { reason.to_owned() } else { format!("{reason} ({page})") }
}

fn capitalised(id: &str) -> String {
    let mut letters = id.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
