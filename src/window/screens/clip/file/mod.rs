//! The files of a clip and its marks: opened, saved, followed while they are open.

pub(crate) mod changed;
pub(crate) mod copy;
pub(crate) mod disk;
pub(crate) mod opening;
pub(crate) mod saving;
pub(crate) mod sign;
pub(crate) mod wanted;
