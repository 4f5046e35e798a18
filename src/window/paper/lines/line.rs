//! The lines of the paper, made of the marks and the score sheet.

use crate::{
    marks::{Id, What},
    sheet::{FrameAt, Status},
    units::{FrameIndex, Points},
};

/// What is written on the paper.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Paper {
    /// The routine in order.
    pub routine: Block,
    /// What it comes to: value parts, requirements, deductions and the rest, empty ones left out.
    pub blocks: Vec<Block>,
}

/// What things are called in the book's words.
#[derive(Clone, Copy)]
pub(crate) struct Names<'a> {
    /// Something seen.
    pub mark: &'a dyn Fn(&What) -> String,
    /// A class, by its id.
    pub class: &'a dyn Fn(&str) -> String,
}

/// Lines under one heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Block {
    /// Heading.
    pub title: &'static str,
    /// What stands at the right of the heading.
    pub total: String,
    /// What stands once above all lines; empty where nothing does.
    pub note: &'static str,
    /// The lines.
    pub lines: Vec<Line>,
}

/// One line of the paper.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line {
    /// What the line is about.
    pub key: Key,
    /// How deep it hangs; 0 for elements and for every line of the sheet.
    pub depth: u8,
    /// How it was settled, by shape and by word.
    pub sign: Sign,
    /// What it says.
    pub text: String,
    /// What is said beside it, smaller.
    pub aside: String,
    /// Class or amount, at the right edge.
    pub right: String,
    /// The frame it leads to.
    pub frame: Option<FrameIndex>,
}

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Key {
    /// A mark, reading or call, which can be changed.
    Item(Id),
    /// What a rule still waits for at an element: the element and the place in its decisions.
    Waiting(Id, usize),
    /// A line of the sheet: block and place in it.
    Sheet(usize, usize),
}

/// How something was settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sign {
    /// Nothing to settle.
    Plain,
    /// As the sheet says.
    Settled(Status),
    /// A rule waits for it.
    Waiting,
}

impl Sign {
    pub(crate) const fn shape(self) -> char {
        match self {
            Self::Plain => '·',
            Self::Waiting => '…',
            Self::Settled(status) => status.sign(),
        }
    }

    /// Returns whether its word stands beside the line: where it is bad news or none yet.
    pub(crate) const fn is_told(self) -> bool {
        match self {
            Self::Plain | Self::Settled(Status::Met | Status::Taken) => false,
            Self::Waiting | Self::Settled(Status::Missed | Status::Close | Status::NotCounted) => {
                true
            }
        }
    }

    /// Returns the word that goes with the shape.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Plain => "",
            Self::Waiting => "waiting",
            Self::Settled(status) => status.words(),
        }
    }
}

impl From<Status> for Sign {
    fn from(status: Status) -> Self {
        Self::Settled(status)
    }
}

impl Paper {
    /// Returns the lines of the routine that can be chosen, from top to bottom.
    pub(crate) fn keys(&self) -> impl Iterator<Item = Key> {
        self.routine.lines.iter().map(|line| line.key)
    }

    /// Returns from which frame to which each element reaches, by what hangs under it.
    pub(crate) fn reaches(&self) -> Vec<[FrameIndex; 2]> {
        let mut reaches: Vec<[FrameIndex; 2]> = Vec::new();
        for line in &self.routine.lines {
            match (line.frame, line.depth, reaches.last_mut()) {
                (Some(frame), 0, _) => reaches.push([frame, frame]),
                (Some(frame), _, Some(reach)) => reach[1] = reach[1].max(frame),
                _ => {}
            }
        }
        reaches
    }

    /// Returns the line about `key`.
    pub(crate) fn line(&self, key: Key) -> Option<&Line> {
        let lines = self.blocks.iter().flat_map(|block| &block.lines);
        self.routine.lines.iter().chain(lines).find(|line| line.key == key)
    }
}

/// Block number of what the sheet recognised; after those of `blocks`.
pub(crate) const RECOGNISED: usize = 6;

/// Writes what a line takes off or gives back; empty where it does neither.
pub(super) fn off(amount: Points) -> String {
    if amount == Points::ZERO { String::new() } else { amount.taken_off() }
}

pub(super) fn first(frames: &[FrameAt]) -> Option<FrameIndex> {
    frames.first().map(|frame| frame.frame)
}
