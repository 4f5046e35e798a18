//! The paper, whole or only what is in sight of it.

use iced::{
    Element,
    widget::{column, rule},
};

use crate::window::{
    paper::lines::{Block, Key, Line, Paper},
    theme::{self, size},
};

use super::{
    drag,
    line::{ROW, Shown, aside, heading, line},
    long,
};

/// Draws the routine and what it comes to; a press on a line says which.
pub(crate) fn view<'a, M: Clone + 'a>(
    paper: &'a Paper,
    shown: Shown<'a, M>,
    on_press: impl Fn(Key) -> M + Copy + 'a,
) -> Element<'a, M> {
    if is_long(paper) {
        return long::view(paper, shown, on_press);
    }
    let Shown { chosen, mut instead, mut dragged, damage, .. } = shown;
    let blocks = std::iter::once(&paper.routine).chain(&paper.blocks).map(|block| {
        let lines = block.lines.iter().map(|it| match instead.take() {
            Some(instead) if chosen == Some(it.key) => instead,
            other => {
                instead = other;
                line(it, &damage, chosen, on_press)
            }
        });
        let mut drawn = column![heading(block), rule::horizontal(1).style(theme::divider)];
        for line in lines {
            drawn = drawn.push(line);
        }
        let drawn = drawn.spacing(theme::space::HAIR);
        // Only the routine comes first, and only its lines hang under one another.
        match dragged.take() {
            Some(dragged) => drag::draggable(drawn, HEAD, keys_of(block), dragged),
            None => drawn.into(),
        }
    });
    column(blocks).spacing(theme::space::LARGE).into()
}

/// What stands above a block's lines: its heading and a rule.
const HEAD: usize = 2;

fn keys_of(block: &Block) -> Vec<Key> {
    block.lines.iter().map(|line| line.key).collect()
}

/// Lines beyond which only what is in sight is drawn.
const MANY: usize = 200;

fn is_long(paper: &Paper) -> bool {
    let blocks = paper.blocks.iter().map(|block| block.lines.len());
    paper.routine.lines.len() + blocks.sum::<usize>() > MANY
}

/// Returns about how far down the paper a line of the routine lies, in logical pixels; close
/// enough to scroll there.
pub(crate) fn top_of(paper: &Paper, key: Key) -> f32 {
    if is_long(paper) {
        return long::top_of(paper, key);
    }
    let lines = paper.routine.lines.iter().take_while(|line| line.key != key);
    let height = |line: &Line| {
        let aside = aside(line);
        let rows = aside.chars().count().div_ceil(ASIDE_LETTERS) as f32;
        ROW * size::BODY + 3.0 * theme::space::HAIR + rows * ROW * size::SMALL
    };
    2.0 * ROW * size::SMALL + lines.map(height).sum::<f32>()
}

/// Letters of a row of what is said beside a line.
const ASIDE_LETTERS: usize = 52;
