//! The paper made of the marks and the score sheet.

use crate::{marks::Sheaf, sheet::ScoreSheet};

use super::{
    blocks,
    line::{Block, Names, Paper},
    routine,
};

impl Paper {
    /// Returns the paper of a routine, in the book's words.
    pub(crate) fn of(sheaf: &Sheaf, sheet: &ScoreSheet, names: Names<'_>) -> Self {
        let lines = routine::lines(sheaf, sheet, names);
        let routine = Block { title: "Routine", lines, ..Block::default() };
        Self { routine, blocks: blocks::of(sheet) }
    }
}
