//! The sheet for a terminal.

use crate::sheet::{
    BesidePlan, BesideResult, CloseCall, ElementLine, Line, Requirement, ScoreSheet, Status,
    ValuePart, WinBack,
};

use super::text_page::{NAME, Page, said, signed};

/// Returns the sheet as plain text for a terminal, at most 92 columns wide.
pub fn sheet_text(sheet: &ScoreSheet) -> String {
    let mut page = Page::default();
    page.standing(&sheet.standing);
    page.list("Elements", &sheet.elements, element);
    page.list("Value parts", &sheet.value_parts, value_part);
    page.list("Requirements", &sheet.requirements, requirement);
    page.total("Start value", Some(sheet.start_value));
    page.list("Deductions", &sheet.deductions, deduction);
    result(&mut page, sheet);
    page.list("Void", &sheet.void_reasons, remark);
    page.list("Beside the result of the meet", &sheet.result, beside_result);
    if let Some(plan) = &sheet.plan {
        beside_plan(&mut page, plan);
    }
    let (learning, own): (Vec<_>, Vec<_>) = sheet.win_back.iter().partition(|way| way.learning);
    page.list("To win it back", &own, |page, way| win_back(page, way));
    page.list("With what is still being learned", &learning, |page, way| win_back(page, way));
    page.list("Remarks", &sheet.remarks, remark);
    page.gap();
    page.wrapped("", sheet.caution);
    page.0
}

fn element(page: &mut Page, line: &ElementLine) {
    page.row((line.status, &line.label), &line.class, &line.frames);
    if line.status != Status::Met {
        page.why(&line.reason, &line.page);
    }
    for decision in &line.decisions {
        page.why(&format!("{}: {}", decision.label, decision.reason), &decision.page);
    }
}

fn value_part(page: &mut Page, line: &ValuePart) {
    let name = format!("{}, {} of {}", line.label, line.shown, line.asked);
    page.row((line.status, &name), &signed(line.amount), &line.frames);
}

fn requirement(page: &mut Page, line: &Requirement) {
    page.row((line.status, &line.label), &signed(line.amount), &line.frames);
    page.why(&line.reason, &line.page);
}

fn deduction(page: &mut Page, line: &Line) {
    page.row((line.status, &line.label), &signed(line.amount), &line.frames);
    page.why(&line.reason, &line.page);
}

fn remark(page: &mut Page, line: &Line) {
    page.row((line.status, &line.label), "", &line.frames);
    page.why(&line.reason, &line.page);
}

fn win_back(page: &mut Page, line: &WinBack) {
    page.wrapped("    ", &line.change);
    let score = line.score.map_or("void".to_owned(), |score| score.to_string());
    let wins = if line.wins.is_empty() {
        String::new()
    } else {
        format!(", wins {}", line.wins.join(", "))
    };
    page.wrapped("      ", &format!("start value {}, score {score}{wins}", line.start_value));
}

fn result(page: &mut Page, sheet: &ScoreSheet) {
    page.total("Score", sheet.score);
    let range = sheet.score_range;
    let void = if range.may_be_void && !sheet.void { ", or void" } else { "" };
    if range.low != range.high || !void.is_empty() {
        page.line(&format!("  close calls leave {} to {}{void}:", range.low, range.high));
    }
    for call in &sheet.close_calls {
        page.wrapped("    ", &close_call(call));
    }
}

fn close_call(call: &CloseCall) -> String {
    let frames = said(&call.frames);
    let at = if frames.is_empty() { String::new() } else { format!(", {frames}") };
    format!("{}{at}. {}", call.label, call.reason)
}

fn beside_result(page: &mut Page, part: &BesideResult) {
    let sheet = part.sheet.map_or("void".to_owned(), |sheet| sheet.to_string());
    let difference = part.difference.map(|more| format!(", {} here", more.more_or_less()));
    let said = format!("given {}, here {sheet}{}", part.given, difference.unwrap_or_default());
    page.line(&format!("    {:<NAME$} {said}", part.part));
}

fn beside_plan(page: &mut Page, plan: &BesidePlan) {
    page.gap();
    page.line("Beside the plan");
    let score = plan.score.map_or("void".to_owned(), |score| score.to_string());
    let start = plan.start_value;
    page.line(&format!("    planned: start value {start}, score {score}"));
    page.line(&format!("    start value {} as done", plan.difference.more_or_less()));
    if plan.changes.is_empty() {
        page.line("    Every element was done as planned.");
    }
    for change in &plan.changes {
        let frames = said(&change.frames);
        let at = if frames.is_empty() { String::new() } else { format!(" At {frames}.") };
        page.wrapped("    ", &format!("{}{at}", change.said()));
    }
}
