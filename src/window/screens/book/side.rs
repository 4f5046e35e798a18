//! Beside the form: the tables with their rows on one side, what is wrong and an example on the other.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row, scrollable, space},
};

use super::{
    fields::{in_words, tables},
    message::Message,
    screen::BookForms,
};
use crate::{
    rulebook::RowAt,
    units::{Points, counted},
    window::{
        controls::{button, quiet_button},
        theme::{self, Current, size, text},
    },
};

/// Keys by which a row is called, the best first.
const NAMES: [&str; 6] = ["name", "label", "title", "rule", "id", "formula"];

impl BookForms {
    /// Draws the tables.
    pub(super) fn tables(&self) -> Element<'_, Message> {
        let mut lines = column![].spacing(theme::space::HAIR);
        for spec in tables() {
            let count = self.book.draft.count(spec.key);
            let is_here = spec.key == self.table;
            let is_wrong = self.reading.told.iter().any(|told| {
                told.is_error && told.place.as_ref().is_some_and(|it| it.table == spec.key)
            });
            let sign = if is_wrong { "✗ " } else { "" };
            let counted = if count > 1 { count.to_string() } else { String::new() };
            let ink = if count == 0 { theme::INK_QUIET } else { theme::INK };
            let line = row![
                text(format!("{sign}{}", in_words(spec.key)))
                    .size(size::SMALL)
                    .style(theme::ink(ink))
                    .width(Length::Fill),
                text(counted).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
            ]
            .align_y(Alignment::Center);
            lines = lines.push(pressed(line, is_here, Message::Table(spec.key)));
        }
        scrollable(container(lines).padding(theme::space::SMALL)).style(theme::lane).into()
    }

    /// Draws the rows of the table that is looked at; nothing where it has one alone.
    pub(super) fn rows(&self) -> Option<Element<'_, Message>> {
        let count = self.book.draft.count(self.table);
        if self.is_single() || count == 0 {
            return None;
        }
        let rows = (0..count).map(|at| {
            let title = self.title_of(&RowAt::row(self.table, at));
            pressed(text(title).size(size::SMALL), at == self.at, Message::Row(at))
        });
        let rows = column(rows).spacing(theme::space::HAIR);
        let rows = container(rows).padding(theme::space::SMALL);
        Some(scrollable(rows).style(theme::lane).into())
    }

    /// Returns what a row is called.
    pub(super) fn title_of(&self, place: &RowAt) -> String {
        let written = |key: &str| self.book.draft.written(place, key);
        let name = NAMES.into_iter().map(written).find(|name| !name.is_empty());
        let scope = ["event", "events", "divisions"].into_iter().map(written);
        let scope = scope.filter(|part| !part.is_empty());
        let parts: Vec<String> = name.into_iter().chain(scope).collect();
        if parts.is_empty() {
            format!("{} {}", in_words(place.table), place.at + 1)
        } else {
            parts.join(" · ")
        }
    }

    /// Draws what is wrong with the book, and what an example comes to.
    pub(super) fn aside(&self) -> Element<'_, Message> {
        let column = column![self.view_example(), self.findings()].spacing(theme::space::LARGE);
        scrollable(container(column).padding(theme::space::MIDDLE)).style(theme::lane).into()
    }

    fn view_example(&self) -> Element<'_, Message> {
        let heading = text("An example").size(size::SMALL).font(theme::STRONG);
        let Some([event, division]) = self.example_of() else {
            let said = text("A score is shown here as soon as the book can be used.")
                .size(size::SMALL)
                .style(theme::ink(theme::INK_QUIET));
            return column![heading, said].spacing(theme::space::TIGHT).into();
        };
        let turns = row![
            quiet_button(event, Message::ExampleEvent),
            quiet_button(division, Message::ExampleDivision),
        ]
        .spacing(theme::space::TIGHT);
        let mut lines = column![heading, turns].spacing(theme::space::TIGHT);
        if let [Some(now), before] = &self.examples {
            let what = format!("{} once each, no deduction", counted(now.elements, "element"));
            lines = lines.push(text(what).size(size::SMALL).style(theme::ink(theme::INK_QUIET)));
            // As it is now where nothing was changed yet.
            let was = before.unwrap_or(*now);
            lines = lines.push(figure("Start value", [now.start, was.start]));
            lines = lines.push(figure("Score", [now.score, was.score]));
        }
        lines.into()
    }

    fn findings(&self) -> Element<'_, Message> {
        let told = &self.reading.told;
        let errors = told.iter().filter(|one| one.is_error).count();
        let said = match (errors, told.len()) {
            (0, 0) => "✓ The book can be used".to_owned(),
            (0, warnings) => {
                format!("✓ The book can be used; {} to look at", counted(warnings, "thing"))
            }
            (errors, _) => format!("✗ {} to mend before it can be used", counted(errors, "thing")),
        };
        let tint = if errors == 0 { theme::INK_MET } else { theme::INK_MISSED };
        let heading = text(said).font(theme::STRONG).style(theme::ink(tint));
        let lines = told.iter().enumerate().map(|(at, one)| {
            let sign = if one.is_error { "✗" } else { "!" };
            let place = one.place.as_ref().map(|place| in_words(place.table) + ": ");
            let message = format!("{sign} {}{}", place.unwrap_or_default(), one.message);
            let said = column![
                text(message).size(size::SMALL),
                text(&one.remedy).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
            ];
            pressed(said, false, Message::Told(at))
        });
        column![heading].extend(lines).spacing(theme::space::TIGHT).into()
    }
}

/// Draws a figure of the example, and what it was before the last change where that is another one.
fn figure(label: &str, [now, was]: [Option<Points>; 2]) -> Element<'_, Message> {
    let said = |points: Option<Points>| points.map_or("none".to_owned(), |it| it.to_string());
    let change = if was == now { String::new() } else { format!("was {}", said(was)) };
    row![
        text(label).width(Length::Fill),
        text(change).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        space().width(theme::space::SMALL),
        text(said(now)).font(theme::STRONG),
    ]
    .align_y(Alignment::Center)
    .into()
}

pub(super) fn pressed<'a>(
    content: impl Into<Element<'a, Message>>,
    is_current: bool,
    message: Message,
) -> Element<'a, Message> {
    button(content)
        .width(Length::Fill)
        .padding([theme::space::HAIR, theme::space::SMALL])
        .style(theme::paper_line(Current::from(is_current)))
        .on_press(message)
        .into()
}
