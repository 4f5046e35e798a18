//! Draws what is to be erased.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{column, container, row, scrollable, space},
};

use crate::{
    library::NOT_REACHED,
    units::counted,
    window::{
        controls::{button, quiet_button},
        keymap::{self, EraseCommand},
        screens::library::Message,
        theme::{self, Current, part, size, text},
        typing,
    },
};

use super::{
    form::{EraseChoice, EraseField, EraseFocus, EraseSubject},
    groups::{EraseGroup, Fate},
    message::EraseMessage,
    stage::{EraseAsked, EraseStage, ShownPlan},
};

/// Id of the list that is moved.
pub(super) const LIST: &str = "erase";

impl EraseAsked {
    /// Draws it.
    pub(in crate::window::screens::library) fn view(&self) -> Element<'_, Message> {
        let body: Element<'_, Message> = match &self.stage {
            EraseStage::Filled => self.filled(),
            EraseStage::Planning => quiet("Looking through the folders for all that would go …"),
            EraseStage::Shown(shown) => self.shown(shown),
            EraseStage::Carried(carrying) => quiet(carrying.says()),
            EraseStage::Over(outcome) => {
                let head = column![text(outcome.title.as_str()), quiet(outcome.remains.as_str())];
                column![head.spacing(theme::space::HAIR), list(&outcome.groups)]
                    .spacing(theme::space::MIDDLE)
                    .into()
            }
        };
        column![self.head(), body].spacing(theme::space::LARGE).into()
    }

    fn head(&self) -> Element<'_, Message> {
        let (title, of) = match &self.form.subject {
            EraseSubject::Clip(path) => ("Delete a clip", path.display().to_string()),
            EraseSubject::Athlete => {
                let code = self.form.code();
                let whose = code.map_or("the athlete".to_owned(), |code| code.to_string());
                ("An athlete withdraws", format!("Everything of {whose} goes."))
            }
        };
        let leave = match &self.stage {
            EraseStage::Filled | EraseStage::Shown(_) => "Cancel",
            EraseStage::Planning | EraseStage::Carried(_) => "Stop",
            EraseStage::Over(_) => "Close",
        };
        let title = text(title).size(size::LEAD).font(theme::STRONG);
        let words = column![title, quiet(of)].spacing(theme::space::HAIR).width(Length::Fill);
        row![words, quiet_button(keyed(leave, EraseCommand::Leave), asked(EraseCommand::Leave))]
            .spacing(theme::space::MIDDLE)
            .into()
    }

    fn filled(&self) -> Element<'_, Message> {
        let foci = self.form.subject.foci().iter();
        let parts = foci.map(|focus| match focus {
            EraseFocus::Field(field) => self.field(*field, *focus == self.form.focus()),
            EraseFocus::Choice(choice) => self.choice(*choice),
        });
        let label = keyed("Show what would go", EraseCommand::Preview);
        let preview =
            button(text(label)).style(theme::main_button).on_press(asked(EraseCommand::Preview));
        let foot = row![preview, quiet("First comes a list; it deletes nothing.")]
            .spacing(theme::space::MIDDLE)
            .align_y(Alignment::Center);
        let form = column(parts).push(self.complaint()).push(foot).spacing(theme::space::MIDDLE);
        container(form).width(part::DIALOGUE).into()
    }

    fn shown<'a>(&'a self, shown: &'a ShownPlan) -> Element<'a, Message> {
        let files = counted(shown.plan.files().count(), "file");
        let title = if shown.plan.is_empty() {
            text("Nothing would go")
        } else {
            text(format!("{files} would go. Nothing is deleted yet."))
        };
        let who = &shown.plan.witnessed;
        let who = quiet(format!("Deletes: {} · Looks on: {}", who.by, who.witness));
        let titles: Vec<&str> = shown.groups.iter().map(|group| group.title.as_str()).collect();
        let count = quiet(titles.join(" · "));
        let head = column![title.font(theme::STRONG), who, count].spacing(theme::space::HAIR);
        let again = self.code_again().map(|_| self.field(EraseField::Again, true));
        let erase = button(text(keyed(&format!("Delete {files}"), EraseCommand::Erase)))
            .style(theme::main_button)
            .on_press_maybe(self.is_confirmed().then_some(asked(EraseCommand::Erase)));
        let confirm = row![]
            .push(again.map(|again| container(again).width(part::DIALOGUE)))
            .push(erase)
            .push(self.complaint())
            .spacing(theme::space::MIDDLE)
            .align_y(Alignment::Center);
        column![head, list(&shown.groups), confirm].spacing(theme::space::MIDDLE).into()
    }

    fn field(&self, field: EraseField, is_current: bool) -> Element<'_, Message> {
        let (label, hint) = match field {
            EraseField::Code => ("Athlete", "her code: SC-07"),
            EraseField::By => ("Who deletes", "by role or code: J-2"),
            EraseField::Witness => ("Who looks on", "a second adult: welfare officer"),
            EraseField::Again => ("Code again", "write her code once more"),
        };
        let pointed = move |typed| Message::Erase(EraseMessage::PointedAt(field, typed));
        let line = self.form.line(field);
        let line = typing::field(line, hint, Current::from(is_current), pointed);
        row![text(label).width(part::LABEL).style(theme::ink(theme::INK_QUIET)), line]
            .align_y(Alignment::Center)
            .into()
    }

    fn choice(&self, choice: EraseChoice) -> Element<'_, Message> {
        let label = match choice {
            EraseChoice::KeepMarks => "Keep marks and numbers; they hold no pictures",
            EraseChoice::KeepExcerpts => "Keep the clips that were cut from it",
            EraseChoice::Copies => "Delete other files with the same content, too",
            EraseChoice::Shared => "Delete clips that show others as well, too",
        };
        let sign = if self.form.is_chosen(choice) { "✓" } else { "○" };
        let sign = text(sign).width(part::SIGN);
        let is_current = self.form.focus() == EraseFocus::Choice(choice);
        let label = row![sign, text(label)].spacing(theme::space::TIGHT);
        let pressed = Message::Erase(EraseMessage::Turned(choice));
        let turn = button(label)
            .padding([theme::space::HAIR, theme::space::SMALL])
            .style(theme::paper_line(Current::from(is_current)))
            .on_press(pressed);
        row![space().width(part::LABEL - theme::space::SMALL), turn].into()
    }

    fn complaint(&self) -> Option<Element<'_, Message>> {
        let complaint = self.complaint.as_deref()?;
        Some(text(complaint).style(theme::ink(theme::INK_MISSED)).into())
    }
}

/// Every group with each of its lines, and what no program reaches.
fn list(groups: &[EraseGroup]) -> Element<'_, Message> {
    let remains = quiet(NOT_REACHED.replace('\n', " "));
    let groups = column(groups.iter().map(group)).push(remains).spacing(theme::space::MIDDLE);
    scrollable(container(groups).padding(Padding::ZERO.right(theme::space::LARGE)))
        .id(LIST)
        .width(Length::Fill)
        .height(Length::Fill)
        .style(theme::lane)
        .into()
}

fn group(group: &EraseGroup) -> Element<'_, Message> {
    let (sign, tint): (_, theme::Tint) = match group.fate {
        Fate::Goes => ("✗", theme::INK_MISSED),
        Fate::Changes => ("…", theme::INK_OPEN),
        Fate::Stays => ("=", theme::INK_QUIET),
        Fate::Open => ("!", theme::INK_MISSED),
    };
    let sign = text(sign).width(part::SIGN).style(theme::ink(tint));
    let title = row![sign, text(group.title.as_str()).font(theme::STRONG)];
    let lines = group.lines.iter().map(|line| {
        let line = text(line.as_str()).size(size::SMALL);
        row![space().width(part::SIGN), line].into()
    });
    column![title].extend(lines).spacing(theme::space::HAIR).into()
}

fn asked(command: EraseCommand) -> Message {
    Message::Erase(EraseMessage::Asked(command))
}

fn keyed(label: &str, command: EraseCommand) -> String {
    format!("{label} ({})", keymap::key_of(command))
}

fn quiet<'a>(said: impl text::IntoFragment<'a>) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
