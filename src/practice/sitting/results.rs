//! What a sitting says beside the set's reference calls.

use super::record::{Begun, Given, Record};
use crate::practice::{
    agreement::{Compared, ComparedUnit, Said},
    set::{Answer, Look, Question, Set},
};

/// Kind of the answers that were given after the stills, beside the kind of call.
const AFTER: &str = ", after the stills";

/// Returns the answers beside the reference calls: those from one look, and apart from them those
/// after the stills. Questions without a reference call, and counts of hands, are left out.
pub fn results(set: &Set, begun: &Begun, records: &[Record]) -> Vec<Compared> {
    let mut compared = Vec::new();
    for record in records {
        match record {
            Record::Answered { look, answers, .. } => {
                let Some(look) = set.look(look) else { continue };
                compared
                    .extend(answers.iter().filter_map(|given| one(set, begun, (look, ""), given)));
            }
            // Without a second answer the first stands, and says nothing new.
            Record::After { look, given } if given.answer.is_some() => {
                let Some(look) = set.look(look) else { continue };
                compared.extend(one(set, begun, (look, AFTER), given));
            }
            _ => {}
        }
    }
    compared
}

/// Returns what a reader of the results should know: dropped pictures, looks broken off or left
/// out, and what hands were raised for.
pub fn remarks(name: &str, records: &[Record]) -> Vec<String> {
    let mut remarks = Vec::new();
    for record in records {
        match record {
            Record::Answered { look, dropped, interrupted, answers, .. } => {
                if *dropped > 0 {
                    remarks.push(format!("{name}: {look}: playback dropped {dropped} pictures"));
                }
                if *interrupted {
                    remarks.push(format!("{name}: {look}: the look was broken off"));
                }
                remarks.extend(answers.iter().filter_map(|given| hands(name, look, "", given)));
            }
            Record::After { look, given } => {
                remarks.extend(hands(name, look, " after the still", given));
            }
            Record::Skipped { look, why } => remarks.push(format!("{name}: {look}: {why}")),
            Record::Begun(_) | Record::Looked { .. } => {}
        }
    }
    remarks
}

fn hands(name: &str, look: &str, when: &str, given: &Given) -> Option<String> {
    let answer = given.answer.as_ref().filter(|answer| matches!(answer, Answer::Hands(_)))?;
    Some(format!("{name}: {look}, question {}: hands{when} {}", given.question, answer.words()))
}

fn one(set: &Set, begun: &Begun, (look, when): (&Look, &str), given: &Given) -> Option<Compared> {
    let question = look.questions.iter().find(|question| question.id == given.question)?;
    let said = said(question, given.answer.as_ref())?;
    Some(Compared {
        person: begun.person.clone(),
        date: begun.date.clone(),
        item: format!("{}/{}/{}{when}", set.id, look.id, question.id),
        kind: format!("{}{when}", question.ask.words()),
        situation: situation(look, question),
        said,
    })
}

fn said(question: &Question, answer: Option<&Answer>) -> Option<Said> {
    let reference = question.reference.as_ref()?;
    Some(match (reference, answer) {
        (_, Some(Answer::Hands(_))) => return None,
        _ if question.close => Said::Open,
        (Answer::Degrees(a), Some(Answer::Degrees(b))) => number(ComparedUnit::Degrees, *a, *b),
        (Answer::Points(a), Some(Answer::Points(b))) => {
            number(ComparedUnit::Points, a.0 as f64 / 1000.0, b.0 as f64 / 1000.0)
        }
        // A number that was not given is no number; that it is missing is seen in the sitting.
        (Answer::Degrees(_) | Answer::Points(_), _) => return None,
        (reference, answer) => Said::Word {
            reference: reference.words(),
            other: answer.map_or_else(|| "no answer".to_owned(), Answer::words),
        },
    })
}

const fn number(unit: ComparedUnit, reference: f64, other: f64) -> Said {
    Said::Number { unit, reference, other }
}

fn situation(look: &Look, question: &Question) -> String {
    if question.of.is_empty() {
        look.event.clone()
    } else {
        format!("{}, {}", look.event, question.of)
    }
}
