//! The lines of the paper, made of the marks and the score sheet.

mod blocks;
mod line;
mod made;
mod routine;

pub(crate) use line::{Block, Key, Line, Names, Paper, RECOGNISED, Sign};
