//! Draws what was put down last, and what it did to the score.

use iced::{Element, widget::row};

use super::put_down::PutDown;
use crate::window::{
    screens::clip::{Clip, Message},
    theme::{self, size, text},
};

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
