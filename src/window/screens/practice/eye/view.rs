//! The screen: the figure on the stage, question and progress on the paper.

use iced::{
    Alignment, Element, Length,
    widget::{center, column, container, row, rule, scrollable, space},
};

use crate::{
    practice::eye::{self, LEVELS},
    window::{
        controls::button,
        keymap::{self, EyeCommand},
        theme::{self, Current, part, size, text},
        typing,
    },
};

use super::{
    figure::FigureView,
    screen::{Eye, Message, Stage},
};

impl Eye {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        if matches!(self.stage, Stage::Who | Stage::Opening) {
            return self.view_who();
        }
        row![
            container(self.stage()).width(Length::Fill).height(Length::Fill).style(theme::stage),
            container(self.paper()).width(part::SLIP).height(Length::Fill).style(theme::paper),
        ]
        .into()
    }

    /// Asks who trains.
    fn view_who(&self) -> Element<'_, Message> {
        let heading = column![
            text("Angles for the eye").size(size::LEAD).font(theme::STRONG),
            quiet("Judge the angle of a drawn figure; the truth comes at once."),
        ]
        .spacing(theme::space::HAIR);
        let field =
            typing::field(&self.code, "code, never a name: J-2", Current::Yes, Message::Typed);
        let who = row![text("Who").width(part::LABEL).style(theme::ink(theme::INK_QUIET)), field]
            .align_y(Alignment::Center);
        let said = "It grows harder as you grow surer: figures are shown more briefly, and the \
                    camera moves off square. Under the same code it goes on where you left it.";
        let content = column![heading, who, quiet(said)]
            .push(self.trouble())
            .push(foot("Cancel", &format!("Begin ({})", keymap::key_of(EyeCommand::GoOn))))
            .spacing(theme::space::MIDDLE);
        let sheet = container(content)
            .width(part::DIALOGUE)
            .padding(theme::space::LARGE)
            .style(theme::sheet);
        center(sheet).padding(theme::space::MIDDLE).style(theme::stage).into()
    }

    fn stage(&self) -> Element<'_, Message> {
        match &self.stage {
            Stage::Shown { task, is_over: false, .. } => {
                FigureView { figure: &task.figure, truth: None }.view()
            }
            Stage::Told { task, .. } => {
                let truth = Some(task.truth.to_string());
                FigureView { figure: &task.square_on, truth }.view()
            }
            Stage::Shown { .. } => center(text("The figure is gone. Your answer?")).into(),
            Stage::Who | Stage::Opening => space().into(),
        }
    }

    fn paper(&self) -> Element<'_, Message> {
        let level =
            format!("Level {} of {LEVELS} · {}", self.trainer.level() + 1, self.code.text());
        let head =
            column![text("Angles for the eye").size(size::LEAD).font(theme::STRONG), quiet(level),]
                .padding(theme::space::MIDDLE);
        let (asked, label) = match &self.stage {
            Stage::Told { task, answer, level } => {
                (self.told(task, *answer, *level), "Next figure")
            }
            Stage::Shown { task, .. } => (self.question(task), "Answer"),
            Stage::Who | Stage::Opening => (space().into(), ""),
        };
        let asked = container(asked).padding(theme::space::MIDDLE);
        let progress = container(self.progress()).padding(theme::space::MIDDLE);
        let progress = scrollable(progress).height(Length::Fill).style(theme::lane);
        let label = format!("{label} ({})", keymap::key_of(EyeCommand::GoOn));
        let foot = column![].push(self.trouble()).push(foot("Stop", &label));
        let foot = foot.spacing(theme::space::SMALL).padding(theme::space::MIDDLE);
        let line = || rule::horizontal(1).style(theme::divider);
        column![head, line(), asked, line(), progress, line(), foot].into()
    }

    fn question(&self, task: &eye::Task) -> Element<'_, Message> {
        let shown = task.shown_ms.map(|ms| format!("Shown for {} s.", f64::from(ms) / 1000.0));
        let camera = if task.off_square > 0.0 {
            format!("Camera {:.0}° off square.", task.off_square)
        } else {
            "Camera square on.".to_owned()
        };
        let how = [Some(camera), shown].into_iter().flatten().collect::<Vec<_>>().join(" ");
        column![
            text(task.question).size(size::LEAD).font(theme::STRONG),
            text(task.counted),
            quiet(how),
            typing::field(&self.answer, "degrees", Current::Yes, Message::Typed),
        ]
        .spacing(theme::space::SMALL)
        .into()
    }

    fn trouble(&self) -> Option<Element<'_, Message>> {
        self.complaint.as_deref().map(|why| {
            let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
            row![sign, text(why).width(Length::Fill)].spacing(theme::space::SMALL).into()
        })
    }
}

fn foot<'a>(leave: &'a str, label: &str) -> Element<'a, Message> {
    let ask = |command| Message::Asked(command);
    row![
        space().width(Length::Fill),
        button(leave).style(theme::other_button).on_press(ask(EyeCommand::Leave)),
        button(text(label.to_owned())).style(theme::main_button).on_press(ask(EyeCommand::GoOn)),
    ]
    .spacing(theme::space::SMALL)
    .align_y(Alignment::Center)
    .into()
}

/// An aside on the paper.
pub(crate) fn quiet<'a>(said: impl text::IntoFragment<'a>) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
