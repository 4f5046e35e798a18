//! What was seen: the marks of one routine by one judge, their history and their file.
//!
//! `model` and `edit` know no file; `file` and `journal` do the reading and writing, and `desk`
//! ties the three together for whoever edits.

pub mod edit;
pub mod model;

pub use edit::{Edit, History};
pub use model::{
    Answer, At, BodyPart, Call, ClickedPoint, ClipFacts, Contact, Facing, Id, Item, LandingOn,
    Manner, Mark, Phase, Quantity, Reading, Routine, Seen, Sheaf, What,
};
