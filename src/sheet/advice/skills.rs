//! The athlete's own list: which elements she has, and which she is learning.

use serde::Deserialize;

use crate::{
    marks::Sheaf,
    rulebook::Book,
    sheet::model::{Line, remark},
};

/// Which elements an athlete has, and which she is learning, by element ids of the book.
///
/// It is a small TOML file of the club: `athlete`, `has` and `learning`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Skills {
    /// Code of the athlete, never a name.
    pub athlete: String,
    /// Elements that she shows at a meet.
    pub has: Vec<String>,
    /// Elements that she is learning.
    pub learning: Vec<String>,
}

/// Why a list could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "{place} is not a readable list of elements: {detail}. Write athlete = \"SC-07\", and has and \
     learning as lists of element ids"
)]
pub struct SkillsError {
    /// The file.
    pub place: String,
    /// What is wrong, with line and column.
    pub detail: String,
}

impl Skills {
    /// Reads the text of a list; `place` only names it in errors.
    pub fn read(text: &str, place: &str) -> Result<Self, SkillsError> {
        toml::from_str(text).map_err(|error| SkillsError {
            place: place.to_owned(),
            detail: error.to_string().trim_end().to_owned(),
        })
    }

    /// Returns whether the list is of the athlete of the routine, as far as both say.
    pub(crate) fn is_of(&self, sheaf: &Sheaf) -> bool {
        let athlete = &sheaf.routine.athlete;
        self.athlete.is_empty() || athlete.is_empty() || self.athlete == *athlete
    }

    /// Returns what is to be said of the list: another athlete's, or ids not in the book.
    pub fn remarks(&self, book: &Book, sheaf: &Sheaf) -> Vec<Line> {
        let say = |said: String| remark(("skills", "The athlete's own list"), said, vec![], None);
        if !self.is_of(sheaf) {
            let of = &sheaf.routine.athlete;
            return vec![say(format!(
                "The list is of {}, the routine of {of}; the list was not used.",
                self.athlete
            ))];
        }
        let ids = self.has.iter().chain(&self.learning);
        let unknown = ids.filter(|id| book.elements.iter().all(|element| element.id != **id));
        unknown.map(|id| say(format!("\"{id}\" is not in this book."))).collect()
    }
}
