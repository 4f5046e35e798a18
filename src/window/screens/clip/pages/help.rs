//! Every command with its keys, made of the keymap: found by a part of its name, done by a press.

use iced::{
    Alignment, Element, Length, Padding,
    keyboard::{Event, Key, key::Named},
    widget::{Column, column, container, row, scrollable},
};

use crate::window::{
    controls::button,
    keymap::{self, ClipCommand, Group, Known, Steady},
    screens::clip::{Action, Clip, Dialogue, Message},
    theme::{self, Current, size, text},
    typing::{self, Typed},
};

use super::{find::Find, reference::SHEET};

/// Width of the column of keys.
const KEYS: f32 = 150.0;
/// Width of the whole sheet.
const WIDTH: f32 = 860.0;

impl Clip {
    /// Shows all commands, or closes them.
    pub(crate) fn toggle_help(&mut self) -> Action {
        self.dialogue = match self.dialogue {
            Dialogue::Help(_) => Dialogue::None,
            _ => Dialogue::Help(Find::default()),
        };
        Action::None
    }

    /// Returns whether a command can be done now: while points are placed only a few can.
    fn may(&self, command: ClipCommand) -> bool {
        self.mode.placing().is_none() || command.stays()
    }

    pub(crate) fn key_in_help(&mut self, event: &Event) -> Action {
        let Dialogue::Help(find) = &self.dialogue else { return Action::None };
        let is_blank = find.line.text().is_empty();
        let named = match event {
            Event::KeyPressed { key: Key::Named(named), .. } => Some(*named),
            _ => None,
        };
        match (keymap::on_clip(event), named) {
            (_, Some(Named::Enter)) => {
                let mut fitting =
                    Group::ALL.into_iter().flat_map(|group| find.fitting(group, |it| self.may(it)));
                let first = fitting.find_map(|known| known.command);
                match first.filter(|_| !is_blank) {
                    Some(command) => self.found(command),
                    None => Action::None,
                }
            }
            (_, Some(Named::ArrowDown | Named::ArrowUp | Named::PageDown | Named::PageUp)) => {
                self.key_over_page(event)
            }
            (Some(ClipCommand::Steady(Steady::Leave)), _) => self.leave(),
            (Some(ClipCommand::Steady(Steady::Help)), _) if is_blank || named.is_some() => {
                self.toggle_help()
            }
            _ => typing::typed(event).map_or(Action::None, |typed| self.typed(typed)),
        }
    }

    pub(crate) fn typed_in_help(&mut self, typed: &Typed) -> Action {
        let Dialogue::Help(find) = &mut self.dialogue else { return Action::None };
        Action::Run(find.line.take(typed).task(Message::Typed))
    }

    /// Does what was found.
    pub(crate) fn found(&mut self, command: ClipCommand) -> Action {
        self.dialogue = Dialogue::None;
        self.command(command)
    }

    /// Draws all commands that fit.
    pub(crate) fn view_help<'a>(&'a self, find: &'a Find) -> Element<'a, Message> {
        let groups = |groups: &mut dyn Iterator<Item = Group>| {
            let of = groups.map(|it| (it, find.fitting(it, |command| self.may(command))));
            let of = of.filter(|(_, known)| !known.is_empty());
            let of = of.map(|(it, known)| group(it, known).into());
            column(of).spacing(theme::space::LARGE).width(Length::Fill)
        };
        let columns = if find.line.text().trim().is_empty() {
            row![groups(&mut LEFT.into_iter()), groups(&mut RIGHT.into_iter())]
        } else {
            row![groups(&mut Group::ALL.into_iter())]
        };
        let columns = columns.spacing(theme::space::WIDE);
        let columns = container(columns).padding(Padding::ZERO.right(theme::space::LARGE));
        let head = row![
            text("All commands").size(size::LEAD).font(theme::STRONG).width(Length::Fill),
            button("Close (Esc)")
                .style(theme::other_button)
                .on_press(Message::Asked(ClipCommand::Steady(Steady::Leave))),
        ]
        .align_y(Alignment::Center);
        let hint = "part of what you want to do; Enter does the first";
        let field = typing::field(&find.line, hint, Current::Yes, Message::Typed);
        container(
            column![head, field, scrollable(columns).id(SHEET).style(theme::lane)]
                .spacing(theme::space::MIDDLE),
        )
        .width(WIDTH)
        .padding(theme::space::LARGE)
        .style(theme::sheet)
        .into()
    }
}

const LEFT: [Group; 6] =
    [Group::Clip, Group::Moments, Group::Points, Group::Aside, Group::Program, Group::Library];
const RIGHT: [Group; 7] = [
    Group::Paper,
    Group::Routine,
    Group::Picture,
    Group::Pair,
    Group::Practice,
    Group::Start,
    Group::Erase,
];

fn group<'a>(group: Group, known: Vec<Known>) -> Column<'a, Message> {
    let heading = text(group.title())
        .size(size::SMALL)
        .font(theme::STRONG)
        .style(theme::ink(theme::INK_QUIET));
    column![heading].extend(known.into_iter().map(line)).spacing(theme::space::HAIR)
}

fn line<'a>(known: Known) -> Element<'a, Message> {
    let cap = |key: String| {
        container(text(key).size(size::SMALL))
            .padding([0.0, theme::space::SMALL])
            .style(theme::key_cap)
            .into()
    };
    let keys = row(known.keys.into_iter().map(cap)).spacing(theme::space::TIGHT);
    let line = row![container(keys).width(KEYS), text(known.says).width(Length::Fill)]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center);
    let padding = [theme::space::HAIR, theme::space::TIGHT];
    match known.command {
        Some(command) => button(line)
            .width(Length::Fill)
            .padding(padding)
            .style(theme::paper_line(Current::No))
            .on_press(Message::Found(command))
            .into(),
        None => container(line).padding(padding).into(),
    }
}
