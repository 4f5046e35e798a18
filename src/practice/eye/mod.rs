//! Training the eye for angles: drawn figures whose angle is known, answered in degrees.
//!
//! Difficulty follows the person's own error: a level goes up when the eye is sure and down when
//! it is not, and the quantity that a person misses most comes up most. `trainer`, `figure`,
//! `drill` and `progress` are pure; `diary` keeps the answers on the disk.

mod diary;
mod drill;
mod figure;
mod progress;
mod trainer;

pub use diary::{Diary, Noted};
pub use figure::Figure;
pub use progress::{Progress, ProgressLine, progress};
pub(crate) use trainer::LEVELS;
pub use trainer::{Task, Trainer, Tried};
