//! What was seen: the marks of one routine by one judge, their history and their file.
//!
//! `model` and `edit` know no file; `file`, `journal` and `state` do the reading and writing,
//! and `desk` ties them together for whoever edits.

mod copy;
mod damage;
pub mod desk;
pub mod edit;
pub mod file;
pub mod journal;
pub mod merge;
pub mod model;
pub mod placing;
mod plane;
mod plane_kind;
mod remeasure;
mod result;
mod state;
pub(crate) mod words;

pub use copy::{Kin, MoveError, OtherCopy, kin, move_to};
pub use damage::Damage;
pub use desk::{Desk, DeskError, load, load_and_tell};
pub(crate) use desk::{Saved, Saving};
pub use edit::{Edit, History, Step};
pub use file::{beside, path_for};
pub use model::{
    At, BodyPart, Call, CallAnswer, ClickedPoint, ClipFacts, Contact, Facing, How, Id, Item,
    JudgeScore, LandingOn, Manner, Mark, Phase, PlacedPoint, Quantity, Reading, RealResult,
    ReferencePlane, Routine, Seen, Sheaf, What,
};
pub use plane_kind::{PlaneKind, Size};
pub use remeasure::{Outcome, Remeasured, measured, remeasure, renew};
pub(crate) use remeasure::{USUAL_OFF_SQUARE, check_plane, measure_input};
pub use state::StateFolder;
