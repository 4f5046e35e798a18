//! Draws one tile of the wall.

use iced::{
    ContentFit, Element, Length,
    widget::{center, column, container, image, row, tooltip},
};

use crate::{
    library::Hit,
    window::theme::{self, Current, part, size, text},
};

use super::{
    message::Message,
    room::UNDER,
    screen::Library,
    tile::{Seen, Tile},
    view::quiet,
};
use crate::window::controls::button;

impl Library {
    pub(crate) fn tile_view(&self, place: u32) -> Element<'_, Message> {
        let row_height = self.room.get().row;
        let height = row_height - UNDER;
        let Some(tile) = self.tile(place) else {
            return container(quiet("…".to_owned())).width(Length::Fill).height(height).into();
        };
        let seen = self.seen(tile);
        let picture: Element<'_, Message> = match seen {
            Some(Seen { thumb: Some(handle), .. }) => image(handle.clone())
                .width(Length::Fill)
                .height(height)
                .content_fit(ContentFit::Contain)
                .into(),
            Some(Seen { trouble: Some((word, why)), .. }) => {
                let word = center(quiet(format!("no picture: {word}"))).height(height);
                tooltip(word, in_full(why.clone()), tooltip::Position::Bottom).into()
            }
            Some(_) => center(quiet("no picture".to_owned())).height(height).into(),
            None => center(quiet("…".to_owned())).height(height).into(),
        };
        let picture = container(picture).width(Length::Fill).clip(true).style(theme::stage);
        let words = column![
            one_line(tile.name()).size(size::SMALL).font(theme::STRONG),
            one_line(what(&tile.hit)).size(size::SMALL),
            state(tile, seen),
        ]
        .spacing(theme::space::HAIR);
        let body = column![picture, words].spacing(theme::space::TIGHT);
        button(body)
            .width(Length::Fill)
            .height(row_height - theme::space::MIDDLE)
            .padding(theme::space::TIGHT)
            .clip(true)
            .style(theme::paper_line(Current::from(self.chosen == Some(place))))
            .on_press(Message::TilePressed(place))
            .into()
    }
}

/// Event, division, athlete and day, or that nobody marked it yet.
fn what(hit: &Hit) -> String {
    if hit.marks.is_none() {
        return "not marked yet".to_owned();
    }
    let parts = [&hit.event, &hit.division, &hit.athlete, &hit.date];
    parts.into_iter().filter(|part| !part.is_empty()).cloned().collect::<Vec<_>>().join(" · ")
}

/// Score and what is to be minded, by sign and word.
fn state<'a>(tile: &'a Tile, seen: Option<&'a Seen>) -> Element<'a, Message> {
    let hit = &tile.hit;
    let mut said = row![].spacing(theme::space::SMALL);
    if hit.marks.is_some() {
        let score = match (hit.void, hit.score) {
            _ if !hit.watched => "nobody watched it yet".to_owned(),
            (true, _) => "void".to_owned(),
            (false, Some(score)) => hit.range.words(Some(score)),
            (false, None) if hit.unscored.is_empty() => "not scored".to_owned(),
            (false, None) => "! not scored".to_owned(),
        };
        let score = text(score).size(size::SMALL).font(theme::STRONG);
        said = if hit.unscored.is_empty() {
            said.push(score)
        } else {
            let score = score.style(theme::ink(theme::INK_MISSED));
            said.push(tooltip(score, in_full(hit.unscored.clone()), tooltip::Position::Bottom))
        };
        said = said.push(mark(&hit.judge, theme::INK_QUIET));
    }
    if hit.agreed {
        said = said.push(mark("✓ agreed", theme::INK_MET));
    } else if hit.reference {
        said = said.push(mark("✓ reference", theme::INK_MET));
    }
    if hit.close > 0 {
        said = said.push(mark("… close", theme::INK_OPEN));
    }
    if hit.clip.is_none() {
        return said.push(mark("○ clip not there", theme::INK_OPEN)).into();
    }
    if hit.away {
        return said.push(mark("○ out of reach", theme::INK_OPEN)).into();
    }
    let against = seen.and_then(|seen| seen.against.as_ref());
    let Some((word, why)) = against else { return said.into() };
    let word = text(format!("! {word}"))
        .size(size::SMALL)
        .style(theme::ink(theme::INK_MISSED))
        .wrapping(text::Wrapping::None);
    let why = in_full(format!("Not in sets: {why}"));
    said.push(tooltip(word, why, tooltip::Position::Bottom)).into()
}

/// What stands under a word that is pointed at.
fn in_full<'a>(why: String) -> container::Container<'a, Message> {
    container(text(why).size(size::SMALL))
        .max_width(part::PAPER)
        .padding(theme::space::SMALL)
        .style(theme::offers)
}

fn mark(said: &str, tint: theme::Tint) -> Element<'_, Message> {
    text(said).size(size::SMALL).style(theme::ink(tint)).wrapping(text::Wrapping::None).into()
}

fn one_line<'a>(said: String) -> text::Text<'a> {
    text(said).wrapping(text::Wrapping::None)
}
