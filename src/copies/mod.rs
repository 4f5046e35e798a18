//! Clips made of clips: a part of one as a clip of its own, and copies that go into a bundle.
//!
//! Who calls opens the clip with its frames proved, in the way that is right for where it comes from.

mod copy;
mod cut;

pub use copy::{copy_for_bundle, facts_of, facts_told};
pub use cut::{Cut, CutError, CutWish, cut, may_cut};
