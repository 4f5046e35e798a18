//! What judges of one routine saw, side by side, with the frames that their answers stand on, and what
//! becomes the reference.

mod doing;
mod jobs;
mod shown;
mod view;

pub(crate) use shown::JudgesMessage;
pub(super) use shown::JudgesShown;
