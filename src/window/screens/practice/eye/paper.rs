//! The truth about the last answer, and how the eye does so far.

use iced::{
    Element, Length, alignment,
    widget::{column, row},
};

use crate::{
    practice::{
        agreement::{ComparedUnit, range_words, signed},
        eye::{self, ProgressLine, progress},
    },
    units::Degrees,
    window::theme::{self, size, text},
};

use super::{
    screen::{Eye, Message},
    view::quiet,
};

/// Days that are listed, the last ones.
const DAYS: usize = 7;
/// Answers from which on a bias means something.
const ENOUGH: usize = 5;
/// How far off an answer is still good, in degrees: as far as a judge's question allows where the
/// set says nothing.
const GOOD: f64 = 5.0;

impl Eye {
    /// What was right, at once.
    pub(crate) fn told<'a>(
        &'a self,
        task: &'a eye::Task,
        answer: Degrees,
        level: usize,
    ) -> Element<'a, Message> {
        let off = answer.0 - task.truth.0;
        let (sign, ink) =
            if off.abs() <= GOOD { ("✓", theme::INK_MET) } else { ("✗", theme::INK_MISSED) };
        let verdict = match Degrees(off.abs()) {
            Degrees(0.0) => "To the degree.".to_owned(),
            size if off > 0.0 => format!("{size} too much."),
            size => format!("{size} too little."),
        };
        let verdict = row![
            text(sign).size(size::LEAD).font(theme::STRONG).style(theme::ink(ink)),
            text(verdict).size(size::LEAD).font(theme::STRONG).style(theme::ink(ink)),
        ]
        .spacing(theme::space::SMALL);
        let now = self.trainer.level();
        let change = match now.cmp(&level) {
            std::cmp::Ordering::Equal => None,
            std::cmp::Ordering::Greater => Some(format!("Sure: on to level {}.", now + 1)),
            std::cmp::Ordering::Less => Some(format!("Back to level {}.", now + 1)),
        };
        let seen = (task.off_square > 0.0).then(|| quiet("Drawn here square on."));
        column![
            text(task.question),
            verdict,
            text(format!("You said {answer}, it is {}.", task.truth)),
        ]
        .push(seen)
        .push(change.map(|said| text(said).font(theme::STRONG)))
        .spacing(theme::space::SMALL)
        .into()
    }

    /// How the eye does by quantity and by day.
    pub(crate) fn progress(&self) -> Element<'_, Message> {
        if self.noted.is_empty() {
            return quiet("After your first answer it stands here how far off you are.");
        }
        let found = progress(&self.noted);
        let lines = found
            .quantities
            .iter()
            .map(|(quantity, line)| self::line(quantity.words().to_owned(), line));
        let days = found.days.iter().rev().take(DAYS);
        let days = days.map(|(day, line)| self::line(day.clone(), line));
        column![
            head("Angle"),
            column(lines).spacing(theme::space::TIGHT),
            head("Day"),
            column(days).spacing(theme::space::TIGHT),
            quiet(
                "Off by: on average. Bias, from five answers on, with its 95 % interval: + is too \
                 much.",
            ),
        ]
        .spacing(theme::space::SMALL)
        .into()
    }
}

fn head(name: &str) -> Element<'_, Message> {
    let cell = |said| text(said).size(size::SMALL).font(theme::STRONG);
    cells(cell(name), cell("Answers"), cell("Off by"), cell("Bias"))
}

fn line<'a>(name: String, line: &ProgressLine) -> Element<'a, Message> {
    let cell = |said: String| text(said).size(size::SMALL);
    let bias = match &line.bias {
        Ok(found) if found.pairs >= ENOUGH => format!(
            "{} ({})",
            signed(ComparedUnit::Degrees, found.bias),
            range_words(&found.bias_interval, |end| signed(ComparedUnit::Degrees, end))
        ),
        _ => "–".to_owned(),
    };
    cells(cell(name), cell(line.answers.to_string()), cell(line.mean_error.to_string()), cell(bias))
}

fn cells<'a>(
    name: text::Text<'a, iced::Theme>,
    answers: text::Text<'a, iced::Theme>,
    off: text::Text<'a, iced::Theme>,
    bias: text::Text<'a, iced::Theme>,
) -> Element<'a, Message> {
    let right = alignment::Horizontal::Right;
    row![
        name.width(Length::FillPortion(6)),
        answers.width(Length::FillPortion(3)).align_x(right),
        off.width(Length::FillPortion(3)).align_x(right),
        bias.width(Length::FillPortion(10)).align_x(right),
    ]
    .spacing(theme::space::SMALL)
    .into()
}
