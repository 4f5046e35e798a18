//! A page for a terminal.

use crate::sheet::frames_words;

use super::model::{Document, Part, Piece, Rank, RuledLine, Table};

/// Columns of the page.
const WIDTH: usize = 92;
/// Columns of the name of a line of a sheet.
const NAME: usize = 46;

pub(super) fn text(document: &Document) -> String {
    let mut page = Page::default();
    page.line(&document.title);
    document.head.iter().for_each(|line| page.line(line));
    document.parts.iter().for_each(|part| page.part(part));
    page.gap();
    page.wrapped("", &document.caution);
    page.0
}

#[derive(Default)]
struct Page(String);

impl Page {
    fn part(&mut self, part: &Part) {
        let said =
            part.pieces.iter().any(|piece| !matches!(piece, Piece::Chart(_) | Piece::Still(_)));
        match part.rank {
            Rank::Whole => {
                self.gap();
                self.line(&part.title);
            }
            Rank::Part if !said => return,
            Rank::Part => {
                self.gap();
                if !part.title.is_empty() {
                    self.line(&part.title);
                }
            }
        }
        let name = part.pieces.iter().map(|piece| match piece {
            Piece::Row { name, .. } => name.chars().count(),
            _ => 0,
        });
        let name = name.max().unwrap_or(0).min(NAME);
        part.pieces.iter().for_each(|piece| self.piece(piece, name));
    }

    fn piece(&mut self, piece: &Piece, name_width: usize) {
        match piece {
            Piece::Said(said) => self.wrapped("  ", said),
            Piece::Row { name, words } => self.line(&format!("  {name:<name_width$} {words}")),
            Piece::Totals(totals) => {
                for [name, figure] in totals {
                    self.line(&format!("  {name:<NAME$}   {figure:>8}"));
                }
            }
            Piece::Ruled(table) => table.headed().for_each(|(head, line)| {
                if let Some(head) = head {
                    self.line(&format!("  {head}"));
                }
                self.ruled(line);
            }),
            Piece::Table(table) => self.table(table),
            Piece::List(items) => items.iter().for_each(|item| self.wrapped("  ", item)),
            Piece::Blanks(blanks) => {
                let rooms = blanks.iter().map(|blank| format!("{blank} ____________"));
                self.line(&format!("  {}", rooms.collect::<Vec<_>>().join("  ")));
            }
            Piece::Chart(_) | Piece::Still(_) => {}
        }
    }

    fn ruled(&mut self, line: &RuledLine) {
        let (sign, frames) = (line.status.sign(), frames_words(&line.frames));
        let (name, amount) = (cut(&line.name), &line.amount);
        self.line(&format!("  {sign} {name:<NAME$} {amount:>8}  {frames}"));
        line.why.iter().for_each(|why| self.wrapped("      ", why));
    }

    /// Writes each column as wide as its widest cell.
    fn table(&mut self, table: &Table) {
        let head: Vec<String> = table.columns.iter().map(|column| column.head.clone()).collect();
        let rows = table.rows.iter().map(|row| row.iter().map(super::Cell::words).collect());
        let head = (!head.iter().all(String::is_empty)).then_some(head);
        let rows: Vec<Vec<String>> = head.into_iter().chain(rows).collect();
        let wide =
            |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
        let widths: Vec<usize> = (0..table.columns.len()).map(wide).collect();
        for row in &rows {
            let cells = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}"));
            self.line(&format!("  {}", cells.collect::<Vec<_>>().join("  ")));
        }
    }

    fn line(&mut self, line: &str) {
        self.0.push_str(line.trim_end());
        self.0.push('\n');
    }

    fn gap(&mut self) {
        self.0.push('\n');
    }

    /// Writes words over as many lines as they take.
    fn wrapped(&mut self, indent: &str, words: &str) {
        let mut line = indent.to_owned();
        for word in words.split_whitespace() {
            if line.chars().count() + word.chars().count() + 1 > WIDTH && line.trim() != "" {
                self.line(&line);
                indent.clone_into(&mut line);
            }
            if line.trim() != "" {
                line.push(' ');
            }
            line.push_str(word);
        }
        self.line(&line);
    }
}

fn cut(name: &str) -> String {
    if name.chars().count() <= NAME {
        return name.to_owned();
    }
    name.chars().take(NAME - 1).chain(['…']).collect()
}
