//! The end page: what was right from one look, and what comes back.

use iced::{
    Alignment, Element, Length,
    widget::{center, column, container, row, rule, scrollable},
};

use crate::{
    practice::{
        set::AnswerVerdict,
        sitting::{Mode, Record, due},
    },
    sheet::CAUTION,
    units::counted,
    window::{
        controls::button,
        keymap::{self, SittingCommand},
        theme::{self, part, size, text},
    },
};

use super::{message::Message, sitter::Sitter, view::sign_of};

/// How a look of this sitting went.
struct Went {
    look: String,
    sign: AnswerVerdict,
    said: String,
}

impl Sitter {
    /// Draws the end page.
    pub(crate) fn view_end(&self) -> Element<'_, Message> {
        let went: Vec<Went> = self.begun.looks.iter().filter_map(|id| self.went(id)).collect();
        let heading = column![
            text(&self.set.title).size(size::LEAD).font(theme::STRONG),
            text(format!("{} · {}", self.begun.person, self.begun.date))
                .size(size::SMALL)
                .style(theme::ink(theme::INK_QUIET)),
        ]
        .spacing(theme::space::HAIR);
        let lines = went.into_iter().map(|went| {
            let (sign, ink) = sign_of(went.sign);
            row![
                text(sign).width(part::SIGN).font(theme::STRONG).style(theme::ink(ink)),
                text(went.look).width(Length::FillPortion(2)),
                text(went.said).width(Length::FillPortion(3)),
            ]
            .spacing(theme::space::SMALL)
            .into()
        });
        let lines = column(lines).spacing(theme::space::SMALL);
        let kept = format!("Kept in {}", self.keep.path().display());
        let small = |said: String| text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
        let close = button("Close (Enter)").style(theme::main_button);
        let close = close.on_press(Message::Asked(SittingCommand::GoOn));
        let label = format!("All sittings ({})", keymap::key_of(SittingCommand::HandIn));
        let all = (self.sat.mode() == Mode::Person).then(|| {
            button(text(label))
                .style(theme::other_button)
                .on_press(Message::Asked(SittingCommand::HandIn))
        });
        let buttons = row![].push(all).push(close).spacing(theme::space::SMALL);
        let content = column![
            heading,
            rule::horizontal(1).style(theme::divider),
            scrollable(lines).style(theme::lane),
            rule::horizontal(1).style(theme::divider),
            text(self.comes_back()).font(theme::STRONG),
            small(kept),
            small(CAUTION.to_owned()),
            container(buttons).width(Length::Fill).align_x(Alignment::End),
        ]
        .spacing(theme::space::MIDDLE);
        let sheet =
            container(content).width(part::PAGE).padding(theme::space::LARGE).style(theme::sheet);
        center(sheet).padding(theme::space::MIDDLE).style(theme::stage).into()
    }

    /// Says what the next sitting shows.
    fn comes_back(&self) -> String {
        if self.sat.mode() == Mode::Group {
            return "Counts of hands are nobody's answer: nothing comes back.".to_owned();
        }
        let due = due(&self.set, self.records.iter());
        let back = self.begun.looks.iter().filter(|id| due.contains(id)).count();
        match back {
            0 => "Nothing comes back. The next sitting shows all looks again.".to_owned(),
            1 => "1 look comes back in the next sitting.".to_owned(),
            back => format!("{back} looks come back in the next sitting."),
        }
    }

    fn went(&self, id: &str) -> Option<Went> {
        let place = self.begun.looks.iter().position(|other| other == id)? + 1;
        let look = self.set.look(id)?;
        let name = format!("{place}. {id} · {}", self.about(look));
        let of = |record: &&Record| match record {
            Record::Answered { look, .. } | Record::Skipped { look, .. } => look == id,
            _ => false,
        };
        Some(match self.records.iter().rev().find(of)? {
            Record::Answered { answers, dropped, interrupted, .. } => {
                let verdicts: Vec<AnswerVerdict> = look
                    .questions
                    .iter()
                    .map(|question| {
                        let given = answers.iter().find(|given| given.question == question.id);
                        question.verdict(given.and_then(|given| given.answer.as_ref()))
                    })
                    .collect();
                let mut said = in_words(&verdicts);
                if *dropped > 0 {
                    said = format!("{said}; {} dropped", counted(*dropped as usize, "picture"));
                }
                if *interrupted {
                    said = format!("{said}; the look was broken off");
                }
                Went { look: name, sign: of_all(&verdicts), said }
            }
            Record::Skipped { why, .. } => {
                Went { look: name, sign: AnswerVerdict::Open, said: format!("Left out. {why}.") }
            }
            _ => return None,
        })
    }
}

/// Returns how a look went as a whole.
fn of_all(verdicts: &[AnswerVerdict]) -> AnswerVerdict {
    let any = |verdict| verdicts.contains(&verdict);
    match () {
        () if any(AnswerVerdict::Wrong) => AnswerVerdict::Wrong,
        () if any(AnswerVerdict::Right) => AnswerVerdict::Right,
        () if any(AnswerVerdict::EitherWay) => AnswerVerdict::EitherWay,
        () => AnswerVerdict::Open,
    }
}

fn in_words(verdicts: &[AnswerVerdict]) -> String {
    let count = |verdict| verdicts.iter().filter(|other| **other == verdict).count();
    let (right, wrong) = (count(AnswerVerdict::Right), count(AnswerVerdict::Wrong));
    let close = count(AnswerVerdict::EitherWay);
    let mut said = Vec::new();
    if right + wrong > 0 {
        said.push(format!("{right} of {} right from one look", right + wrong));
    }
    if close > 0 {
        said.push(format!("{}, right either way", counted(close, "close call")));
    }
    if said.is_empty() {
        said.push("answered; no reference call yet".to_owned());
    }
    said.join("; ")
}
