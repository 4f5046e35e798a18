//! What is seen of the marks file: that it is not saved, and that something was set aside of it.

use iced::{Element, widget::column};

use crate::window::{
    controls::quiet_button,
    keymap::{self, ClipCommand, Work},
    screens::clip::{Clip, Message},
    theme::{self, size, text},
};

impl Clip {
    /// The signs of the marks file. No key takes away the one that it is not saved, only a save does.
    pub(crate) fn file_signs(&self) -> Option<Element<'_, Message>> {
        let path = self.session.path().filter(|_| self.session.is_dirty());
        let unsaved = path.and_then(|path| self.disk.sign(path));
        let unsaved = unsaved.map(|sign| text(sign).style(theme::ink(theme::INK_MISSED)));
        let unsaved = unsaved.map(|sign| sign.size(size::SMALL).into());
        let open = self.session.open_asides();
        let list = ClipCommand::Work(Work::Aside);
        let aside = (open > 0).then(|| {
            let label =
                format!("Set aside of these marks: {open}. List ({})", keymap::key_of(list));
            quiet_button(label, Message::Asked(list))
        });
        let signs: Vec<Element<'_, Message>> = unsaved.into_iter().chain(aside).collect();
        (!signs.is_empty()).then(|| column(signs).spacing(theme::space::TIGHT).into())
    }
}
