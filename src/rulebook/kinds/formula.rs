//! The four ways of building a score.

use crate::{
    rulebook::{
        keys::{Part, count, inner, one_of, points, table, words},
        rows::{Field, Findings, Row},
    },
    units::Points,
};

/// The four ways of building a score.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Formula {
    /// A start value minus what is missing, minus deductions.
    StartMinus {
        /// Start value before anything is missing; a vault brings its own.
        start: Points,
    },
    /// A start value minus what is missing, minus half of the deductions.
    StartMinusHalf {
        /// As above.
        start: Points,
    },
    /// Buckets filled apart and added: what is missing empties the first two, deductions the last.
    Buckets {
        /// Full bucket of value parts.
        value_parts: Points,
        /// Full bucket of requirements.
        requirements: Points,
        /// Full bucket of artistry; faults of the group `artistry` empty it.
        artistry: Points,
        /// Full bucket of execution.
        execution: Points,
    },
    /// Values of the best elements, plus the prices of requirements that are met, plus execution
    /// minus deductions.
    Open {
        /// Execution before deductions.
        execution: Points,
        /// How many elements count.
        best: u32,
        /// The most that elements and requirements make together.
        at_most: Option<Points>,
    },
}

words! {
    /// The way, as it is written.
    enum Way {
        StartMinus = "start-minus",
        StartMinusHalf = "start-minus-half",
        Buckets = "buckets",
        Open = "open",
    }
}

table! {
    /// The keys that say how a score is built.
    #[derive(Debug)]
    struct Written {
        /// How the score is built.
        must formula: Option<Way> = one_of::<Way>();
        /// Start value before anything is missing; a vault brings its own.
        may start: Points = points();
        /// The four buckets of the formula "buckets".
        may buckets: Option<Buckets> = inner::<Buckets>();
        /// Execution before deductions, for the formula "open".
        may execution: Points = points();
        /// How many elements count, for the formula "open".
        may best: u32 = count();
        /// The most that elements and requirements make together, for the formula "open".
        may difficulty_at_most: Option<Points> = points();
    }
}

table! {
    /// The four buckets.
    #[derive(Debug, Default)]
    struct Buckets {
        /// Full bucket of value parts.
        must value_parts: Points = points();
        /// Full bucket of requirements.
        must requirements: Points = points();
        /// Full bucket of artistry.
        must artistry: Points = points();
        /// Full bucket of execution.
        must execution: Points = points();
    }
}

impl Part for Formula {
    const FIELDS: &'static [Field] = Written::FIELDS;

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let written = Written::read(row, findings);
        let Written { start, execution, best, difficulty_at_most: at_most, .. } = written;
        // A formula that is none was reported where it stands.
        let Some(way) = written.formula else { return Self::StartMinus { start } };
        let (formula, needed): (Self, &[&str]) = match way {
            Way::StartMinus => (Self::StartMinus { start }, &["start"]),
            Way::StartMinusHalf => (Self::StartMinusHalf { start }, &["start"]),
            Way::Buckets => {
                let Buckets { value_parts, requirements, artistry, execution } =
                    written.buckets.unwrap_or_default();
                let full = Self::Buckets { value_parts, requirements, artistry, execution };
                (full, &["buckets"])
            }
            Way::Open => (Self::Open { execution, best, at_most }, &["execution", "best"]),
        };
        for key in needed.iter().filter(|key| !row.has(key)) {
            let message = format!("this formula needs the key \"{key}\"");
            findings.error(&row.span_of("formula"), message, &format!("add {key} to this table"));
        }
        formula
    }
}
