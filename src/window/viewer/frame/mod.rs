//! The picture on the screen: one widget that draws on both of iced's renderers.
//!
//! While a clip plays, the widget itself asks for the picture that is due, so that nothing else of
//! the window is built again for it; it tells the rest how far it is a few times each second.

mod pipeline;
mod placing;
mod playing;
mod pointer;
mod showing;
mod software;
mod source;
mod state;
mod told;
mod touch;
mod view;
mod widget;

pub(crate) use told::Pointer;
pub use told::Told;
pub use view::FrameView;
