//! Draws the wall.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{Column, Id, center, column, container, responsive, row, scrollable, space},
};

use crate::{
    units::counted,
    window::{
        controls::{button, quiet_button},
        keymap::{self, LibraryCommand},
        theme::{self, Current, size, text},
        typing,
    },
};

use super::{
    message::Message,
    room::Room,
    screen::{Library, WALL},
    together, words,
};

impl Library {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let page = if let Some(record) = &self.record {
            column![record.view().map(Message::Record)]
        } else if let Some(asked) = &self.erasing {
            column![asked.view()]
        } else if let Some(hand) = &self.handing {
            column![hand.view()]
        } else if let Some(take) = &self.taking {
            column![take.view()]
        } else if let Some(page) = &self.page {
            column![together::view(page)]
        } else if let Some(judges) = &self.judges {
            column![judges.view()]
        } else {
            column![self.head(), self.wall(), self.foot()]
        };
        let page = page.spacing(theme::space::MIDDLE);
        container(page)
            .padding(theme::space::LARGE)
            .width(Length::Fill)
            .height(Length::Fill)
            .style(theme::sheet)
            .into()
    }

    fn head(&self) -> Element<'_, Message> {
        let name = text("Library").size(size::LEAD).font(theme::STRONG);
        let found = self.found.as_ref().filter(|_| !self.is_bare());
        let found =
            found.map(|found| quiet(format!("{} found", counted(found.all as usize, "routine"))));
        let due = self.found.as_ref().map(|found| found.due).filter(|due| *due > 0);
        let due = due.map(|due| {
            let label = format!("! {} to be deleted", counted(due, "clip"));
            quiet_button(label, Message::SearchPressed("due".to_owned()))
        });
        let leave = keyed("Close", LibraryCommand::Leave);
        let title = row![name]
            .push(found)
            .push(space().width(Length::Fill))
            .push(due)
            .extend(self.whole())
            .push(quiet_button(leave, Message::Asked(LibraryCommand::Leave)))
            .spacing(theme::space::MIDDLE)
            .align_y(Alignment::Center);
        let current = Current::from(self.chosen.is_none() && self.asking.is_none());
        let hint = "Search: event bars cast within 5 of horizontal";
        let field = typing::field(&self.query, hint, current, Message::Typed);
        let search = button(text(keyed("Search", LibraryCommand::GoOn)))
            .style(theme::main_button)
            .on_press(Message::Asked(LibraryCommand::GoOn));
        let line = row![field, search].spacing(theme::space::SMALL).align_y(Alignment::Center);
        let mut head = column![title, line].spacing(theme::space::SMALL);
        if let Some(fault) = &self.fault {
            head = head.push(complaint(fault));
        }
        let offers = self.offers();
        if offers.is_empty() {
            head.push(self.form()).into()
        } else {
            let key = quiet(format!("{}:", keymap::key_of(LibraryCommand::Complete)));
            let offers =
                offers.into_iter().map(|name| quiet_button(name.clone(), Message::Offered(name)));
            let offers = row![key].extend(offers).spacing(theme::space::TIGHT);
            head.push(offers.align_y(Alignment::Center)).into()
        }
    }

    /// What is done with the library as a whole.
    fn whole(&self) -> impl Iterator<Item = Element<'_, Message>> {
        let all = [
            ("Take a folder in", LibraryCommand::AddFolder),
            ("Take a bundle in", LibraryCommand::TakeBundle),
            ("Look again", LibraryCommand::LookAgain),
            ("Withdraw an athlete", LibraryCommand::Withdraw),
        ];
        let fits = |(_, command): &(&str, LibraryCommand)| {
            !self.is_bare() || *command == LibraryCommand::AddFolder
        };
        let all = all.into_iter().filter(fits);
        all.map(|(label, command)| quiet_button(keyed(label, command), asked(command)))
    }

    /// Whether the library has no folder yet.
    pub(super) fn is_bare(&self) -> bool {
        self.found.as_ref().is_none_or(|found| found.folders.is_empty())
    }

    /// Buttons that write the words of a search.
    fn form(&self) -> Element<'_, Message> {
        let Some(found) = self.found.as_ref().filter(|_| !self.is_bare()) else {
            return space().into();
        };
        let of = |what: &str, ids: &[String]| -> Vec<String> {
            ids.iter().map(|id| format!("{what} {id}")).collect()
        };
        let events = of("event", self.known.after("event"));
        let divisions = of("division", self.known.after("division"));
        let flags = ["not marked", "agreed", "close", "void"].map(str::to_owned).to_vec();
        let mut buttons = row![].spacing(theme::space::TIGHT).align_y(Alignment::Center);
        for (conditions, alone) in [(&events, true), (&divisions, true), (&flags, false)] {
            for condition in conditions {
                let others = if alone { conditions.clone() } else { Vec::new() };
                let is_in = words::has(&self.searched, condition);
                let label = if is_in { format!("✓ {condition}") } else { condition.clone() };
                let pressed = Message::Turned(condition.clone(), others);
                buttons = buttons.push(quiet_button(label, pressed));
            }
            buttons = buttons.push(space().width(theme::space::SMALL));
        }
        for (name, words) in &found.searches {
            let pressed = Message::SearchPressed(words.clone());
            buttons = buttons.push(quiet_button(format!("★ {name}"), pressed));
        }
        buttons.wrap().into()
    }

    fn wall(&self) -> Element<'_, Message> {
        match &self.found {
            Some(found) if found.folders.is_empty() => empty(
                "No folder of clips is in the library yet.",
                "Take one in: clips, marks and records stay where they are.",
                Some(("Take a folder in", LibraryCommand::AddFolder)),
            ),
            Some(found) if found.all == 0 && self.searched.is_empty() => empty(
                "There is no clip in the library's folders.",
                "Copy clips into one of them, then look again.",
                Some(("Look again", LibraryCommand::LookAgain)),
            ),
            Some(found) if found.all == 0 => empty(
                "Nothing is found by these words.",
                "Take a word out, or search for another.",
                None,
            ),
            Some(found) => self.tiles(found.all),
            None => empty("Opening the library …", "", None),
        }
    }

    fn tiles(&self, all: u32) -> Element<'_, Message> {
        responsive(move |area| {
            let room = Room::of(area);
            self.room.set(room);
            let (columns, height) = (room.columns, room.row);
            let rows = all.div_ceil(columns);
            let [from, to] = self.in_sight().map(|place| (place / columns).min(rows));
            // Only what is in sight is built; the rest is room.
            let mut wall = Column::new().push(space().height(from as f32 * height));
            for line in from..to {
                let tiles = line * columns..((line + 1) * columns).min(all);
                let missing = columns - (tiles.end - tiles.start);
                let line = row(tiles.map(|place| self.tile_view(place)))
                    .extend((0..missing).map(|_| space().width(Length::Fill).into()))
                    .spacing(theme::space::MIDDLE)
                    .height(height);
                wall = wall.push(line);
            }
            let wall = wall.push(space().height((rows - to) as f32 * height)).width(Length::Fill);
            // The lane of the scroller lies beside the tiles.
            let wall = container(wall).padding(Padding::ZERO.right(theme::space::LARGE));
            scrollable(wall)
                .id(Id::new(WALL))
                .width(Length::Fill)
                .height(Length::Fill)
                .on_scroll(Message::Scrolled)
                .style(theme::lane)
                .into()
        })
        .into()
    }
}

pub(super) const fn asked(command: LibraryCommand) -> Message {
    Message::Asked(command)
}

pub(super) fn keyed(label: &str, command: LibraryCommand) -> String {
    format!("{label} ({})", keymap::key_of(command))
}

pub(crate) fn quiet<'a>(said: String) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}

fn complaint(said: &str) -> Element<'_, Message> {
    let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
    row![sign, text(said).width(Length::Fill)].spacing(theme::space::SMALL).into()
}

/// What stands in the place of tiles.
fn empty<'a>(
    said: &'a str,
    then: &'a str,
    does: Option<(&str, LibraryCommand)>,
) -> Element<'a, Message> {
    let does = does.map(|(label, command)| {
        button(text(keyed(label, command)))
            .padding([theme::space::SMALL, theme::space::MIDDLE])
            .style(theme::main_button)
            .on_press(asked(command))
    });
    let said = column![text(said).size(size::LEAD), quiet(then.to_owned())]
        .push(does)
        .spacing(theme::space::MIDDLE)
        .align_x(Alignment::Center);
    center(said).into()
}
