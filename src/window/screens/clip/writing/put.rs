//! What was put down last, and what it did to the score.

use iced::{Element, widget::row};

use crate::window::{
    screens::clip::{Clip, Message},
    theme::{self, size, text},
};

/// What was put down last.
#[derive(Debug)]
pub(crate) struct PutDown {
    /// What it is, in words.
    pub(super) what: String,
    /// The score before it.
    pub(super) before: Option<String>,
}

impl Clip {
    /// Draws what was put down last and the score before and after; nothing after a step back.
    pub(crate) fn view_put(&self) -> Option<Element<'_, Message>> {
        let PutDown { what, before } = self.put.as_ref()?;
        let now = self.session.score_in_words();
        let effect = match (before, now) {
            _ if self.session.is_scoring() => "…".to_owned(),
            (Some(before), Some(now)) if *before != now => format!("{before} → {now}"),
            (None, Some(now)) => now,
            _ => "same score".to_owned(),
        };
        let what = text(format!("✓ {what}")).size(size::SMALL).style(theme::ink(theme::INK_MET));
        let effect = text(effect).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
        Some(row![what, effect].spacing(theme::space::SMALL).into())
    }
}
