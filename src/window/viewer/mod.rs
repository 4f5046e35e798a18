//! A clip that is looked at: its reader, the picture on the screen, and how it is played.

pub(crate) mod arrived;
pub(crate) mod frame;
pub(crate) mod ink;
pub(crate) mod loupe;
pub(crate) mod overlay;
pub(crate) mod playback;
pub(crate) mod stage;
pub(crate) mod turning;
pub(crate) mod unproved;
pub(crate) mod viewing;
pub(crate) mod viewport;
