//! What a page says and in which order; how it looks is left to `html`, `text` and `csv`.

use crate::{
    rulebook::Angle,
    sheet::{FrameAt, Status},
};

use super::chart::Drawing;

/// A page.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// What it is.
    pub title: String,
    /// The lines under its title: for whom, under which book.
    pub head: Vec<String>,
    /// What it says.
    pub parts: Vec<Part>,
    /// What it must not be taken for; every page has one.
    pub caution: String,
    /// How it is set on paper.
    pub style: Style,
}

/// How a page is set on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// One column, as a sheet is read.
    Page,
    /// Two dense columns, for a card beside the floor.
    Card,
}

/// A part of a page under a title of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its title; empty where it needs none.
    pub title: String,
    /// How high the title stands.
    pub rank: Rank,
    /// What it says, from top to bottom.
    pub pieces: Vec<Piece>,
}

/// How high a title stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rank {
    /// Over parts: everybody, one person, one look.
    Whole,
    /// A part.
    Part,
}

/// Something that a page says.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A sentence.
    Said(String),
    /// A name and what is said of it.
    Row {
        /// The name.
        name: String,
        /// What is said of it.
        words: String,
    },
    /// The figures that matter most, each with its name.
    Totals(Vec<[String; 2]>),
    /// Lines of a sheet.
    Ruled(RuledTable),
    /// Rows of cells.
    Table(Table),
    /// Sentences side by side.
    List(Vec<String>),
    /// A chart of what rows say as well.
    Chart(Drawing),
    /// A picture.
    Still(Still),
    /// Room for what a person writes by hand.
    Blanks(Vec<&'static str>),
}

/// Lines of a sheet: each was settled in some way, may cost something, and leads to its frames.
#[derive(Clone, Debug, PartialEq)]
pub struct RuledTable {
    /// Names of its columns: what it is, how it was settled, an amount, frames, why.
    pub head: [&'static str; 5],
    /// The lines.
    pub lines: Vec<RuledLine>,
}

/// One line of a sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RuledLine {
    /// What stands above it and those behind it of the same; nothing where it is empty.
    pub under: String,
    /// What it is.
    pub name: String,
    /// How it was settled.
    pub status: Status,
    /// What it costs, or the class of an element.
    pub amount: String,
    /// The frames that settle it.
    pub frames: Vec<FrameAt>,
    /// Why, one sentence after the other.
    pub why: Vec<String>,
}

/// Rows of cells, each as long as there are columns.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Vec<Cell>>,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name; empty where it needs none.
    pub head: String,
    /// What it holds, for how wide it is on paper.
    pub holds: &'static str,
}

/// What stands in a cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Words or a number.
    Text(String),
    /// What is asked of an angle, beside its figure on paper.
    Asked(String, Box<Angle>),
    /// Words to be ticked by hand.
    Choice(&'static [&'static str]),
}

/// A picture that is shown because somebody asked for stills.
#[derive(Clone, Debug, PartialEq)]
pub struct Still {
    /// Which frame it is.
    pub frame: FrameAt,
    /// Whole PNG file.
    pub png: Vec<u8>,
    /// What it shows, in the words of the lines that lead to it.
    pub caption: String,
}

impl Document {
    /// Returns the page with the pictures that somebody asked for.
    #[must_use]
    pub fn with_stills(mut self, stills: Vec<Still>) -> Self {
        if !stills.is_empty() {
            self.parts.push(Part::new("Stills", stills.into_iter().map(Piece::Still)));
        }
        self
    }
}

impl RuledTable {
    /// Returns the lines, each with what is written above it where that is not above it yet.
    pub(crate) fn headed(&self) -> impl Iterator<Item = (Option<&str>, &RuledLine)> {
        let before = std::iter::once("").chain(self.lines.iter().map(|line| line.under.as_str()));
        self.lines.iter().zip(before).map(|(line, before)| {
            let head = (line.under != before).then_some(line.under.as_str());
            (head, line)
        })
    }
}

impl Part {
    /// Returns a part.
    pub(crate) fn new(title: &str, pieces: impl IntoIterator<Item = Piece>) -> Self {
        let pieces = pieces.into_iter().collect();
        Self { title: title.to_owned(), rank: Rank::Part, pieces }
    }

    /// Returns a part under which others lie.
    pub(crate) fn whole(title: &str, pieces: impl IntoIterator<Item = Piece>) -> Self {
        Self { rank: Rank::Whole, ..Self::new(title, pieces) }
    }

    /// Returns a part of one list; nothing where it is empty.
    pub(crate) fn list(title: &str, items: impl Iterator<Item = String>) -> Option<Self> {
        let items: Vec<String> = items.collect();
        (!items.is_empty()).then(|| Self::new(title, [Piece::List(items)]))
    }

    /// Returns a part of lines of a sheet; nothing where there are none.
    pub(crate) fn ruled(
        title: &str,
        head: [&'static str; 5],
        lines: impl Iterator<Item = RuledLine>,
    ) -> Option<Self> {
        let lines: Vec<RuledLine> = lines.collect();
        let table = |lines| Self::new(title, [Piece::Ruled(RuledTable { head, lines })]);
        (!lines.is_empty()).then(|| table(lines))
    }
}

impl Piece {
    /// Returns a name and what is said of it.
    pub(crate) fn row(name: &str, words: String) -> Self {
        Self::Row { name: name.to_owned(), words }
    }
}

impl Column {
    /// Returns a column that holds something.
    pub(crate) fn new(head: &str, holds: &'static str) -> Self {
        Self { head: head.to_owned(), holds }
    }
}

impl Cell {
    /// Returns the words of the cell.
    pub fn words(&self) -> String {
        match self {
            Self::Text(words) | Self::Asked(words, _) => words.clone(),
            Self::Choice(words) => words.join(" / "),
        }
    }
}

impl From<String> for Cell {
    fn from(words: String) -> Self {
        Self::Text(words)
    }
}

impl From<&str> for Cell {
    fn from(words: &str) -> Self {
        Self::Text(words.to_owned())
    }
}
