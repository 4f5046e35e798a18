//! The sitting of a group: one thing at a time over the whole window, in letters that are read
//! from ten metres. The leader counts hands; nobody is named.

use iced::{
    Alignment, Element, Length, Size,
    widget::{center, column, container, responsive, row},
};

use crate::{
    practice::{set::Question, sitting::SittingStage},
    window::{
        controls::button,
        keymap::SittingCommand,
        theme::{self, Current, far, size, text},
        typing::{Reach, Selecting, Typed},
    },
};

use super::{message::Message, sitter::Sitter, slip::Entry};

/// Text sizes that follow the height of the window.
#[derive(Clone, Copy)]
struct Far {
    /// What everybody reads.
    text: f32,
    /// What was said before.
    aside: f32,
    /// Counts of hands.
    count: f32,
}

impl Far {
    fn of(room: Size) -> Self {
        let share = |share: f32| share * room.height;
        Self { text: share(far::TEXT), aside: share(far::ASIDE), count: share(far::COUNT) }
    }
}

impl Sitter {
    /// Draws the screen.
    pub(crate) fn view_group(&self) -> Element<'_, Message> {
        responsive(|room| {
            let far = Far::of(room);
            let shown = match self.sat.stage() {
                SittingStage::Looking => return self.view_stage(),
                SittingStage::Answering { .. } => self.hands_up(far),
                SittingStage::Still(_)
                | SittingStage::Keeping(_)
                | SittingStage::Line(_)
                | SittingStage::Reference(_) => self.view_still(),
                _ => self.far_cue(far),
            };
            let shown = container(shown).height(Length::Fill).style(theme::stage);
            column![shown, container(self.band(far)).width(Length::Fill).style(theme::paper)].into()
        })
        .into()
    }

    fn far_cue(&self, far: Far) -> Element<'_, Message> {
        let Some(look) = self.sat.look() else { return column![].into() };
        let (number, of) = self.sat.place();
        let cue = if look.cue.is_empty() { "Watch as at a meet." } else { &look.cue };
        let about = format!("Look {number} of {of}. {}. It plays once.", self.about(look));
        let trouble = self.trouble().map(|why| text(format!("✗ {why}.")).size(size::TITLE));
        let lines = column![
            text(cue).size(far.text).align_x(Alignment::Center),
            text(about).size(far.aside).style(theme::ink(theme::ON_STAGE_QUIET)),
        ]
        .push(trouble)
        .spacing(theme::space::WIDE)
        .align_x(Alignment::Center);
        center(lines).padding(theme::space::WIDE).into()
    }

    /// One question with a count for each word.
    fn hands_up(&self, far: Far) -> Element<'_, Message> {
        let entries = self.slip.entries();
        let place = self.slip.question().unwrap_or(entries.len().saturating_sub(1));
        let Some(entry) = entries.get(place) else { return column![].into() };
        let of = (entries.len() > 1).then(|| {
            let said = format!("Question {} of {}", place + 1, entries.len());
            text(said).size(far.aside).style(theme::ink(theme::ON_STAGE_QUIET))
        });
        let left = self.sat.left_ms(self.now_ms());
        let left = left.map(|left| text(format!("{} s", left.div_ceil(1000))).size(far.aside));
        let lines = column![]
            .push(of)
            .push(text(&entry.asked).size(far.text).align_x(Alignment::Center))
            .push(self.counts(entry, far.text, far.count))
            .push(left)
            .spacing(theme::space::WIDE)
            .align_x(Alignment::Center);
        center(lines).padding(theme::space::WIDE).into()
    }

    /// A box for each word with the hands that were counted for it.
    fn counts<'a>(&'a self, entry: &'a Entry, word_size: f32, size: f32) -> Element<'a, Message> {
        let words = entry.choices.unwrap_or_default();
        let boxes = words.iter().zip(&entry.lines).enumerate().map(|(number, (word, line))| {
            let field = entry.first + number;
            let current = Current::from(self.slip.at() == field);
            let count = if line.text().is_empty() { "–" } else { line.text() };
            let said = column![text(*word).size(word_size), text(count).size(size)]
                .width(Length::Fill)
                .align_x(Alignment::Center);
            let to_end = Typed::Move { to: Reach::End, select: Selecting::No };
            button(said)
                .width(far::BOX * word_size)
                .padding(theme::space::SMALL)
                .style(theme::count_box(current))
                .on_press(Message::PointedAt(field, to_end))
                .into()
        });
        row(boxes).spacing(theme::space::LARGE).into()
    }

    /// What stands under the picture: what was asked and what came out, and the leader's button.
    fn band(&self, far: Far) -> Element<'_, Message> {
        let said = match (self.sat.question(), self.slip.entries().first()) {
            (Some(question), Some(entry)) => self.came_out(question, entry, far),
            _ => column![].into(),
        };
        let trouble = self.keep.trouble().or(self.complaint.as_deref());
        let complaint = self.slip.entries().iter().find_map(|entry| entry.complaint.as_deref());
        let trouble = trouble.or(complaint).unwrap_or_default();
        let (label, command) = self.next();
        let next = button(text(label)).style(theme::main_button);
        let leave = button("Stop").style(theme::other_button);
        let buttons = row![
            text(trouble).width(Length::Fill).style(theme::ink(theme::INK_MISSED)),
            leave.on_press(Message::Asked(SittingCommand::Leave)),
            next.on_press_maybe(command.map(Message::Asked)),
        ]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center);
        column![said, buttons].spacing(theme::space::MIDDLE).padding(theme::space::MIDDLE).into()
    }

    fn came_out<'a>(
        &'a self,
        question: &'a Question,
        entry: &'a Entry,
        far: Far,
    ) -> Element<'a, Message> {
        let place = self
            .sat
            .look()
            .and_then(|look| look.questions.iter().position(|other| other == question));
        let first = place.and_then(|place| self.sat.answers().get(place)).and_then(Option::as_ref);
        let before = first.map_or_else(|| "no hands".to_owned(), |hands| entry.words(hands));
        let aside = |said: String| text(said).size(far.aside).style(theme::ink(theme::INK_QUIET));
        let after = self.sat.answer_after().map(|hands| entry.words(hands));
        let counts = match &after {
            Some(after) => format!("{before}; after the still {after}"),
            None => before,
        };
        match self.sat.stage() {
            SittingStage::Line(_) => {
                let told = [&question.line, &question.number].map(String::as_str);
                let told: Vec<&str> = told.into_iter().filter(|it| !it.is_empty()).collect();
                column![text(told.join(": ")).size(far.text), aside(counts)].into()
            }
            SittingStage::Reference(_) => {
                let call = match &question.reference {
                    Some(call) => format!("Reference call: {}", entry.words(call)),
                    None => "No reference call yet".to_owned(),
                };
                let why = (!question.why.is_empty()).then(|| aside(question.why.clone()));
                let close = question.close.then(|| aside("A close call.".to_owned()));
                column![text(call).size(far.text)].push(why).push(close).push(aside(counts)).into()
            }
            _ => {
                let asked = column![
                    text(&entry.asked).size(far.text),
                    aside(format!("{counts}. And now?")),
                ];
                row![asked.width(Length::Fill), self.counts(entry, far.aside, far.text),]
                    .spacing(theme::space::LARGE)
                    .align_y(Alignment::Center)
                    .into()
            }
        }
    }
}
