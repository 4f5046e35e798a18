//! The line on which a person writes a time or a frame to go to.

use iced::{
    Alignment, Element,
    widget::{column, container, row},
};

use crate::{
    units::FrameIndex,
    window::{
        controls::button,
        keymap::{ClipCommand, Steady},
        screens::clip::message::Message,
        theme::{self, Current, size, text},
        typing::{self, Line},
    },
};

/// Width of the sheet.
const WIDTH: f32 = 420.0;
/// Times are written down to the millionth of a second.
const DECIMALS: usize = 6;

/// What is written.
#[derive(Debug, Default)]
pub(crate) struct Jump {
    pub(super) line: Line,
    pub(super) fault: Option<String>,
}

/// Where somebody wants to go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// Millionths of a second after the first frame.
    Time(i64),
    Frame(FrameIndex),
}

/// Reads `4.6`, `1:04.6` or `frame 138`.
pub(super) fn read(written: &str) -> Option<Place> {
    let written = written.trim().to_lowercase();
    if let Some(number) = ["frame", "f", "#"].iter().find_map(|word| written.strip_prefix(word)) {
        return number.trim().parse().ok().map(|number| Place::Frame(FrameIndex(number)));
    }
    let written = written.strip_suffix('s').unwrap_or(&written).trim().replace(',', ".");
    let (minutes, seconds) = written.split_once(':').unwrap_or(("0", &written));
    let (whole, part) = seconds.split_once('.').unwrap_or((seconds, "0"));
    let is_number = |it: &str| it.bytes().all(|byte| byte.is_ascii_digit());
    if ![minutes, whole, part].into_iter().all(is_number) || part.len() > DECIMALS {
        return None;
    }
    let [minutes, whole]: [i64; 2] = [minutes.parse().ok()?, whole.parse().ok()?];
    let millionths: i64 = format!("{part:0<DECIMALS$}").parse().ok()?;
    let seconds = minutes.checked_mul(60)?.checked_add(whole)?;
    seconds.checked_mul(1_000_000)?.checked_add(millionths).map(Place::Time)
}

impl Jump {
    /// Draws the line.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let field = typing::field(
            &self.line,
            "seconds, minutes:seconds, or frame 138",
            Current::Yes,
            Message::Typed,
        );
        let go =
            button(text("Go (Enter)")).style(theme::main_button).on_press(Message::JumpPressed);
        let close = button(text("Cancel (Esc)"))
            .style(theme::other_button)
            .on_press(Message::Asked(ClipCommand::Steady(Steady::Leave)));
        let fault = self.fault.as_ref().map(|fault| {
            let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
            row![sign, text(fault)].spacing(theme::space::SMALL)
        });
        let does = row![go, close].spacing(theme::space::SMALL).align_y(Alignment::Center);
        let sheet = column![text("Go to").size(size::LEAD).font(theme::STRONG), field]
            .push(fault)
            .push(does)
            .spacing(theme::space::MIDDLE);
        container(sheet).width(WIDTH).padding(theme::space::LARGE).style(theme::sheet).into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_and_frames_are_read_as_people_write_them() {
        let time = |it| Some(Place::Time(it));
        assert_eq!(read("4.6"), time(4_600_000));
        assert_eq!(read(" 4,61 s"), time(4_610_000));
        assert_eq!(read("1:04.25"), time(64_250_000));
        assert_eq!(read("0:07"), time(7_000_000));
        for frame in ["frame 138", "f138", "#138"] {
            assert_eq!(read(frame), Some(Place::Frame(FrameIndex(138))));
        }
        for odd in
            ["", ".", "-4", "4.6.1", "1:2:3", "soon", "f", "9999999999999999999", "1.1234567"]
        {
            assert_eq!(read(odd), None, "{odd}");
        }
    }
}
