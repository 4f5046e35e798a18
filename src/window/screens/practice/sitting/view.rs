//! Puts the sitting together: the picture on the left, the slip on the right.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row, rule, scrollable, space},
};

use crate::{
    practice::{
        set::{AnswerVerdict, Look},
        sitting::{Mode, SittingStage},
    },
    window::{
        controls::button,
        keymap::{self, SittingCommand},
        theme::{self, Current, Tint, part, size, text},
        typing,
    },
};

use super::{message::Message, sitter::Sitter, slip::Entry};

impl Sitter {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        if *self.sat.stage() == SittingStage::Done {
            return self.view_end();
        }
        if self.sat.mode() == Mode::Group {
            return self.view_group();
        }
        row![
            container(self.view_stage())
                .width(Length::Fill)
                .height(Length::Fill)
                .style(theme::stage),
            container(self.paper()).width(part::SLIP).height(Length::Fill).style(theme::paper),
        ]
        .into()
    }

    fn paper(&self) -> Element<'_, Message> {
        let (number, of) = self.sat.place();
        let about = self.sat.look().map(|look| self.about(look)).unwrap_or_default();
        let head = column![
            text(&self.set.title).size(size::LEAD).font(theme::STRONG),
            text(format!("Look {number} of {of} · {about} · {}", self.begun.person))
                .size(size::SMALL)
                .style(theme::ink(theme::INK_QUIET)),
        ]
        .padding(theme::space::MIDDLE);
        let body = match self.sat.question() {
            None => self.answers(),
            Some(_) => self.review(),
        };
        let body = container(body).padding(theme::space::MIDDLE).width(Length::Fill);
        let body = scrollable(body).height(Length::Fill).style(theme::lane);
        let line = || rule::horizontal(1).style(theme::divider);
        column![head, line(), body, line(), self.foot()].into()
    }

    /// Returns event and division of a look in words.
    pub(crate) fn about(&self, look: &Look) -> String {
        let event = self.book.event(&look.event).map_or(look.event.as_str(), |it| it.name.as_str());
        let division = self.book.division(&look.division);
        let division = division.map_or(look.division.as_str(), |it| it.name.as_str());
        format!("{event}, {division}")
    }

    /// The slip of a look.
    fn answers(&self) -> Element<'_, Message> {
        let entries = self.slip.entries().iter().enumerate();
        let entries = entries.map(|(place, entry)| self.entry(place, entry));
        column(entries).spacing(theme::space::LARGE).into()
    }

    fn entry<'a>(&'a self, place: usize, entry: &'a Entry) -> Element<'a, Message> {
        let is_current = self.is_written_in() && self.slip.question() == Some(place);
        let mut lines = column![
            text(&entry.asked).font(theme::STRONG),
            self.field(entry, Current::from(is_current)),
        ]
        .spacing(theme::space::TIGHT);
        if is_current {
            let offers = entry.offers().into_iter().map(|word| {
                let label = if word.shorthand.is_empty() {
                    word.name.clone()
                } else {
                    format!("{} ({})", word.name, word.shorthand)
                };
                small_button(label, Message::Named(word.id.clone()))
            });
            lines = lines.push(row(offers).spacing(theme::space::TIGHT).wrap());
        }
        let complaint = entry.complaint.as_ref().map(|why| {
            let ink = if is_current { theme::INK_OPEN } else { theme::INK_MISSED };
            text(why).size(size::SMALL).style(theme::ink(ink))
        });
        lines.push(complaint).into()
    }

    fn field<'a>(&'a self, entry: &'a Entry, current: Current) -> Element<'a, Message> {
        let Some(words) = entry.choices else {
            let pointed = |typed| Message::PointedAt(entry.first, typed);
            return typing::field(&entry.lines[0], entry.hint(), current, pointed);
        };
        let choices = words.iter().map(|word| {
            let is_chosen = entry.lines[0].text() == *word;
            let style = if is_chosen { theme::main_button } else { theme::other_button };
            let choice = button(text(*word))
                .padding([theme::space::TIGHT, theme::space::MIDDLE])
                .style(style);
            choice
                .on_press_maybe(self.is_written_in().then(|| Message::Chosen(entry.first, word)))
                .into()
        });
        container(row(choices).spacing(theme::space::SMALL).wrap())
            .padding(theme::space::TIGHT)
            .width(Length::Fill)
            .style(theme::own_field(current))
            .into()
    }

    /// One question after the answers were handed in: step by step down to the reference call.
    fn review(&self) -> Element<'_, Message> {
        let (Some(question), Some(entry), Some(look)) =
            (self.sat.question(), self.slip.entries().first(), self.sat.look())
        else {
            return space().into();
        };
        let place = look.questions.iter().position(|other| other == question).unwrap_or(0);
        let said = |answer: Option<&_>| {
            answer.map_or_else(|| "no answer".to_owned(), |answer| entry.words(answer))
        };
        let first = self.sat.answers().get(place).and_then(Option::as_ref);
        let heading = column![
            text(format!("Question {} of {}", place + 1, look.questions.len()))
                .size(size::SMALL)
                .style(theme::ink(theme::INK_QUIET)),
            text(&entry.asked).size(size::LEAD).font(theme::STRONG),
        ];
        let mut lines =
            column![heading, part_of("From one look", said(first))].spacing(theme::space::LARGE);
        let stage = self.sat.stage();
        let after = match stage {
            SittingStage::Still(_) => {
                column![quiet("After the still, if you see it otherwise"), self.entry_alone(entry)]
                    .spacing(theme::space::TIGHT)
                    .into()
            }
            _ => match self.sat.answer_after() {
                Some(answer) => part_of("After the still", said(Some(answer))),
                None => part_of("After the still", "as before".to_owned()),
            },
        };
        lines = lines.push(after);
        if matches!(stage, SittingStage::Line(_) | SittingStage::Reference(_)) {
            let told = [&question.line, &question.number].map(String::as_str);
            let told: Vec<&str> = told.into_iter().filter(|it| !it.is_empty()).collect();
            let told =
                if told.is_empty() { "none in this set".to_owned() } else { told.join(": ") };
            lines = lines.push(part_of("Line and number", told));
        }
        if matches!(stage, SittingStage::Reference(_)) {
            let call = question.reference.as_ref();
            let call = call.map_or_else(|| "none yet".to_owned(), |call| entry.words(call));
            let why = (!question.why.is_empty()).then(|| text(&question.why));
            lines = lines.push(part_of("Reference call", call)).push(why);
            let (sign, ink) = sign_of(question.verdict(first));
            let verdict = question.verdict(first).words();
            lines = lines.push(
                row![
                    text(sign).font(theme::STRONG).style(theme::ink(ink)),
                    text(verdict).style(theme::ink(ink)),
                ]
                .spacing(theme::space::SMALL),
            );
        }
        lines.into()
    }

    fn entry_alone<'a>(&'a self, entry: &'a Entry) -> Element<'a, Message> {
        let complaint = entry.complaint.as_ref();
        let complaint =
            complaint.map(|why| text(why).size(size::SMALL).style(theme::ink(theme::INK_MISSED)));
        column![self.field(entry, Current::Yes)].push(complaint).into()
    }

    fn foot(&self) -> Element<'_, Message> {
        let mut foot = column![].spacing(theme::space::SMALL).padding(theme::space::MIDDLE);
        for said in [self.keep.trouble(), self.complaint.as_deref()].into_iter().flatten() {
            let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
            let said = row![sign, text(said).width(Length::Fill)].spacing(theme::space::SMALL);
            let said = container(said).padding(theme::space::SMALL).style(theme::complaint);
            foot = foot.push(said);
        }
        let (label, command) = self.next();
        let can = command.is_some();
        let next = button(text(label)).style(theme::main_button);
        let next = next.on_press_maybe(command.map(Message::Asked));
        let hint = self.hint();
        let hint = text(hint).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
        let leave = button("Stop").style(theme::other_button);
        let buttons = row![
            container(hint).width(Length::Fill),
            leave.on_press(Message::Asked(SittingCommand::Leave)),
            if self.slip.is_at_end() && can && self.sat.question().is_none() {
                container(next).padding(theme::space::HAIR).style(theme::own_field(Current::Yes))
            } else {
                container(next)
            },
        ]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center);
        foot.push(buttons).into()
    }

    /// Returns the one thing to do next.
    pub(crate) fn next(&self) -> (String, Option<SittingCommand>) {
        use super::shown::Shown;
        let go_on = |label: &str| {
            (
                format!("{label} ({})", keymap::key_of(SittingCommand::GoOn)),
                Some(SittingCommand::GoOn),
            )
        };
        if self.keep.is_refused() {
            return go_on("Try again");
        }
        match (self.sat.stage(), &self.shown) {
            (SittingStage::Cue, Shown::Getting(proved)) => (proved.words(), None),
            (SittingStage::Cue, Shown::There(_)) => go_on("Look"),
            (SittingStage::Cue, Shown::Not(_)) => go_on("Pass over it"),
            (SittingStage::Looking, _) => ("Hand in".to_owned(), None),
            (SittingStage::Answering { .. }, _) => {
                let key = keymap::key_of(SittingCommand::HandIn);
                let of = self.slip.len();
                let label = format!("Hand in {} of {of} ({key})", self.slip.answered());
                (label, Some(SittingCommand::HandIn))
            }
            (SittingStage::Still(_) | SittingStage::Line(_) | SittingStage::Reference(_), _) => {
                go_on("Go on")
            }
            _ => ("Writing …".to_owned(), None),
        }
    }

    fn hint(&self) -> &'static str {
        match (self.sat.stage(), self.sat.mode()) {
            (SittingStage::Looking | SittingStage::Answering { .. }, Mode::Person) => {
                "Enter next answer"
            }
            _ => "",
        }
    }
}

/// Returns the sign and the ink of a verdict.
pub(crate) fn sign_of(verdict: AnswerVerdict) -> (&'static str, Tint) {
    match verdict {
        AnswerVerdict::Right => ("✓", theme::INK_MET),
        AnswerVerdict::Wrong => ("✗", theme::INK_MISSED),
        AnswerVerdict::EitherWay => ("≈", theme::INK_OPEN),
        AnswerVerdict::Open => ("", theme::INK_QUIET),
    }
}

fn quiet(said: &str) -> Element<'_, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}

fn part_of(label: &str, said: String) -> Element<'_, Message> {
    column![quiet(label), text(said).size(size::LEAD)].spacing(theme::space::HAIR).into()
}

fn small_button<'a>(label: String, message: Message) -> Element<'a, Message> {
    button(text(label).size(size::SMALL))
        .padding([theme::space::HAIR, theme::space::SMALL])
        .style(theme::other_button)
        .on_press(message)
        .into()
}
