//! Several divisions' sheets of one routine, and what each thing cost, in words.

use std::fmt::Write as _;

use crate::sheet::{Cause, ScoreSheet, Status};

/// Returns what the routine comes to in each division: every credit lost, everything missing,
/// everything taken off.
pub fn divisions_text(sheets: &[ScoreSheet]) -> String {
    let mut text = String::new();
    for sheet in sheets {
        let score = sheet.score.map_or_else(|| "void".to_owned(), |score| score.to_string());
        let (division, start) = (&sheet.standing.division, sheet.start_value);
        let _ = writeln!(text, "{division}: start value {start}, score {score}");
        for line in losses(sheet) {
            let _ = writeln!(text, "  {line}");
        }
    }
    text
}

/// Returns one line for everything that the division does not give or takes.
fn losses(sheet: &ScoreSheet) -> Vec<String> {
    let gone = |status| matches!(status, Status::Missed | Status::Close);
    let void =
        sheet.void_reasons.iter().map(|line| format!("void: {}. {}", line.label, line.reason));
    let elements = sheet.elements.iter().filter(|line| gone(line.status));
    let elements = elements.map(|line| format!("no credit: {}. {}", line.label, line.reason));
    let parts = sheet.value_parts.iter().filter(|part| gone(part.status));
    let parts = parts.map(|part| format!("missing, {}: {}", part.amount, part.reason));
    let asked = sheet.requirements.iter().filter(|line| gone(line.status));
    let asked =
        asked.map(|line| format!("missing, {}: {}. {}", line.amount, line.label, line.reason));
    let taken = sheet.deductions.iter().map(|line| match line.status {
        Status::NotCounted => format!("not counted: {}. {}", line.label, line.reason),
        _ => format!("off {}: {}. {}", line.amount, line.label, line.reason),
    });
    void.chain(elements).chain(parts).chain(asked).chain(taken).collect()
}

/// Returns what each thing cost, the dearest first, with its parts and its frames.
pub fn causes_text(causes: &[Cause]) -> String {
    let mut text = String::new();
    for cause in causes {
        let frames: Vec<String> = cause.frames.iter().map(|at| at.frame.to_string()).collect();
        let at = if frames.is_empty() {
            String::new()
        } else {
            format!(", frame {}", frames.join(" to "))
        };
        let _ = writeln!(text, "{} cost {}{at}", cause.label, cause.amount);
        for (part, amount) in cause.parts.iter().filter(|_| cause.parts.len() > 1) {
            let _ = writeln!(text, "  {amount}  {part}");
        }
    }
    text
}
