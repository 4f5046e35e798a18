//! What would win something back, and what each thing cost.

mod advised;
mod causes;
mod changes;
mod search;
mod skills;
mod suggestions;
mod win_back;

pub use advised::{score, score_with};
pub use causes::{Cause, causes};
pub use skills::Skills;
