//! Handing over and taking in: whatever leaves the program as a file of its own, bundles for another
//! club, and a part of a clip as a clip of its own.

pub(crate) mod bundle;
pub(crate) mod bundled;
pub(crate) mod excerpt;
pub(crate) mod import;
pub(crate) mod leave;
pub(crate) mod leave_error;
pub(crate) mod manifest;
pub(crate) mod of;
pub(crate) mod opens;
pub(crate) mod outgoing;
mod refused;
mod target;
