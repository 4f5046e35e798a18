//! Why a sheet has no score: a state of its own, which is not void.

use serde::Serialize;

use crate::rulebook::{Book, Scoring, nearest};

/// What a routine names that its book has no score for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unscored {
    /// Why, in one plain sentence.
    pub reason: String,
    /// What to do, in one plain sentence.
    pub remedy: String,
    /// The known name nearest to the one that is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest: Option<String>,
}

impl Unscored {
    /// Returns why and what to do.
    pub fn said(&self) -> String {
        format!("{} {}", self.reason, self.remedy)
    }

    /// Returns how the event in the division is scored, or why it is not.
    pub(crate) fn or_scoring<'b>(
        book: &'b Book,
        event: &str,
        division: &str,
    ) -> Result<&'b Scoring, Self> {
        known("event", event, book.events.iter().map(|known| known.id.as_str()))?;
        known("division", division, book.divisions.iter().map(|known| known.id.as_str()))?;
        book.scoring(event, division).ok_or_else(|| uncovered(event, division))
    }
}

fn known<'b>(what: &str, name: &str, known: impl Iterator<Item = &'b str>) -> Result<(), Unscored> {
    let known: Vec<&str> = known.collect();
    if known.contains(&name) {
        return Ok(());
    }
    let reason = match name {
        "" => format!("The marks name no {what}, so there is no score."),
        name => format!("The book has no {what} \"{name}\", so there is no score."),
    };
    let nearest = nearest(name, known.iter().copied());
    let remedy = match (nearest, known.is_empty()) {
        (Some(nearest), _) => format!("Did you mean \"{nearest}\"?"),
        (None, true) => format!("The book names no {what} at all."),
        (None, false) => format!("The book has {}.", known.join(", ")),
    };
    Err(Unscored { reason, remedy, nearest: nearest.map(str::to_owned) })
}

fn uncovered(event: &str, division: &str) -> Unscored {
    let reason =
        format!("The book does not say how {division} on {event} is scored, so there is no score.");
    let remedy = "Let a table [[scoring]] of the book cover it.".to_owned();
    Unscored { reason, remedy, nearest: None }
}
