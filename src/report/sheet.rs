//! The score sheet as a page.

use crate::{
    sheet::{
        BesidePlan, BesideResult, Line, NO_SCORE, ScoreSheet, Standing, Status, Unscored, WinBack,
        frames_words, score_words, start_words,
    },
    units::{Points, capitalised},
};

use super::document::{Document, Part, Piece, RuledLine, Style};

/// Columns of lines that follow from a rule.
const RULES: [&str; 5] = ["Rule", "", "Off", "Frames", "Why"];

/// Returns the score sheet as a page.
pub fn score_sheet(sheet: &ScoreSheet) -> Document {
    let void = if sheet.void { "Void" } else { "May be void" };
    let [ways, learning] = win_back(sheet);
    let parts = [
        sheet.unscored.as_ref().map(unscored),
        Some(totals(sheet)),
        close_calls(sheet),
        Part::ruled(void, RULES, sheet.void_reasons.iter().map(ruled)),
        elements(sheet),
        value_parts(sheet),
        requirements(sheet),
        Some(deductions(sheet)),
        beside_result(sheet),
        sheet.plan.as_ref().map(beside_plan),
        ways,
        learning,
        Part::list("Remarks", sheet.remarks.iter().map(remark)),
    ];
    let of = &sheet.standing;
    Document {
        title: format!("Score sheet {}", of.athlete),
        head: standing(of),
        parts: parts.into_iter().flatten().collect(),
        caution: format!(
            "{} Scored with {}, edition {}; check the current book.",
            sheet.caution, of.title, of.edition
        ),
        style: Style::Page,
    }
}

/// Returns for whom a sheet was made, and under which rules.
pub(super) fn standing(of: &Standing) -> Vec<String> {
    let judge = (!of.judge.is_empty()).then(|| format!("judge {}", of.judge));
    let date = (!of.date.is_empty()).then(|| format!("on {}", of.date));
    let who = [Some(capitalised(&of.event)), Some(capitalised(&of.division)), judge, date];
    let book = format!("{}, edition {} ({})", of.title, of.edition, of.short_hash());
    vec![who.into_iter().flatten().collect::<Vec<_>>().join(", "), book]
}

fn totals(sheet: &ScoreSheet) -> Part {
    let row = |name: &str, figure| [name.to_owned(), figure];
    let start = row("Start value", start_words(sheet.start_value));
    let score = row("Score", sheet.score_words());
    let range = row("Range over close calls", sheet.range_words());
    let totals = std::iter::once(start).chain(sheet.subtotals()).chain([score, range]);
    Part::new("", [Piece::Totals(totals.collect())])
}

/// Returns why there is no score, before everything else.
fn unscored(why: &Unscored) -> Part {
    Part::new("No score", [Piece::Said(why.said())])
}

fn close_calls(sheet: &ScoreSheet) -> Option<Part> {
    let calls = sheet.close_calls.iter().map(|call| {
        let frames = frames_words(&call.frames);
        let at = if frames.is_empty() { frames } else { format!(", {frames}") };
        format!("{}{at}. {}", call.label, call.reason)
    });
    Part::list("Close calls that change the score", calls)
}

fn elements(sheet: &ScoreSheet) -> Option<Part> {
    let lines = sheet.elements.iter().map(|line| {
        let asked = line
            .decisions
            .iter()
            .map(|asked| with_page(format!("{}: {}", asked.label, asked.reason), &asked.page));
        let counts = Some(with_page(line.reason.clone(), &line.page));
        let counts = counts.filter(|why| !why.is_empty());
        RuledLine {
            name: line.label.clone(),
            status: line.status,
            amount: line.class.clone(),
            frames: line.frames.clone(),
            why: counts.into_iter().chain(asked).collect(),
            ..RuledLine::default()
        }
    });
    Part::ruled("Elements", ["Element", "Counts", "Class", "Frames", "Why"], lines)
}

fn value_parts(sheet: &ScoreSheet) -> Option<Part> {
    let lines = sheet.value_parts.iter().map(|part| RuledLine {
        name: format!("{}, {} of {}", part.label, part.shown, part.asked),
        status: part.status,
        amount: off(part.amount),
        frames: part.frames.clone(),
        why: vec![with_page(part.reason.clone(), &part.page)],
        ..RuledLine::default()
    });
    Part::ruled("Value parts", ["Class, shown of asked", "", "Off", "Frames", "Why"], lines)
}

fn requirements(sheet: &ScoreSheet) -> Option<Part> {
    let lines = sheet.requirements.iter().map(|line| RuledLine {
        name: line.label.clone(),
        status: line.status,
        amount: off(line.amount),
        frames: line.frames.clone(),
        why: vec![with_page(line.reason.clone(), &line.page)],
        ..RuledLine::default()
    });
    Part::ruled("Requirements", ["Requirement", "", "Off", "Frames", "Why"], lines)
}

/// Deductions stand under their elements, in the order in which those are first met; what belongs to
/// none comes first.
fn deductions(sheet: &ScoreSheet) -> Part {
    let mut under: Vec<&str> = vec![""];
    for line in &sheet.deductions {
        if !under.contains(&line.under.as_str()) {
            under.push(&line.under);
        }
    }
    let lines = under.iter().flat_map(|under| {
        let of = sheet.deductions.iter().filter(move |line| line.under == **under);
        of.map(|line| RuledLine { under: line.under.clone(), ..ruled(line) })
    });
    let noted = Part::ruled("Deductions", RULES, lines);
    noted.unwrap_or_else(|| Part::new("Deductions", [Piece::Said("None noted.".to_owned())]))
}

fn ruled(line: &Line) -> RuledLine {
    RuledLine {
        name: line.label.clone(),
        status: line.status,
        amount: off(line.amount),
        frames: line.frames.clone(),
        why: vec![with_page(line.reason.clone(), &line.page)],
        ..RuledLine::default()
    }
}

fn remark(line: &Line) -> String {
    let frames = frames_words(&line.frames);
    let at = if frames.is_empty() { frames } else { format!(", {frames}") };
    format!("{}{at}. {}", line.label, with_page(line.reason.clone(), &line.page))
}

/// What the athlete has and what she is still learning; whichever comes first says who decides.
fn win_back(sheet: &ScoreSheet) -> [Option<Part>; 2] {
    let mut readiness = Some(Piece::Said(sheet.readiness.to_owned()));
    [("To win it back", false), ("With what is still being learned", true)].map(
        |(title, learning)| {
            let ways = sheet.win_back.iter().filter(|way| way.learning == learning);
            let ways: Vec<String> = ways.map(way_words).collect();
            if ways.is_empty() {
                return None;
            }
            Some(Part::new(title, readiness.take().into_iter().chain([Piece::List(ways)])))
        },
    )
}

fn way_words(way: &WinBack) -> String {
    let (start, score) = (way.start_value, score_words(way.score));
    let wins = way.wins.join(", ");
    let wins = if wins.is_empty() { wins } else { format!(" Wins {wins}.") };
    format!("{} Start value {start}, score {score}.{wins}", way.change)
}

fn beside_result(sheet: &ScoreSheet) -> Option<Part> {
    let parts: &[BesideResult] = &sheet.result;
    let none = |said: String| if sheet.unscored.is_some() { NO_SCORE.to_owned() } else { said };
    let rows = parts.iter().map(|part| {
        let more = part.difference.map(|more| format!(", {} here", more.more_or_less()));
        let (given, here) = (part.given, none(score_words(part.sheet)));
        Piece::row(&part.part, format!("given {given}, here {here}{}", more.unwrap_or_default()))
    });
    (!parts.is_empty()).then(|| Part::new("Beside the result of the meet", rows))
}

fn beside_plan(plan: &BesidePlan) -> Part {
    let planned = match plan.start_value.zip(plan.difference) {
        Some((start, difference)) => format!(
            "Planned: start value {start}, score {}. Start value {} as done.",
            score_words(plan.score),
            difference.more_or_less()
        ),
        None => "Planned: no score.".to_owned(),
    };
    let changes: Vec<String> = plan
        .changes
        .iter()
        .map(|change| {
            let frames = frames_words(&change.frames);
            let at = if frames.is_empty() { frames } else { format!(" At {frames}.") };
            format!("{}{at}", change.said())
        })
        .collect();
    let rest = if changes.is_empty() {
        Piece::Said("Every element was done as planned.".to_owned())
    } else {
        Piece::List(changes)
    };
    Part::new("Beside the plan", [Piece::Said(planned), rest])
}

/// Returns what is taken off with its sign; nothing where nothing is.
fn off(amount: Points) -> String {
    if amount == Points::ZERO { String::new() } else { amount.taken_off() }
}

/// Returns a sentence with the page of the club's own printed book.
fn with_page(reason: String, page: &str) -> String {
    if page.is_empty() { reason } else { format!("{reason} ({page})") }
}

/// Returns everything that a sheet does not give or takes, one line each.
pub(super) fn losses(sheet: &ScoreSheet) -> Vec<String> {
    let gone = |status| matches!(status, Status::Missed | Status::Close);
    let void =
        sheet.void_reasons.iter().map(|line| format!("void: {}. {}", line.label, line.reason));
    let elements = sheet.elements.iter().filter(|line| gone(line.status));
    let elements = elements.map(|line| format!("no credit: {}. {}", line.label, line.reason));
    let parts = sheet.value_parts.iter().filter(|part| gone(part.status));
    let parts = parts.map(|part| format!("missing, {}: {}", part.amount, part.reason));
    let asked = sheet.requirements.iter().filter(|line| gone(line.status));
    let asked =
        asked.map(|line| format!("missing, {}: {}. {}", line.amount, line.label, line.reason));
    let taken = sheet.deductions.iter().map(|line| match line.status {
        Status::NotCounted => format!("not counted: {}. {}", line.label, line.reason),
        Status::Met | Status::Missed | Status::Close | Status::Taken => {
            format!("off {}: {}. {}", line.amount, line.label, line.reason)
        }
    });
    void.chain(elements).chain(parts).chain(asked).chain(taken).collect()
}
