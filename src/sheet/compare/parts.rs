//! A panel whose judges' parts of the score are put together apart: execution by several, difficulty by
//! one.

use serde::Serialize;

use crate::{
    rulebook::{Panel, Scoring},
    sheet::model::ScoreSheet,
    units::Points,
};

use super::panel::{Combined, combine, how, panel_for};

/// One part of the score as several judges have it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PartTogether {
    /// Its id in the book.
    pub id: String,
    /// Its name.
    pub label: String,
    /// What each judge has, in the order of the rows; nothing where a judge says void.
    pub values: Vec<Option<Points>>,
    /// How the book puts them together, in one plain sentence.
    pub how: String,
    /// What they come to.
    #[serde(flatten)]
    pub outcome: Combined,
}

/// Returns the parts, each by the panel that names it, else by the one that names none; the id of a part
/// where no panel puts it together.
pub(super) fn by_parts(
    panels: &[&Panel],
    sheets: &[ScoreSheet],
) -> Result<Vec<PartTogether>, String> {
    let Some(first) = sheets.first() else { return Ok(Vec::new()) };
    let parts = first.parts.iter().map(|part| {
        let id = part.id.clone();
        let panel = panel_for(panels, &id).ok_or_else(|| id.clone())?;
        let value = |sheet: &ScoreSheet| {
            let own = sheet.parts.iter().find(|own| own.id == id).filter(|_| !sheet.void);
            own.map(|own| own.comes_to)
        };
        let values: Vec<Option<Points>> = sheets.iter().map(value).collect();
        let outcome = combine(panel, &values);
        Ok(PartTogether { id, label: part.label.clone(), values, how: how(panel), outcome })
    });
    parts.collect()
}

/// Returns what the parts come to together, within the book's lowest and highest; where one of them is
/// no score, that.
pub(super) fn added(scoring: Option<&Scoring>, parts: &[PartTogether]) -> Combined {
    let mut sum = Points::ZERO;
    for part in parts {
        match &part.outcome {
            Combined::Score { score } => sum += *score,
            other => return other.clone(),
        }
    }
    let floor = scoring.map_or(Points::ZERO, |scoring| scoring.floor.max(Points::ZERO));
    let ceiling = scoring.and_then(|scoring| scoring.ceiling);
    Combined::Score { score: ceiling.map_or(sum, |most| sum.min(most)).max(floor) }
}
