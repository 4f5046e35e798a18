//! Text on screen: what would turn round or steer it stands as its number.

use std::borrow::Cow;

use iced::{Renderer, Theme};

pub(crate) use iced::widget::text::{Fragment, IntoFragment, Style, Text, Wrapping};

use crate::units::visible;

/// Returns text to be drawn. Names of files and remarks come from anywhere, and read beside a score
/// they must say what they are.
pub(crate) fn text<'a>(content: impl IntoFragment<'a>) -> Text<'a, Theme, Renderer> {
    iced::widget::text(plain(content.into_fragment()))
}

fn plain(content: Fragment<'_>) -> Fragment<'_> {
    match visible(&content) {
        Cow::Borrowed(_) => content,
        Cow::Owned(plain) => Cow::Owned(plain),
    }
}
