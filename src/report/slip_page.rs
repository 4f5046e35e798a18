use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::{
    practice::{
        set::{Form, Look, Question, Set},
        sitting::Sitting,
    },
    sheet::CAUTION,
};

/// Returns a blank slip for pencil as one HTML page that prints on A4: every question of the looks
/// of the sitting, with room for the answer from one look and, apart, after the still.
///
/// Nothing on it tells an answer.
pub fn slip_page(set: &Set, sitting: &Sitting) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Slip: " (set.title) }
                style {
                    (PreEscaped(include_str!("sheet.css")))
                    (PreEscaped(include_str!("slip.css")))
                }
            }
            body {
                header {
                    h1 { (set.title) }
                    p.who { "Code " span {} " Date " span {} }
                    p {
                        "Watch each span once. Write the answer before the still is shown."
                        @if set.seconds > 0 { " You have " (set.seconds) " seconds after each look." }
                    }
                }
                @for (number, one) in sitting.looks().iter().enumerate() { (look(number + 1, one)) }
                p.caution { (CAUTION) }
            }
        }
    };
    page.into_string()
}

fn look(number: usize, look: &Look) -> Markup {
    html! {
        section.look {
            h2 { "Look " (number) ": " (look.event) ", " (look.division) }
            @if !look.cue.is_empty() { p.cue { (look.cue) } }
            table.blank {
                tr { th.asked { "Question" } th.answer { "From one look" } th.answer { "After the still" } }
                @for asked in &look.questions {
                    tr {
                        td.asked { (asked.words()) }
                        td.answer { (room(asked)) }
                        td.answer { (room(asked)) }
                    }
                }
            }
        }
    }
}

/// Returns room for an answer: boxes where there are words to choose from, else an empty cell.
fn room(question: &Question) -> Markup {
    html! {
        @if let Form::Choice(words) = question.ask.form() {
            @for word in words { span.tick { (word) } }
        }
    }
}
