use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::{drawing, drawing_svg::svg};
use crate::{
    practice::agreement::{self, Agreement, NumberLine, Person},
    sheet::CAUTION,
};

/// Returns the report on agreement as one HTML page that needs no other file and prints on A4.
pub fn agreement_page(report: &Agreement) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Agreement with " (report.reference) }
                style {
                    (PreEscaped(include_str!("sheet.css")))
                    (PreEscaped(include_str!("agreement.css")))
                }
            }
            body {
                header {
                    h1 { "Agreement with " (report.reference) }
                    @for book in &report.books { p { (book) } }
                }
                (overview(report))
                @for of in &report.people { (person(of)) }
                (remarks(&report.remarks))
                p.caution {
                    (CAUTION) " This page says where calls differ; it does not say who is better."
                }
            }
        }
    };
    page.into_string()
}

fn overview(report: &Agreement) -> Markup {
    html! {
        @if report.people.is_empty() { p { "Nobody to compare." } }
        @if !report.kinds.is_empty() {
            h2 { "Which kinds of call differ most, everybody together" }
            (svg(&drawing::by_kind(&report.kinds)))
        }
        @if !report.situations.is_empty() {
            h2 { "Where answers differ most" }
            table {
                tr { th.where { "Call" } th.often { "Differ" } }
                @for line in &report.situations {
                    tr {
                        td.where { (line.kind) ": " (line.situation) }
                        td.often {
                            (line.differ) " of " (line.same.0.as_ref().map_or(0, |same| same.of))
                        }
                    }
                }
            }
        }
        @if report.people.len() > 1 { (group(report)) }
    }
}

fn group(report: &Agreement) -> Markup {
    let calls =
        report.group_calls.iter().map(|line| (line.kind.as_str(), agreement::call_words(line)));
    let values =
        report.group_values.iter().map(|line| (line.kind.as_str(), agreement::value_words(line)));
    html! {
        h2 { "Among each other, the reference left aside" }
        (table(calls.chain(values)))
    }
}

fn person(of: &Person) -> Markup {
    let kinds = of.kinds.iter().map(|line| (line.kind.as_str(), agreement::kind_words(line)));
    let numbers = of.numbers.iter().flat_map(|line| {
        let all = (line.kind.clone(), agreement::number_words(line));
        std::iter::once(all).chain(agreement::dates_words(line))
    });
    html! {
        h2.person { (of.code) }
        p {
            "Elements: " (of.found) " found, " (of.renamed) " under another name, "
            (of.missed) " missed, " (of.invented) " invented"
        }
        @if !of.scores.is_empty() {
            h3 { "Scores" }
            (table(of.scores.iter().map(|line| (line.routine.as_str(), agreement::score_words(line)))))
        }
        @if !of.kinds.is_empty() { h3 { "Calls" } (table(kinds)) }
        @if !of.numbers.is_empty() { h3 { "Angles, scores and frames" } (table(numbers)) }
        @for line in &of.numbers { (plot(line)) }
        @if of.over_time.len() > 1 { h3 { "Over time" } (svg(&drawing::over_time(&of.over_time))) }
    }
}

fn plot(line: &NumberLine) -> Markup {
    html! {
        @if let Ok(found) = &line.differences.0 {
            h3 { (line.kind) ": difference against mean" }
            (svg(&drawing::differences(line, found)))
        }
    }
}

fn table<N: AsRef<str>>(rows: impl Iterator<Item = (N, String)>) -> Markup {
    html! {
        table { @for (name, said) in rows { tr { td.kind { (name.as_ref()) } td.said { (said) } } } }
    }
}

fn remarks(remarks: &[String]) -> Markup {
    html! {
        @if !remarks.is_empty() {
            h2 { "Remarks" }
            ul { @for remark in remarks { li { (remark) } } }
        }
    }
}
