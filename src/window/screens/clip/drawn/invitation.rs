//! What the paper says before anything is marked: what to do first.

use iced::{Element, widget::column};

use crate::window::{
    keymap::{self, ClipCommand, Work},
    screens::clip::Message,
    theme::{self, size, text},
    write::moments::Moment,
};

/// Returns the invitation; `event` is what is judged, where that is set.
pub(super) fn invitation<'a>(event: Option<&str>) -> Element<'a, Message> {
    let (title, first) = match event {
        None => (
            "Nothing is written yet",
            "Watch the clip as long as you like: → and ← step one frame, Space plays. When you see \
             something, press Enter and write it."
                .to_owned(),
        ),
        Some(event) => ("Ready for the first mark", first(event)),
    };
    let then = event.map(|_| {
        let guide = keymap::key_of(ClipCommand::Work(Work::Walk));
        let said = format!(
            "The score sheet comes with it. Press {guide} to go through what the rules look at."
        );
        text(said).style(theme::ink(theme::INK_QUIET))
    });
    column![text(title).size(size::LEAD), text(first).style(theme::ink(theme::INK_QUIET))]
        .push(then)
        .spacing(theme::space::SMALL)
        .into()
}

/// A vault is told by its moments, everything else by its elements.
fn first(event: &str) -> String {
    if Moment::of_event(event).first() == Some(&Moment::Contact) {
        let key = keymap::key_of(ClipCommand::Work(Work::Put(Moment::Contact)));
        return format!("Go to the frame where the hands touch and press {key}.");
    }
    "Go to the frame where an element begins, press Enter and write part of its name.".to_owned()
}
