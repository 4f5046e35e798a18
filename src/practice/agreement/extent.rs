//! How much was compared and how much of it differs, so that what nobody compared is not taken for
//! agreement.

use serde::Serialize;

use super::compared::{Compared, ComparedUnit, ELEMENT, SCORE, Said};
use crate::units::counted;

/// What was compared, sort by sort.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ComparedExtent {
    /// Calls that both sides made.
    pub calls: ComparedCount,
    /// Scores that both sides gave.
    pub scores: ComparedCount,
    /// Start values and sums of deductions.
    pub other_points: ComparedCount,
    /// Angles and lengths.
    pub readings: ComparedCount,
    /// Frames on which both put the same thing.
    pub frames: ComparedCount,
    /// Calls left open by one side, right either way.
    pub left_open: usize,
    /// Elements that only one side has, of which neither credit nor angles can be compared.
    pub elements_alone: usize,
}

/// How many things were compared, and how many of them differ.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ComparedCount {
    /// Compared.
    pub of: usize,
    /// Of those, how many differ.
    pub differ: usize,
}

impl ComparedExtent {
    /// Counts what was compared.
    pub(super) fn of(compared: &[Compared]) -> Self {
        let mut extent = Self::default();
        for one in compared {
            extent.take(one);
        }
        extent
    }

    fn take(&mut self, one: &Compared) {
        match &one.said {
            Said::Open => self.left_open += 1,
            Said::Word { reference, other } => {
                let differs = reference != other;
                self.calls.take(differs);
                self.elements_alone += usize::from(differs && one.kind == ELEMENT);
            }
            Said::Number { unit, reference, other } => {
                let sort = match unit {
                    ComparedUnit::Frames => &mut self.frames,
                    ComparedUnit::Points if is_score(&one.kind) => &mut self.scores,
                    ComparedUnit::Points => &mut self.other_points,
                    _ => &mut self.readings,
                };
                // What prints alike is alike: no sheet knows less than a thousandth.
                sort.take(unit.of(*reference) != unit.of(*other));
            }
        }
    }

    /// Returns each sort with its name.
    pub(crate) fn sorts(&self) -> [(&'static str, ComparedCount); 5] {
        [
            ("Calls", self.calls),
            ("Scores", self.scores),
            ("Start values and deductions", self.other_points),
            ("Angles and lengths", self.readings),
            ("Frames", self.frames),
        ]
    }

    /// Returns how many things were compared in all.
    pub(crate) fn all(&self) -> ComparedCount {
        let sum = |all: ComparedCount, (_, sort): (_, ComparedCount)| ComparedCount {
            of: all.of + sort.of,
            differ: all.differ + sort.differ,
        };
        self.sorts().into_iter().fold(ComparedCount::default(), sum)
    }

    /// Returns in words what could not be compared.
    pub(super) fn left_out(&self) -> Vec<String> {
        let open = counted(self.left_open, "call");
        let alone = counted(self.elements_alone, "element");
        let open = (self.left_open > 0).then(|| format!("{open} that one side left open"));
        let alone = (self.elements_alone > 0)
            .then(|| format!("credit and angles of {alone} that only one side has"));
        open.into_iter().chain(alone).collect()
    }
}

impl ComparedCount {
    const fn take(&mut self, differs: bool) {
        self.of += 1;
        self.differ += differs as usize;
    }

    /// Returns it in words.
    pub(crate) fn words(self) -> String {
        match (self.of, self.differ) {
            (0, _) => "none compared".to_owned(),
            (of, 0) => format!("{of} compared, none differs"),
            (of, 1) => format!("{of} compared, 1 differs"),
            (of, differ) => format!("{of} compared, {differ} differ"),
        }
    }
}

/// After the stills it is another kind of the same.
fn is_score(kind: &str) -> bool {
    kind.split(',').next() == Some(SCORE)
}
