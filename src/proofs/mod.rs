//! Where proofs of clips are kept, and the one way to open a clip with its proof.
//!
//! A clip is proved by one decode from its beginning to its end. What that showed is kept in the
//! state folder under the clip's content hash, for the user alone; whatever is lost, damaged or too
//! much is made anew when it is asked for.

mod kept;

use std::{path::Path, sync::Arc};

pub use kept::KeptProofs;

use crate::{
    footage::{Footage, OpenError, ProofKeeper, Proving},
    marks::StateFolder,
};

/// Opens a clip with every frame proved; `told` hears how far that is, where no proof is kept.
pub fn open_proved(path: &Path, told: &dyn Fn(Proving)) -> Result<Footage, OpenError> {
    Footage::open_proved(path, keeper(), told)
}

/// Opens a clip as soon as its beginning can be stepped; whoever shows it proves it when there is
/// time, or finds its proof.
pub fn open_beginning(path: &Path) -> Result<Footage, OpenError> {
    match keeper() {
        Some(keeper) => Footage::open_beginning_with(path, keeper),
        None => Footage::open_beginning(path),
    }
}

/// Returns who keeps the proofs of this user; without a folder for it each opening proves anew.
pub(crate) fn keeper() -> Option<Arc<dyn ProofKeeper>> {
    let state = StateFolder::of_user()?;
    Some(Arc::new(KeptProofs::new(state)))
}
