//! What is made of a clip: pictures, copies, lists.

pub(crate) mod copy;
pub(crate) mod describe;
pub(crate) mod film;
pub(crate) mod jpeg;
pub(crate) mod list;
pub(crate) mod still;
