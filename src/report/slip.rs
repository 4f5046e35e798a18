//! A blank slip for pencil, as a page.

use crate::{
    practice::{
        set::{AnswerForm, Look, Question, Set},
        sitting::Sitting,
    },
    sheet::CAUTION,
};

use super::document::{Cell, Column, Document, Part, Piece, Style, Table};

/// Returns a blank slip: every question of the looks of the sitting, with room for the answer from
/// one look and, apart, after the still.
///
/// Nothing on it tells an answer.
pub fn slip(set: &Set, sitting: &Sitting) -> Document {
    let time = match set.seconds {
        0 => String::new(),
        seconds => format!(" You have {seconds} seconds after each look."),
    };
    let how = format!("Watch each span once. Write the answer before the still is shown.{time}");
    let looks = sitting.looks().iter().enumerate().map(|(number, one)| look(number + 1, one));
    let who = Part::new("", [Piece::Blanks(vec!["Code", "Date"])]);
    Document {
        title: set.title.clone(),
        head: vec![how],
        parts: std::iter::once(who).chain(looks).collect(),
        caution: CAUTION.to_owned(),
        style: Style::Page,
    }
}

fn look(number: usize, look: &Look) -> Part {
    let heads = [("Question", "asked"), ("From one look", "answer"), ("After the still", "answer")];
    let table = Table {
        columns: heads.map(|(head, holds)| Column::new(head, holds)).into(),
        rows: look.questions.iter().map(question).collect(),
    };
    let cue = (!look.cue.is_empty()).then(|| Piece::Said(look.cue.clone()));
    let title = format!("Look {number}: {}, {}", look.event, look.division);
    Part::whole(&title, cue.into_iter().chain([Piece::Table(table)]))
}

/// Returns a question with room for two answers: boxes where there are words to choose from.
fn question(question: &Question) -> Vec<Cell> {
    let room = match question.ask.form() {
        AnswerForm::Choice(words) => Cell::Choice(words),
        _ => Cell::from(""),
    };
    vec![question.words().into(), room.clone(), room]
}
