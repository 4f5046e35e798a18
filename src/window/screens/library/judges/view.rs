//! Draws them.

use iced::{
    Alignment, ContentFit, Element, Length, Padding,
    widget::{column, container, image, row, scrollable, space},
};

use crate::{
    library::{Agreed, Beside, Draft, Standing},
    units::{FrameIndex, Ticks, counted},
    window::{
        controls::{button, quiet_button},
        keymap::{self, JudgesCommand},
        screens::library::Message,
        theme::{self, Current, part, size, text},
        words::clock,
    },
};

use super::shown::{JudgesMessage, JudgesShown};

/// Id of the list of questions.
pub(super) const LIST: &str = "judges";

/// Height of a small picture in logical pixels.
const PICTURE: f32 = 110.0;

impl JudgesShown {
    /// Draws them.
    pub(in crate::window::screens::library) fn view(&self) -> Element<'_, Message> {
        let judges = &*self.judges;
        let remarks =
            judges.remarks.iter().map(|remark| text(remark.as_str()).size(size::SMALL).into());
        let lines = judges.rows.iter().enumerate().map(|(place, row)| self.line(place, row));
        let lines = container(column(lines)).padding(Padding::ZERO.right(theme::space::LARGE));
        let lines =
            scrollable(lines).id(LIST).width(Length::Fill).height(Length::Fill).style(theme::lane);
        column![self.title()]
            .push(judges.agreed.as_ref().map(standing))
            .push(column(remarks))
            .push(self.head())
            .push(lines)
            .push(self.frames_view())
            .spacing(theme::space::SMALL)
            .into()
    }

    fn title(&self) -> Element<'_, Message> {
        let judges = &*self.judges;
        let differing = judges.rows.iter().filter(|row| row.differs()).count();
        let (title, said) = match judges.codes.as_slice() {
            [only] => ("One judge", format!("only {only} has marked this routine")),
            _ => (
                "Judges side by side",
                format!(
                    "{}, {} the same",
                    counted(differing, "difference"),
                    judges.rows.len() - differing
                ),
            ),
        };
        let said = format!("{said} · {}", judges.ruled.title());
        row![text(title).font(theme::STRONG), quiet(said).width(Length::Fill),]
            .push((judges.codes.len() > 1).then(|| {
                quiet_button(keyed("As a panel", JudgesCommand::Panel), asked(JudgesCommand::Panel))
            }))
            .push(quiet_button(keyed("Back", JudgesCommand::Leave), asked(JudgesCommand::Leave)))
            .spacing(theme::space::MIDDLE)
            .align_y(Alignment::Center)
            .into()
    }

    fn head(&self) -> Element<'_, Message> {
        let codes = &self.judges.codes;
        let alone = codes.len() == 1;
        let judge = codes.iter().enumerate().map(|(place, code)| {
            let code = if place == self.judge { format!("▸ {code}") } else { code.clone() };
            let pressed = |message| Message::Judges(message);
            let agree = (!alone).then(|| {
                quiet_button("All agree on this", pressed(JudgesMessage::AgreedOn(place)))
            });
            let label = if alone { "Take it as the reference" } else { "This alone" };
            let refer = quiet_button(label, pressed(JudgesMessage::Alone(place)));
            column![text(code).font(theme::STRONG)]
                .push(agree)
                .push(refer)
                .spacing(theme::space::HAIR)
                .width(Length::FillPortion(2))
                .into()
        });
        let draft = self.draft.as_ref().map(|draft| self.draft_head(draft));
        let keys = [
            ("question", JudgesCommand::Row(1)),
            ("judge", JudgesCommand::Judge(1)),
            ("opens the marks", JudgesCommand::Open),
            ("takes the answer into a reference", JudgesCommand::Take),
            ("all agree", JudgesCommand::Agree),
            ("this alone is the reference", JudgesCommand::Alone),
        ];
        let keys = keys.map(|(does, command)| format!("{} {does}", keymap::key_of(command)));
        let keys = quiet(keys.join(" · ")).width(Length::FillPortion(5));
        row![keys]
            .extend(judge)
            .push(draft)
            .spacing(theme::space::MIDDLE)
            .padding(Padding::ZERO.right(theme::space::LARGE))
            .align_y(Alignment::End)
            .into()
    }

    /// The head of the reference that is put together.
    fn draft_head(&self, draft: &Draft) -> Element<'_, Message> {
        let place = self.judges.codes.len();
        let name = if self.judge == place { "▸ Reference" } else { "Reference" };
        let begun = self.judges.codes.get(draft.begun).map_or("", String::as_str);
        let agreed = Message::Judges(JudgesMessage::AgreedOn(place));
        column![
            text(name).font(theme::STRONG),
            quiet_button("All agree on this", agreed),
            quiet(format!("begun with {begun}'s marks")),
        ]
        .spacing(theme::space::HAIR)
        .width(Length::FillPortion(2))
        .into()
    }

    fn line<'a>(&'a self, place: usize, asked: &'a Beside) -> Element<'a, Message> {
        let (sign, tint): (_, theme::Tint) =
            if asked.differs() { ("≠", theme::INK_MISSED) } else { ("=", theme::INK_QUIET) };
        let sign = text(sign).width(part::SIGN).style(theme::ink(tint));
        let label = row![sign, text(asked.label.as_str())].width(Length::FillPortion(5));
        let answers = asked.answers.iter().map(|answer| {
            let answer = answer.as_deref().unwrap_or("–");
            text(answer).width(Length::FillPortion(2)).into()
        });
        let draft = self.draft.as_ref().map(|draft| {
            let answer = draft.answers.get(place).and_then(Option::as_deref).unwrap_or("–");
            let from = draft.taken.get(&place).and_then(|judge| self.judges.codes.get(*judge));
            let from = from.map(|code| format!(" ✓ {code}")).unwrap_or_default();
            text(format!("{answer}{from}")).width(Length::FillPortion(2))
        });
        button(row![label].extend(answers).push(draft).spacing(theme::space::MIDDLE))
            .width(Length::Fill)
            .padding([theme::space::HAIR, 0.0])
            .style(theme::paper_line(Current::from(place == self.row)))
            .on_press(Message::Judges(JudgesMessage::RowPressed(place)))
            .into()
    }

    /// The frames that the answers to the question at hand stand on.
    fn frames_view(&self) -> Element<'_, Message> {
        let Some(question) = self.question() else { return space().into() };
        let said = match (&self.complaint, &self.frames.trouble, &self.frames.underway) {
            (Some(why), ..) => format!("✗ {why}"),
            (None, Some(why), _) => why.clone(),
            (None, None, Some(underway)) => underway.says(),
            (None, None, None) => String::new(),
        };
        let title = row![
            text(question.label.as_str()).font(theme::STRONG),
            quiet(said).width(Length::Fill)
        ];
        let judges = self.judges.codes.iter().enumerate().map(|(place, code)| {
            let answer = question.answers[place].as_deref().unwrap_or("not marked");
            let frames = self.instants(place);
            let none = frames.is_empty().then(|| quiet("no frame"));
            let pictures = frames.into_iter().map(|at| self.picture(place, at));
            let take = question
                .differs()
                .then(|| quiet_button("Take this", Message::Judges(JudgesMessage::Take(place))));
            column![
                row![text(format!("{code}: {answer}"))]
                    .push(take)
                    .spacing(theme::space::SMALL)
                    .align_y(Alignment::Center),
                row(pictures).push(none).spacing(theme::space::TIGHT),
            ]
            .spacing(theme::space::HAIR)
            .into()
        });
        let judges = scrollable(row(judges).spacing(theme::space::LARGE))
            .direction(scrollable::Direction::Horizontal(scrollable::Scrollbar::new()))
            .style(theme::lane);
        column![title.spacing(theme::space::MIDDLE), judges].spacing(theme::space::TIGHT).into()
    }

    fn picture(&self, judge: usize, (ticks, frame): (Ticks, FrameIndex)) -> Element<'_, Message> {
        let picture: Element<'_, Message> = match self.frames.pictures.get(&ticks) {
            Some(handle) => {
                image(handle.clone()).height(PICTURE).content_fit(ContentFit::Contain).into()
            }
            None => space().width(PICTURE).height(PICTURE).into(),
        };
        let time = self.judges.time_base.map(|base| clock(base, ticks)).unwrap_or_default();
        let said = quiet(format!("frame {frame} · {time}"));
        button(column![container(picture).style(theme::stage), said])
            .padding(theme::space::HAIR)
            .style(theme::paper_line(Current::No))
            .on_press(Message::Judges(JudgesMessage::Open(judge, Some(ticks))))
            .into()
    }
}

/// What was agreed on before, and what became of it.
fn standing((agreed, standing): &(Agreed, Standing)) -> Element<'_, Message> {
    let by = agreed.by.join(", ");
    let what = if agreed.is_of_several() {
        format!("Agreed by {by} on {}", agreed.on)
    } else {
        format!("Reference by {by} alone, {}", agreed.on)
    };
    let (said, tint): (_, theme::Tint) = match standing {
        Standing::Holds => (format!("✓ {what}: {}", agreed.marks), theme::INK_MET),
        Standing::Gone => (
            format!("! {what}, but {} is not there any more: it holds no longer", agreed.marks),
            theme::INK_OPEN,
        ),
        Standing::Changed(place) => {
            let name = agreed.of.get(*place).map_or("", |then| &then.marks);
            (format!("! {what}, but {name} was changed since: it holds no longer"), theme::INK_OPEN)
        }
    };
    text(said).size(size::SMALL).style(theme::ink(tint)).into()
}

fn asked(command: JudgesCommand) -> Message {
    Message::Judges(JudgesMessage::Asked(command))
}

fn keyed(label: &str, command: JudgesCommand) -> String {
    format!("{label} ({})", keymap::key_of(command))
}

fn quiet<'a>(said: impl text::IntoFragment<'a>) -> text::Text<'a> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET))
}
