//! What is noted of a clip and of who is on it, and what that allows.

pub(crate) mod ask;
pub(crate) mod code;
pub(crate) mod gate;
pub(crate) mod noting;
pub(crate) mod sidecar;
pub(crate) mod sidecar_file;
