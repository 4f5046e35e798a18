//! Marks in the words of their book.

use crate::{
    marks::{Routine, Sheaf, What},
    rulebook::Book,
    sheet::ScoreSheet,
    window::{
        paper::{Names, Paper},
        words,
    },
};

/// Returns what a mark is called in the book's words.
pub(crate) fn name(book: &Book, routine: &Routine, what: &What) -> String {
    let known = match what {
        What::Element { element } => {
            book.element(&routine.event, element).map(|element| element.name.clone())
        }
        What::Fault { fault, .. } => {
            book.faults.iter().find(|known| known.id == *fault).map(|fault| fault.label.clone())
        }
        _ => None,
    };
    known.unwrap_or_else(|| words::moment(what))
}

/// Returns the paper of these marks in the book's words.
pub(crate) fn paper(book: &Book, sheaf: &Sheaf, sheet: &ScoreSheet) -> Paper {
    let mark = |what: &What| name(book, &sheaf.routine, what);
    let class = |id: &str| book.class(id).map_or(id, |class| &class.name).to_owned();
    Paper::of(sheaf, sheet, Names { mark: &mark, class: &class })
}

/// Returns a routine's event and division by name, as far as the book knows them; else their ids.
pub(crate) fn event_and_division(book: Option<&Book>, routine: &Routine) -> [String; 2] {
    let event = book.and_then(|book| book.event(&routine.event)).map(|event| &event.name);
    let division = book.and_then(|book| book.division(&routine.division)).map(|it| &it.name);
    [event.unwrap_or(&routine.event).clone(), division.unwrap_or(&routine.division).clone()]
}
