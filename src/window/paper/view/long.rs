//! A paper so long that only what is in sight is drawn: each row then has a height of its own
//! that is known beforehand, so what is said beside a line stays on one row.

use iced::{
    Element,
    widget::{column, container, space},
};

use crate::window::{
    paper::lines::{Block, Key, Line, Paper},
    theme::{self, size},
};

use super::line::{Damage, ROW, Shown, heading, line};

/// What is drawn beyond what is in sight, on either side, so that moving the paper shows no gap.
const MARGIN: f32 = 400.0;

/// One row with where it ends.
enum Row<'a> {
    Heading(&'a Block),
    Line(&'a Line),
}

impl Row<'_> {
    fn height(&self) -> f32 {
        match self {
            Self::Heading(block) => {
                let rows = if block.note.is_empty() { 1.0 } else { 2.0 };
                theme::space::LARGE + rows * ROW * size::SMALL + theme::space::TIGHT
            }
            Self::Line(line) => {
                let aside = if has_aside(line) { ROW * size::SMALL } else { 0.0 };
                ROW * size::BODY + aside + 3.0 * theme::space::HAIR
            }
        }
    }
}

/// What the word of a damaged picture adds to a line that else has none of its kind. Where a line
/// lies is reckoned without it: that need not be exact.
fn damaged_height(row: &Row<'_>, damage: &Damage<'_>) -> f32 {
    let Row::Line(line) = row else { return 0.0 };
    let says = line.frame.is_some_and(|frame| damage(frame).is_some());
    if says && !has_aside(line) { ROW * size::SMALL } else { 0.0 }
}

fn has_aside(line: &Line) -> bool {
    let says = line.sign.is_told();
    says || !line.aside.is_empty()
}

fn rows(paper: &Paper) -> impl Iterator<Item = Row<'_>> {
    let blocks = std::iter::once(&paper.routine).chain(&paper.blocks);
    blocks.flat_map(|block| {
        std::iter::once(Row::Heading(block)).chain(block.lines.iter().map(Row::Line))
    })
}

/// Draws what is in sight.
pub(super) fn view<'a, M: Clone + 'a>(
    paper: &'a Paper,
    shown: Shown<'a, M>,
    on_press: impl Fn(Key) -> M + Copy + 'a,
) -> Element<'a, M> {
    let Shown { chosen, in_sight: [from, height], mut instead, damage, .. } = shown;
    let (from, to) = (from - MARGIN, from + height + MARGIN);
    let (mut y, mut before, mut after) = (0.0, 0.0, 0.0);
    let mut drawn = column![];
    for row in rows(paper) {
        let height = row.height() + damaged_height(&row, &damage);
        if y + height < from {
            before += height;
        } else if y > to {
            after += height;
        } else {
            let content = match row {
                Row::Heading(block) => heading(block),
                Row::Line(it) if chosen == Some(it.key) && instead.is_some() => {
                    instead.take().unwrap_or_else(|| line(it, &damage, chosen, on_press))
                }
                Row::Line(it) => line(it, &damage, chosen, on_press),
            };
            drawn = drawn.push(container(content).height(height).clip(true));
        }
        y += height;
    }
    column![space().height(before), drawn, space().height(after)].into()
}

/// Returns how far down a line lies.
pub(super) fn top_of(paper: &Paper, key: Key) -> f32 {
    let is_it = |row: &Row<'_>| matches!(row, Row::Line(line) if line.key == key);
    rows(paper).take_while(|row| !is_it(row)).map(|row| row.height()).sum()
}

/// Returns how high the whole paper is.
#[cfg(test)]
fn height(paper: &Paper) -> f32 {
    rows(paper).map(|row| row.height()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{marks::Id, units::FrameIndex, window::paper::lines::Sign};

    fn paper(count: u64) -> Paper {
        let line = |id| Line {
            key: Key::Item(Id(id)),
            depth: 0,
            sign: Sign::Plain,
            text: String::new(),
            aside: if id % 2 == 0 { "aside".to_owned() } else { String::new() },
            right: String::new(),
            frame: Some(FrameIndex(id)),
        };
        let routine = Block { lines: (0..count).map(line).collect(), ..Block::default() };
        Paper { routine, blocks: Vec::new() }
    }

    #[test]
    fn the_last_line_lies_just_above_the_end() {
        let paper = paper(5000);
        let last = top_of(&paper, Key::Item(Id(4999)));
        assert!((height(&paper) - last - ROW * size::BODY - 3.0 * theme::space::HAIR).abs() < 1.0);
        assert!(top_of(&paper, Key::Item(Id(10))) < top_of(&paper, Key::Item(Id(11))));
    }
}
