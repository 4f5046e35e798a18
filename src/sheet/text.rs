//! The sheet for a terminal and as JSON.

use super::model::ScoreSheet;

/// Returns the sheet as JSON; amounts as texts with three decimals.
pub fn to_json(sheet: &ScoreSheet) -> serde_json::Value {
    serde_json::to_value(sheet).unwrap_or_default()
}

/// Returns the sheet for a terminal.
pub fn text(sheet: &ScoreSheet) -> String {
    format!("{}\n", sheet.start_value)
}
