//! Under the wall: what was done last, and what can be done with the chosen clip and with all that is
//! found.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row},
};

use crate::{
    units::counted,
    window::{
        controls::{button, quiet_button},
        keymap::LibraryCommand,
        theme::{self, Current, part, size, text},
        typing,
    },
};

use super::{
    message::Message,
    screen::Library,
    view::{asked, keyed, quiet},
};

impl Library {
    pub(super) fn foot(&self) -> Element<'_, Message> {
        if let Some(asking) = &self.asking {
            let field =
                typing::field(&asking.line, asking.what.hint(), Current::Yes, Message::Typed);
            let so = button("OK (Enter)")
                .style(theme::main_button)
                .on_press(asked(LibraryCommand::GoOn));
            let not = quiet_button("Not now (Esc)", asked(LibraryCommand::Leave));
            return row![text(asking.what.says()), field, so, not]
                .spacing(theme::space::SMALL)
                .align_y(Alignment::Center)
                .into();
        }
        let said = match (&self.looking, &self.said) {
            (Some(looking), _) => looking.says(),
            (None, Some(said)) => said.clone(),
            (None, None) => String::new(),
        };
        let stop = self
            .looking
            .is_some()
            .then(|| quiet_button("Stop (Esc)", asked(LibraryCommand::Leave)));
        let sit = self.set.clone().map(|set| quiet_button("Sit the set", Message::SetPressed(set)));
        let said = row![container(quiet(said)).width(Length::Fill)]
            .push(stop)
            .push(sit)
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center);
        let groups = (!self.is_bare()).then(|| self.groups());
        column![said].push(groups).spacing(theme::space::SMALL).into()
    }

    fn groups(&self) -> Element<'_, Message> {
        let all = self.found.as_ref().map_or(0, |found| found.all);
        let found = format!("All found: {}", counted(all as usize, "routine"));
        let chosen = match self.chosen.and_then(|place| self.tile(place)) {
            Some(tile) => format!("Chosen: {}", tile.name()),
            None => "Chosen (↓): nothing".to_owned(),
        };
        let of_chosen = group(
            chosen,
            &[
                ("What is noted", LibraryCommand::Record),
                ("Judges", LibraryCommand::Judges),
                ("Hand out", LibraryCommand::HandOutChosen),
                ("Delete it", LibraryCommand::Delete),
            ],
        );
        let of_found = group(
            found,
            &[
                ("Keep the search", LibraryCommand::SaveSearch),
                ("Fill in", LibraryCommand::Assign),
                ("Make a set", LibraryCommand::MakeSet),
                ("Attempts", LibraryCommand::Attempts),
                ("Hand out", LibraryCommand::HandOutFound),
            ],
        );
        column![of_chosen, of_found].spacing(theme::space::TIGHT).into()
    }
}

/// What may be done with one thing.
fn group<'a>(of: String, does: &[(&str, LibraryCommand)]) -> Element<'a, Message> {
    let of = text(of)
        .size(size::SMALL)
        .style(theme::ink(theme::INK_QUIET))
        .wrapping(text::Wrapping::None);
    let does =
        does.iter().map(|(label, command)| quiet_button(keyed(label, *command), asked(*command)));
    let of = container(of).width(part::OF_GROUP).clip(true);
    row![of, row(does).spacing(theme::space::SMALL).wrap()]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
}
