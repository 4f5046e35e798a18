//! What a routine comes to: value parts, requirements, deductions and the rest.

use super::line::{Block, Key, Line, Sign, first, off};
use crate::{
    sheet::{Line as SheetLine, ScoreSheet, Status},
    units::Points,
};

/// Returns the blocks that say something.
pub(super) fn of(sheet: &ScoreSheet) -> Vec<Block> {
    let from_lines = |title, lines: &[SheetLine], at| Block {
        title,
        lines: lines.iter().enumerate().map(|(i, line)| sheet_line(line, at, i)).collect(),
        ..Block::default()
    };
    let taken: Points =
        sheet.deductions.iter().filter(|line| taken_off(line)).map(|line| line.amount).sum();
    let deductions =
        Block { total: off(taken), ..from_lines("Deductions", &sheet.deductions, DEDUCTIONS) };
    let blocks = [
        from_lines(if sheet.void { "Void" } else { "May be void" }, &sheet.void_reasons, 0),
        value_parts(sheet),
        requirements(sheet),
        deductions,
        adds_up(sheet),
        win_back(sheet),
        to_look_at(sheet),
    ];
    blocks.into_iter().filter(|block| !block.lines.is_empty()).collect()
}

/// Number of the block of deductions.
pub(super) const DEDUCTIONS: usize = 3;
/// Number of the block of parts.
const ADDS_UP: usize = 7;

/// Returns whether a remark says that a moment is still to be set, which stands under its element.
pub(super) fn is_missing_moment(line: &SheetLine) -> bool {
    line.rule == "moment" && line.mark.is_some()
}

fn to_look_at(sheet: &ScoreSheet) -> Block {
    let remarks = sheet.remarks.iter().enumerate();
    let lines = remarks.filter(|(_, line)| !is_missing_moment(line));
    Block {
        title: "To look at",
        lines: lines.map(|(place, line)| sheet_line(line, 5, place)).collect(),
        ..Block::default()
    }
}

const fn taken_off(line: &SheetLine) -> bool {
    matches!(line.status, Status::Taken | Status::Missed)
}

/// A line about nothing that was seen has the two ends of the routine for its frames, and leads
/// nowhere.
pub(super) fn sheet_line(line: &SheetLine, block: usize, place: usize) -> Line {
    Line {
        key: Key::Sheet(block, place),
        depth: 0,
        sign: line.status.into(),
        text: line.label.clone(),
        aside: line.reason.clone(),
        right: off(line.amount),
        frame: first(&line.frames).filter(|_| line.mark.is_some() || line.frames.len() == 1),
    }
}

fn value_parts(sheet: &ScoreSheet) -> Block {
    let line = |(place, part): (usize, &crate::sheet::ValuePart)| Line {
        key: Key::Sheet(1, place),
        depth: 0,
        sign: part.status.into(),
        text: format!("{}: {} of {}", part.label, part.shown, part.asked),
        aside: if part.status == Status::Met { String::new() } else { part.reason.clone() },
        right: off(part.amount),
        frame: None,
    };
    Block {
        title: "Value parts",
        lines: sheet.value_parts.iter().enumerate().map(line).collect(),
        ..Block::default()
    }
}

fn requirements(sheet: &ScoreSheet) -> Block {
    let line = |(place, requirement): (usize, &crate::sheet::RequirementLine)| Line {
        key: Key::Sheet(2, place),
        depth: 0,
        sign: requirement.status.into(),
        text: requirement.label.clone(),
        aside: if requirement.status == Status::Met {
            String::new()
        } else {
            requirement.reason.clone()
        },
        right: off(requirement.amount),
        // What is missing has no frame of its own, only the whole routine.
        frame: match requirement.status {
            Status::Missed => None,
            Status::Close if requirement.amount != Points::ZERO => None,
            _ => first(&requirement.frames),
        },
    };
    Block {
        title: "Requirements",
        lines: sheet.requirements.iter().enumerate().map(line).collect(),
        ..Block::default()
    }
}

/// Says how parts that are settled apart make the score; where there is one beside the start value, the
/// lines say it already.
fn adds_up(sheet: &ScoreSheet) -> Block {
    let line = |(place, [name, figure]): (usize, [String; 2])| Line {
        key: Key::Sheet(ADDS_UP, place),
        depth: 0,
        sign: Sign::Plain,
        text: name,
        aside: String::new(),
        right: figure,
        frame: None,
    };
    let subtotals = sheet.subtotals();
    let apart = if subtotals.len() > 1 { subtotals } else { Vec::new() };
    Block {
        title: "How it adds up",
        total: sheet.score.map(|score| score.to_string()).unwrap_or_default(),
        lines: apart.into_iter().enumerate().map(line).collect(),
        ..Block::default()
    }
}

fn win_back(sheet: &ScoreSheet) -> Block {
    let line = |(place, win): (usize, &crate::sheet::WinBack)| Line {
        key: Key::Sheet(4, place),
        depth: 0,
        sign: Sign::Plain,
        text: win.change.clone(),
        aside: String::new(),
        right: win.start_value.to_string(),
        frame: None,
    };
    Block {
        title: "To win it back",
        total: "start value".to_owned(),
        note: sheet.readiness,
        lines: sheet.win_back.iter().enumerate().map(line).collect(),
    }
}
