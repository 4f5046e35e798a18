//! The picture on the screen: one widget that draws on both of iced's renderers.
//!
//! While a clip plays, the widget itself asks for the picture that is due, so that nothing else of
//! the window is built again for it; it tells the rest how far it is a few times each second.

mod pipeline;
mod placing;
mod playing;
mod pointer;
mod software;
mod source;
mod touch;
mod widget;

pub(crate) use pointer::Pointer;
pub use widget::{FrameView, Told};
