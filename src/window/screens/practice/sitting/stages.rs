//! The dark side of the sitting: the cue, the look, the time that is left, the still.

use iced::{
    Alignment, Element, Length,
    widget::{center, column},
};

use crate::{
    practice::{
        set::{Flag, Look},
        sitting::SittingStage,
    },
    window::theme::{self, size, text},
};

use super::{message::Message, shown::Shown, sitter::Sitter};

impl Sitter {
    /// Draws what belongs to the stage; a picture only while a look plays and after its answers.
    pub(crate) fn view_stage(&self) -> Element<'_, Message> {
        match self.sat.stage() {
            SittingStage::Cue | SittingStage::Opening | SittingStage::Skipping { .. } => self.cue(),
            SittingStage::Looking => self.look(),
            SittingStage::Answering { .. } => self.time_left(),
            SittingStage::Writing { .. } => said("The answers are being written …"),
            SittingStage::Still(_)
            | SittingStage::Keeping(_)
            | SittingStage::Line(_)
            | SittingStage::Reference(_) => self.view_still(),
            SittingStage::Done => said(""),
        }
    }

    fn cue(&self) -> Element<'_, Message> {
        let Some(look) = self.sat.look() else { return said("") };
        let cue = if look.cue.is_empty() { "Watch as at a meet." } else { &look.cue };
        let below: Element<'_, Message> = match &self.shown {
            Shown::Not(why) => column![
                text(format!("✗ {why}.")).style(theme::ink(theme::ON_STAGE)),
                quiet("This look is left out; the rest goes on.".to_owned()),
            ]
            .spacing(theme::space::SMALL)
            .align_x(Alignment::Center)
            .into(),
            _ => quiet(format!("Plays once, {:.1} s. No second look.", seconds(look))),
        };
        let flag = look.flag.map(|flag| {
            let what = match flag {
                Flag::Injury => "Somebody is hurt in this look.",
                Flag::Distress => "Somebody is in distress in this look.",
            };
            text(what).size(size::LEAD).style(theme::ink(theme::STAGE_ACCENT))
        });
        let lines = column![quiet(self.about(look))]
            .push(text(cue).size(size::TITLE).align_x(Alignment::Center))
            .push(flag)
            .push(below)
            .spacing(theme::space::LARGE)
            .align_x(Alignment::Center);
        center(lines).padding(theme::space::WIDE).into()
    }

    /// The whole picture, which cannot be zoomed, stopped or stepped.
    fn look(&self) -> Element<'_, Message> {
        match &self.shown {
            Shown::There(viewer) => viewer.picture(None, Message::Frame).into(),
            _ => said(""),
        }
    }

    fn time_left(&self) -> Element<'_, Message> {
        let over = if self.sat.is_broken_off() {
            "The look was broken off. It is not shown again."
        } else {
            "The look is over."
        };
        let mut lines = column![text(over).size(size::LEAD)]
            .spacing(theme::space::LARGE)
            .align_x(Alignment::Center);
        if let Some(left) = self.sat.left_ms(self.now_ms()) {
            lines = lines.push(text(format!("{} s", left.div_ceil(1000))).size(size::HUGE));
        }
        if self.sat.dropped() > 0 {
            let of = self.span().map_or(0, |span| span.frames);
            lines = lines.push(quiet(format!(
                "Playback dropped {} of {of} pictures. This is noted with the answers.",
                self.sat.dropped()
            )));
        }
        center(lines.push(quiet("What is handed in stays as it is.".to_owned())))
            .padding(theme::space::WIDE)
            .into()
    }

    pub(crate) fn view_still(&self) -> Element<'_, Message> {
        if self.sat.question().is_some_and(|question| question.still_ms.is_none()) {
            return said("No still is named for this question.");
        }
        if let Some(why) = self.trouble() {
            return said(format!("✗ {why}."));
        }
        match self.still() {
            Some(viewer) => viewer.picture(None, Message::Frame).into(),
            None => said("Getting the still …"),
        }
    }
}

/// Length of a look in seconds.
fn seconds(look: &Look) -> f64 {
    (look.to_ms - look.from_ms) as f64 / 1000.0
}

fn said<'a>(said: impl text::IntoFragment<'a>) -> Element<'a, Message> {
    center(text(said).align_x(Alignment::Center).width(Length::Shrink))
        .padding(theme::space::WIDE)
        .into()
}

fn quiet<'a>(said: String) -> Element<'a, Message> {
    text(said).align_x(Alignment::Center).style(theme::ink(theme::ON_STAGE_QUIET)).into()
}
