//! What a person types as an answer.

use super::question::{Answer, AnswerForm, Ask};
use crate::{rulebook::Book, units::Points};

/// A name that an answer may use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// Id of the book.
    pub id: String,
    /// Name in the book's words.
    pub name: String,
    /// Shorthand of judges; may be empty.
    pub shorthand: String,
}

/// Why a typed answer is none.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EntryError {
    /// Not one of the words.
    #[error("type one of: {0}")]
    NotAChoice(String),
    /// No such name, or more than one.
    #[error("\"{typed}\" is {found}; type a name, an id or a shorthand of the book, or \"none\"")]
    NotAName {
        /// What was typed.
        typed: String,
        /// Not in the book, or one of several.
        found: &'static str,
    },
    /// Not a whole number.
    #[error("type a whole number, such as 6")]
    NotACount,
    /// No angle.
    #[error("type degrees, such as 82 or 82.5")]
    NoAngle,
    /// Not one count for each word.
    #[error("type {0} counts, such as 7 3")]
    NoHands(usize),
    /// No amount.
    #[error("{0}")]
    NoAmount(String),
}

/// Returns the names that answers to the question may use.
pub fn vocabulary(book: &Book, ask: Ask, event: &str, division: &str) -> Vec<Word> {
    if ask == Ask::Missing {
        let of = book.requirements_of(event, division).into_iter();
        return of
            .map(|rule| Word {
                id: rule.id.clone(),
                name: rule.label.clone(),
                shorthand: String::new(),
            })
            .collect();
    }
    let of = book.elements_of(event);
    of.map(|element| Word {
        id: element.id.clone(),
        name: element.name.clone(),
        shorthand: element.shorthand.clone(),
    })
    .collect()
}

/// Returns the answer that was typed; nothing typed is no answer.
pub fn entered(ask: Ask, typed: &str, words: &[Word]) -> Result<Option<Answer>, EntryError> {
    let typed = typed.trim();
    if typed.is_empty() {
        return Ok(None);
    }
    let answer = match ask.form() {
        AnswerForm::Choice(choices) => choice(typed, choices)?,
        AnswerForm::InOrder | AnswerForm::AnyOrder => names(typed, words)?,
        AnswerForm::Count => {
            Answer::Count(typed.parse().ok().filter(|n| *n <= 1000).ok_or(EntryError::NotACount)?)
        }
        AnswerForm::Degrees => Answer::Degrees(degrees(typed)?),
        AnswerForm::Points => Answer::Points(
            typed
                .replace(',', ".")
                .parse::<Points>()
                .map_err(|error| EntryError::NoAmount(error.to_string()))?,
        ),
    };
    Ok(Some(answer))
}

/// Returns how many hands were typed for each word of the question; nothing typed is no answer.
pub fn hands(ask: Ask, typed: &str) -> Result<Option<Answer>, EntryError> {
    let parts: Vec<&str> =
        typed.split([' ', ',', ';', '\n']).map(str::trim).filter(|part| !part.is_empty()).collect();
    if parts.is_empty() {
        return Ok(None);
    }
    let AnswerForm::Choice(words) = ask.form() else { return Err(EntryError::NoHands(0)) };
    let counts: Option<Vec<u32>> = parts.iter().map(|part| part.parse().ok()).collect();
    match counts {
        Some(counts) if counts.len() == words.len() => Ok(Some(Answer::Hands(counts))),
        _ => Err(EntryError::NoHands(words.len())),
    }
}

fn choice(typed: &str, choices: &[&str]) -> Result<Answer, EntryError> {
    let lower = typed.to_lowercase();
    let mut fitting = choices.iter().filter(|choice| choice.starts_with(lower.as_str()));
    match (fitting.next(), fitting.next()) {
        (Some(only), None) => Ok(Answer::Word((*only).to_owned())),
        _ => Err(EntryError::NotAChoice(choices.join(", "))),
    }
}

fn names(typed: &str, words: &[Word]) -> Result<Answer, EntryError> {
    if typed.eq_ignore_ascii_case("none") {
        return Ok(Answer::Words(Vec::new()));
    }
    let parts = typed.split([',', ';']).map(str::trim).filter(|part| !part.is_empty());
    Ok(Answer::Words(parts.map(|part| name(part, words)).collect::<Result<_, _>>()?))
}

fn name(typed: &str, words: &[Word]) -> Result<String, EntryError> {
    let lower = typed.to_lowercase();
    let exact = |word: &&Word| {
        [&word.id, &word.name, &word.shorthand].iter().any(|known| known.to_lowercase() == lower)
    };
    if let Some(word) = words.iter().find(exact) {
        return Ok(word.id.clone());
    }
    let begins = |word: &&Word| {
        [&word.id, &word.name].iter().any(|known| known.to_lowercase().starts_with(&lower))
    };
    let mut fitting = words.iter().filter(begins);
    match (fitting.next(), fitting.next()) {
        (Some(only), None) => Ok(only.id.clone()),
        (None, _) => {
            Err(EntryError::NotAName { typed: typed.to_owned(), found: "not in the book" })
        }
        _ => Err(EntryError::NotAName { typed: typed.to_owned(), found: "one of several" }),
    }
}

fn degrees(typed: &str) -> Result<f64, EntryError> {
    let plain = typed.trim_end_matches('°').trim().replace(',', ".");
    let value: f64 = plain.parse().map_err(|_| EntryError::NoAngle)?;
    if (-720.0..=3600.0).contains(&value) { Ok(value) } else { Err(EntryError::NoAngle) }
}
