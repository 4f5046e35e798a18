//! What is seen of the marks file: that it is not saved, and that something was set aside of it.

use iced::{
    Element,
    widget::{Text, column, text},
};

use crate::window::{
    screens::clip::{Clip, Message},
    theme::{self, size},
};

impl Clip {
    /// The signs of the marks file. No key takes away the one that it is not saved, only a save does.
    pub(crate) fn file_signs(&self) -> Option<Element<'_, Message>> {
        let path = self.session.path().filter(|_| self.session.is_dirty());
        let unsaved = path.and_then(|path| self.disk.sign(path));
        let unsaved = unsaved.map(|sign| text(sign).style(theme::ink(theme::INK_MISSED)));
        let aside = self.session.aside();
        let aside = (aside > 0).then(|| {
            let said = format!("Set aside of these marks: {aside}. \"stillcall aside\" lists it.");
            text(said).style(theme::ink(theme::INK_QUIET))
        });
        let signs: Vec<_> = unsaved.into_iter().chain(aside).collect();
        let small = |sign: Text<'static>| sign.size(size::SMALL).into();
        (!signs.is_empty()).then(|| column(signs.into_iter().map(small)).into())
    }
}
