//! Draws the form of one row.

use iced::{
    Element, Length, Padding,
    widget::{column, container, row, scrollable},
};

use super::{
    fields::{self, Way, in_words},
    message::Message,
    screen::{BookForms, Writing},
};
use crate::{
    rulebook::{RowAt, TABLES, rows::Field},
    window::{
        controls::{button, quiet_button},
        theme::{self, Current, part, size, text},
        typing,
    },
};

impl BookForms {
    /// Draws the row that is looked at.
    pub(super) fn form(&self) -> Element<'_, Message> {
        let place = self.row();
        let spec = TABLES.iter().find(|spec| spec.key == self.table);
        let help = text(spec.map_or("", |spec| spec.help)).style(theme::ink(theme::INK_QUIET));
        let count = self.book.draft.count(self.table);
        let title = if count == 0 { in_words(self.table) } else { self.title_of(&place) };
        let mut head = row![text(title).size(size::LEAD).font(theme::STRONG).width(Length::Fill)]
            .spacing(theme::space::SMALL);
        if !self.is_single() {
            if self.table == "element" {
                head = head.push(quiet_button("Paste rows …", Message::PasteAsked));
            }
            if self.at > 0 {
                head = head.push(quiet_button("Up", Message::Raise));
            }
            if count > 0 {
                head = head.push(quiet_button("Remove", Message::Remove(place.clone())));
            }
            head = head.push(quiet_button("Add (Ctrl N)", Message::Add));
        }
        let mut form = column![head, help].spacing(theme::space::MIDDLE);
        if count == 0 {
            let none = text("There is none yet.").style(theme::ink(theme::INK_QUIET));
            form = form.push(none);
        } else {
            form = form.push(self.row_of(&place));
        }
        let form = container(form).padding([theme::space::MIDDLE, theme::space::LARGE]);
        scrollable(form).height(Length::Fill).style(theme::lane).into()
    }

    fn row_of(&self, place: &RowAt) -> Element<'_, Message> {
        let writing = self.writing.as_ref().filter(|it| it.place == *place);
        let asked = self.asked.as_ref().filter(|it| it.0 == *place);
        let open = writing.map(|it| it.field.key).or(asked.map(|it| it.1));
        let (shown, more) = fields::shown(&self.book.draft, place, open);
        let mut lines = column![].spacing(theme::space::MIDDLE);
        for field in shown {
            lines = lines.push(self.field(place, field));
        }
        if !more.is_empty() {
            let label = text("More:").size(size::SMALL).style(theme::ink(theme::INK_QUIET));
            let buttons = more.into_iter().map(|field| {
                let message = match fields::way(field, &self.reading.known) {
                    Way::Rows { .. } => Message::AddInside(place.clone(), field.key),
                    _ => Message::Field(place.clone(), field.key),
                };
                quiet_button(in_words(field.key), message)
            });
            let buttons = row![label].extend(buttons).spacing(theme::space::TIGHT).wrap();
            lines = lines.push(buttons);
        }
        lines.into()
    }

    fn field(&self, place: &RowAt, field: &'static Field) -> Element<'_, Message> {
        let label = text(in_words(field.key)).width(part::LABEL);
        let way = fields::way(field, &self.reading.known);
        let written = self.book.draft.written(place, field.key);
        let writing =
            self.writing.as_ref().filter(|it| it.place == *place && it.field.key == field.key);
        let body: Element<'_, Message> = match (way, writing) {
            (Way::Rows { many }, _) => self.rows_of(place, field, many),
            (_, Some(writing)) => self.written(writing),
            (Way::One(words) | Way::Some(words), None) => {
                let chosen: Vec<&str> = written.split(", ").collect();
                let buttons = words.into_iter().map(|word| {
                    let is_chosen = chosen.contains(&word.as_str());
                    let label = match (is_chosen, word.as_str()) {
                        (_, "true") => "yes".to_owned(),
                        (_, "false") => "no".to_owned(),
                        _ => word.clone(),
                    };
                    let label = if is_chosen { format!("✓ {label}") } else { label };
                    quiet_button(label, Message::Picked(place.clone(), field.key, word))
                });
                row(buttons).spacing(theme::space::TIGHT).wrap().into()
            }
            (Way::Written, None) => {
                let shown = if written.is_empty() { " ".to_owned() } else { written };
                button(text(shown))
                    .width(Length::Fill)
                    .padding(theme::space::SMALL)
                    .style(theme::other_button)
                    .on_press(Message::Field(place.clone(), field.key))
                    .into()
            }
        };
        let told = self
            .reading
            .told
            .iter()
            .filter(|told| told.place.as_ref() == Some(place) && told.key == Some(field.key));
        let told = told.map(|told| {
            let said = format!(
                "{} {}: {}",
                if told.is_error { "✗" } else { "!" },
                told.message,
                told.remedy
            );
            let tint = if told.is_error { theme::INK_MISSED } else { theme::INK_OPEN };
            text(said).size(size::SMALL).style(theme::ink(tint)).into()
        });
        let help = text(field.help).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
        let body = column![body].extend(told).push(help).spacing(theme::space::HAIR);
        row![label, body.width(Length::Fill)].spacing(theme::space::SMALL).into()
    }

    fn written<'a>(&'a self, writing: &'a Writing) -> Element<'a, Message> {
        let hint = "Enter goes on, Esc leaves it as it was";
        let mut body = column![typing::field(&writing.line, hint, Current::Yes, Message::Typed)]
            .spacing(theme::space::TIGHT);
        let offers = fields::offers(writing.field, writing.line.text(), &self.reading.known);
        if !offers.is_empty() {
            let offers =
                offers.into_iter().map(|name| quiet_button(name.clone(), Message::Offered(name)));
            body = body.push(row(offers).spacing(theme::space::TIGHT).wrap());
        }
        if let Some(why) = &writing.refused {
            let why =
                text(format!("✗ {why}")).size(size::SMALL).style(theme::ink(theme::INK_MISSED));
            body = body.push(why);
        }
        body.into()
    }

    /// Draws the rows inside a row, each with its own fields.
    fn rows_of(&self, place: &RowAt, field: &'static Field, many: bool) -> Element<'_, Message> {
        let count = self.book.draft.count_inside(place, field.key);
        let mut rows = column![].spacing(theme::space::SMALL);
        for at in 0..count {
            let inner = place.inside(field.key, at);
            let remove = quiet_button("Remove", Message::Remove(inner.clone()));
            let body = column![self.row_of(&inner), remove].spacing(theme::space::SMALL);
            let padding = Padding::new(theme::space::SMALL);
            rows = rows
                .push(container(body).padding(padding).width(Length::Fill).style(theme::offers));
        }
        if many || count == 0 {
            rows = rows.push(quiet_button("Add one", Message::AddInside(place.clone(), field.key)));
        }
        rows.into()
    }
}
