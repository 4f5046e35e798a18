//! One picture and how it is to be shown.

use std::sync::Arc;

use crate::{footage::Picture, units::Orientation, window::viewer::viewport::Viewport};

/// One picture and how it is to be shown.
#[derive(Clone)]
pub(crate) struct Showing {
    /// The picture.
    pub picture: Arc<Picture>,
    /// How it is turned, where a person turned it otherwise than its file says.
    pub turn: Option<Orientation>,
    /// Zoom and pan.
    pub viewport: Viewport,
    /// Which surface it is drawn on.
    pub surface: Surface,
}

/// The surfaces on the graphics card; every widget on screen has one of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Surface {
    /// The clip itself.
    Main,
    /// The magnified inset.
    Inset,
    /// A second clip.
    Beside,
}
