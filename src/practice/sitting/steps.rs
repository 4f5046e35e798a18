//! The steps of a sitting: where it stands, what may happen, what the outside has to do.

use super::record::Record;
use crate::practice::set::Answer;

/// Where a sitting stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SittingStage {
    /// The cue is shown; nothing was played.
    Cue,
    /// That the look begins is being written; nothing is played yet.
    Opening,
    /// The span plays, once; answers may be typed.
    Looking,
    /// The look is over; answers are typed until the time is up.
    Answering {
        /// When it began, in milliseconds since the caller opened the sitting.
        since_ms: u64,
    },
    /// The answers are being written; nothing is shown yet.
    Writing {
        /// Whether the time was up.
        time_up: bool,
    },
    /// The still of a question is shown; a second answer may be typed.
    Still(usize),
    /// The second answer is being written.
    Keeping(usize),
    /// The line and the number are shown.
    Line(usize),
    /// The reference call and why are shown.
    Reference(usize),
    /// That a look cannot be shown is being written.
    Skipping {
        /// Why, in words.
        why: String,
    },
    /// Every look is done.
    Done,
}

impl SittingStage {
    /// Returns what is to be done before anything else.
    pub(super) const fn first(&self) -> &'static str {
        match self {
            Self::Cue => "begin the look first",
            Self::Looking => "watch the look to its end first",
            Self::Answering { .. } => "hand the answers in first",
            Self::Still(_) | Self::Line(_) | Self::Reference(_) => "go on to the next step first",
            Self::Opening | Self::Writing { .. } | Self::Keeping(_) | Self::Skipping { .. } => {
                "wait until it is written"
            }
            Self::Done => "every look is done",
        }
    }
}

/// What happened.
#[derive(Clone, Debug, PartialEq)]
pub enum SittingEvent {
    /// The person is ready to look.
    Ready,
    /// The look cannot be shown, and why.
    CannotShow(String),
    /// An answer was typed for a question of the look; nothing takes it back.
    Typed(usize, Option<Answer>),
    /// The span was played to its end.
    LookEnded {
        /// Pictures that playback dropped.
        dropped: u32,
        /// Now, in milliseconds since the caller opened the sitting.
        now_ms: u64,
    },
    /// Time went on.
    Tick {
        /// Now, in milliseconds since the caller opened the sitting.
        now_ms: u64,
    },
    /// The person hands the answers in.
    HandedIn,
    /// What was to be written is on the disk.
    Written,
    /// It could not be written; the same is tried again.
    NotWritten,
    /// A second answer was typed.
    TypedAfter(Option<Answer>),
    /// The person goes on.
    Next,
}

/// What the outside has to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Write this and flush it to the disk, then say `Written`.
    Write(Record),
    /// Play the span of the look once.
    Play,
}

/// Why something was not done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// It is not the time for it; something else comes first.
    #[error("{0}")]
    OutOfTurn(&'static str),
    /// The answers are handed in.
    #[error("the answers are handed in and stay as they are")]
    HandedIn,
    /// The score was given before the start value.
    #[error("give the start value first")]
    StartValueFirst,
    /// There is no such question, or the answer is of another form.
    #[error("this is no answer to that question")]
    NoAnswer,
}
