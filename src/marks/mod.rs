//! What was seen: the marks of one routine by one judge, their history and their file.
//!
//! `model` and `edit` know no file; `file`, `journal` and `state` do the reading and writing,
//! and `desk` ties them together for whoever edits.

mod aside;
mod camera;
mod clicking;
mod clicking_together;
mod copy;
mod damage;
pub mod desk;
mod desk_error;
pub mod edit;
pub mod entries;
pub mod file;
pub mod ids;
mod instant;
mod join;
pub mod journal;
mod kept;
mod load;
pub mod merge;
pub mod model;
pub mod placing;
mod plane;
mod plane_kind;
mod remeasure;
mod result;
mod saving;
mod seal;
mod state;
mod trail;
mod version;
pub(crate) mod words;

pub use aside::Aside;
pub(crate) use camera::to_compare;
pub use camera::{Since, since};
pub use clicking::{Clicking, OwnClicks, Repeats};
pub use clicking_together::Together;
pub use copy::{Kin, MoveError, OtherCopy, kin, move_to};
pub use damage::Damage;
pub use desk::Desk;
pub use desk_error::DeskError;
pub use edit::{Edit, History, Step};
pub use file::{beside, path_for};
pub use kept::{AsideKind, AsideSearch, KeptAside};
pub use load::{load, load_and_tell};
pub use model::{
    At, BodyPart, Call, CallAnswer, ClickedPoint, ClipFacts, Contact, Facing, How, Id, Item,
    JudgeScore, LandingOn, Manner, Mark, Phase, PlacedPoint, Quantity, Reading, RealResult,
    ReferencePlane, Routine, Seen, Sheaf, What,
};
pub use plane::{CameraSince, Moved};
pub use plane_kind::{PlaneKind, Size};
pub use remeasure::{Outcome, Remeasured, camera_since, measured, remeasure, renew};
pub(crate) use remeasure::{USUAL_OFF_SQUARE, check_plane, measure_input};
pub(crate) use saving::{Saved, Saving};
pub use seal::seal;
pub use state::StateFolder;
pub use version::Version;
pub(crate) use version::copies_of;
