//! What is seen of the marks file as long as it is not saved.

use iced::{Element, widget::text};

use crate::window::{
    screens::clip::{Clip, Message},
    theme::{self, size},
};

impl Clip {
    /// The sign that the marks are not saved. No key takes it away, only a save does.
    pub(crate) fn unsaved_sign(&self) -> Option<Element<'_, Message>> {
        let sign = self.disk.sign()?;
        Some(text(sign).size(size::SMALL).style(theme::ink(theme::INK_MISSED)).into())
    }
}
