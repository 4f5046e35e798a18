//! Draws one that was set aside beside the marks.

use iced::{
    Alignment, Element, Length, Padding, Theme,
    widget::{column, container, row, rule, scrollable, space},
};

use crate::{
    marks::{
        Aside,
        merge::{Conflict, JoinedSlot, Merged, Slot, Thing},
    },
    window::{
        controls::{button, quiet_button},
        keymap::{self, AsideCommand},
        screens::clip::Message,
        theme::{self, Current, part, size, text},
    },
};

use super::words;

/// Width of the column of buttons, in logical pixels.
const BUTTON: f32 = 120.0;

/// Draws it.
pub(super) fn view(aside: &Aside, line: usize) -> Element<'_, Message> {
    let heading = text(words::title(aside.kind)).size(size::LEAD).font(theme::STRONG);
    let facts = quiet(format!("{} · {}", words::when(aside.written), aside.holds));
    let beyond = text(words::beyond(aside));
    let head = column![heading, facts, beyond].spacing(theme::space::HAIR);
    let body = match &aside.beyond {
        Ok(merged) => both(merged, line),
        Err(why) => text(why.to_string()).into(),
    };
    let path = quiet(format!("Kept in {}", aside.path.display()));
    let sheet = column![head, body, path, foot(aside)].spacing(theme::space::MIDDLE);
    container(sheet).width(part::PAGE).padding(theme::space::LARGE).style(theme::sheet).into()
}

/// What differs and what is only there, the marks on the left.
fn both(merged: &Merged, picked: usize) -> Element<'_, Message> {
    let head = |label| cell(label).size(size::SMALL).font(theme::STRONG);
    let heads = line(head("In the marks"), head("Set aside"), None);
    let heads = container(heads).padding([0.0, theme::space::SMALL]);
    let differs = merged.conflicts.iter().enumerate();
    let differs = differs.map(|(place, conflict)| differing(conflict, place, place == picked));
    let only = merged.joined.iter().map(only_there);
    let lines = column(differs.chain(only)).spacing(theme::space::HAIR);
    let beside_lane = Padding::ZERO.right(theme::space::LARGE);
    let lines = container(lines).padding(beside_lane);
    let rule = rule::horizontal(1).style(theme::divider);
    column![container(heads).padding(beside_lane), rule, scrollable(lines).style(theme::lane)]
        .spacing(theme::space::TIGHT)
        .into()
}

/// Both sides of a line, and room for its button.
fn line<'a>(
    here: text::Text<'a, Theme>,
    there: text::Text<'a, Theme>,
    button: Option<Element<'a, Message>>,
) -> Element<'a, Message> {
    let button = container(row![].push(button)).width(BUTTON).align_x(Alignment::End);
    row![here, there, button].spacing(theme::space::MIDDLE).align_y(Alignment::Center).into()
}

fn cell<'a>(said: impl text::IntoFragment<'a>) -> text::Text<'a, Theme> {
    text(said).width(Length::FillPortion(1))
}

fn differing(conflict: &Conflict, place: usize, is_picked: bool) -> Element<'_, Message> {
    let before = conflict.before.as_ref().map(|before| quiet(format!("before: {before}")));
    let label = if is_picked {
        format!("Take this ({})", keymap::key_of(AsideCommand::GoOn))
    } else {
        "Take this".to_owned()
    };
    let what = named(&conflict.slot).map(quiet);
    let take = quiet_button(label, Message::AsideTaken(place));
    let [ours, theirs] = [&conflict.ours, &conflict.theirs].map(|it| side(it.as_ref()));
    let sides = line(ours, theirs, Some(take));
    button(column![].push(what).push(sides).push(before).spacing(theme::space::HAIR))
        .width(Length::Fill)
        .padding([theme::space::TIGHT, theme::space::SMALL])
        .style(theme::paper_line(Current::from(is_picked)))
        .on_press(Message::AsidePressed(place))
        .into()
}

fn only_there(joined: &JoinedSlot) -> Element<'_, Message> {
    let there = joined.theirs.as_ref().map_or("taken away".to_owned(), told);
    let what = named(&joined.slot).map(quiet);
    let sides = line(side(joined.ours.as_ref()), cell(there), None);
    container(column![].push(what).push(sides))
        .width(Length::Fill)
        .padding([theme::space::TIGHT, theme::space::SMALL])
        .into()
}

fn side<'a>(thing: Option<&Thing>) -> text::Text<'a, Theme> {
    cell(thing.map_or("–".to_owned(), told))
}

fn told(thing: &Thing) -> String {
    thing.to_string()
}

/// Returns what a line is of, where that is no thing that says so itself.
fn named(slot: &Slot) -> Option<String> {
    match slot {
        Slot::Item(_) | Slot::Unfinished(_) | Slot::Plane(_) => None,
        Slot::Routine(_) | Slot::Fact(_) | Slot::Turn | Slot::Other(_) => Some(slot.to_string()),
    }
}

fn foot(aside: &Aside) -> Element<'_, Message> {
    let does = |label: &str, command: AsideCommand| {
        let label = format!("{label} ({})", keymap::key_of(command));
        (label, Message::AmongAsides(command))
    };
    let (take, taken) = does("Take all of it back", AsideCommand::TakeBack);
    let takes = aside.beyond.is_ok() && !aside.is_in_marks();
    let take = takes.then(|| button(text(take)).style(theme::main_button).on_press(taken));
    let (keep, kept) = does("Keep the marks as they are", AsideCommand::Keep);
    let keep = aside.has_more().then(|| quiet_button(keep, kept));
    let (back, left) = does("Back", AsideCommand::Leave);
    row![quiet("Undo takes out again what was taken back.".to_owned())]
        .push(space().width(Length::Fill))
        .push(keep)
        .push(quiet_button(back, left))
        .push(take)
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
}

pub(super) fn quiet<'a>(said: String) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
