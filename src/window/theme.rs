//! Every colour, size and distance of the window, and the styles made of them.
//!
//! The frame lies on a dark stage, what is written lies on paper; each ground has its own text
//! colours. No view names a colour or a number of pixels itself.

use iced::{
    Background, Border, Color, Font, Shadow, Theme,
    font::Weight,
    theme::Palette,
    widget::{button, container, rule, scrollable, text, text_input},
};

/// The one text font; its digits are all equally wide.
pub const FONT: Font = Font::with_name("Source Sans 3");
/// The same font for headings and for what counts.
pub const STRONG: Font = Font { weight: Weight::Semibold, ..FONT };

/// Files of the font, loaded at the start.
pub const FONT_FILES: [&[u8]; 2] = [
    include_bytes!("../../fonts/SourceSans3-Regular.ttf"),
    include_bytes!("../../fonts/SourceSans3-SemiBold.ttf"),
];

/// Text sizes in logical pixels.
pub mod size {
    /// Asides, captions, key hints.
    pub const SMALL: f32 = 13.0;
    /// Everything that is read.
    pub const BODY: f32 = 15.0;
    /// Headings.
    pub const LEAD: f32 = 18.0;
    /// The name on the start screen.
    pub const TITLE: f32 = 34.0;
    /// The score.
    pub const SCORE: f32 = 38.0;
}

/// Distances in logical pixels; everything on the screen is set apart by one of these.
pub mod space {
    /// Between things that belong to one line.
    pub const HAIR: f32 = 2.0;
    /// Between lines.
    pub const TIGHT: f32 = 4.0;
    /// Between a sign and its text.
    pub const SMALL: f32 = 8.0;
    /// Inside boxes.
    pub const MIDDLE: f32 = 12.0;
    /// Between groups.
    pub const LARGE: f32 = 20.0;
    /// Around whole screens.
    pub const WIDE: f32 = 36.0;
}

/// Sizes of fixed parts in logical pixels.
pub mod part {
    /// Width of the paper.
    pub const PAPER: f32 = 470.0;
    /// Width of the column of signs.
    pub const SIGN: f32 = 18.0;
    /// Width of the column of frame numbers.
    pub const FRAME: f32 = 56.0;
    /// Step by which what hangs under an element is set in.
    pub const HANG: f32 = 22.0;
    /// Height of a small picture of the ribbon.
    pub const SMALL_PICTURE: f32 = 60.0;
    /// Height of the clip line.
    pub const CLIP_LINE: f32 = 34.0;
    /// Width of a dialogue.
    pub const DIALOGUE: f32 = 560.0;
    /// Width of a field's label.
    pub const LABEL: f32 = 110.0;
    /// Rounding of corners.
    pub const ROUND: f32 = 4.0;
}

const fn rgb(hex: u32) -> Color {
    Color::from_rgb8((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

/// The ground under the frame.
pub const STAGE: Color = rgb(0x0012_181B);
/// Bars and boxes on the stage.
pub const STAGE_RAISED: Color = rgb(0x001C_2529);
/// Lines on the stage.
pub const STAGE_EDGE: Color = rgb(0x0034_4247);
/// Text on the stage.
pub const ON_STAGE: Color = rgb(0x00E9_E6DE);
/// Asides on the stage.
pub const ON_STAGE_QUIET: Color = rgb(0x00A3_B0B5);
/// What is current or chosen on the stage.
pub const STAGE_ACCENT: Color = rgb(0x006C_C7BD);

/// The paper.
pub const PAPER: Color = rgb(0x00F3_EFE6);
/// A chosen line on the paper.
pub const PAPER_CHOSEN: Color = rgb(0x00D9_E6E0);
/// A line of the paper under the pointer.
pub const PAPER_HOVER: Color = rgb(0x00E9_E4D8);
/// Lines drawn on the paper.
pub const PAPER_EDGE: Color = rgb(0x00CB_C4B4);
/// Text on the paper.
pub const INK: Color = rgb(0x001F_2A2E);
/// Asides on the paper.
pub const INK_QUIET: Color = rgb(0x0051_5E63);
/// What leads somewhere.
pub const INK_ACCENT: Color = rgb(0x000B_5F5C);
/// Met.
pub const INK_MET: Color = rgb(0x0021_6238);
/// Missed, taken off, failed.
pub const INK_MISSED: Color = rgb(0x0098_2A20);
/// Left open.
pub const INK_OPEN: Color = rgb(0x0077_4700);

/// Every text colour with each ground it is written on.
#[cfg(test)]
const TEXT_ON_GROUND: [(Color, Color); 21] = [
    (INK, Color::WHITE),
    (INK_QUIET, Color::WHITE),
    (ON_STAGE, STAGE),
    (ON_STAGE, STAGE_RAISED),
    (ON_STAGE_QUIET, STAGE),
    (ON_STAGE_QUIET, STAGE_RAISED),
    (STAGE_ACCENT, STAGE),
    (STAGE_ACCENT, STAGE_RAISED),
    (STAGE, STAGE_ACCENT),
    (INK, PAPER),
    (INK, PAPER_CHOSEN),
    (INK, PAPER_HOVER),
    (INK_QUIET, PAPER),
    (INK_QUIET, PAPER_CHOSEN),
    (INK_QUIET, PAPER_HOVER),
    (INK_ACCENT, PAPER),
    (INK_MET, PAPER),
    (INK_MET, PAPER_CHOSEN),
    (INK_MISSED, PAPER),
    (INK_MISSED, PAPER_CHOSEN),
    (INK_OPEN, PAPER_CHOSEN),
];

/// Returns the iced theme whose defaults are those of the paper.
pub fn theme() -> Theme {
    Theme::custom(
        "Stillcall",
        Palette {
            background: PAPER,
            text: INK,
            primary: INK_ACCENT,
            success: INK_MET,
            warning: INK_OPEN,
            danger: INK_MISSED,
        },
    )
}

fn ground(background: Color, text_color: Color) -> container::Style {
    container::Style {
        background: Some(background.into()),
        text_color: Some(text_color),
        ..container::Style::default()
    }
}

/// The dark ground.
pub fn stage(_: &Theme) -> container::Style {
    ground(STAGE, ON_STAGE)
}

/// A bar or box on the dark ground.
pub fn stage_raised(_: &Theme) -> container::Style {
    ground(STAGE_RAISED, ON_STAGE)
}

/// The paper.
pub fn paper(_: &Theme) -> container::Style {
    ground(PAPER, INK)
}

/// A sheet of paper that lies over everything.
pub fn sheet(_: &Theme) -> container::Style {
    container::Style {
        border: Border { color: PAPER_EDGE, width: 1.0, radius: part::ROUND.into() },
        ..ground(PAPER, INK)
    }
}

/// The list that the write line offers.
pub fn offers(_: &Theme) -> container::Style {
    container::Style {
        border: Border { color: INK_ACCENT, width: 1.0, radius: part::ROUND.into() },
        ..ground(PAPER, INK)
    }
}

/// The veil over everything else while a dialogue is open.
pub fn veil(_: &Theme) -> container::Style {
    ground(Color { a: 0.72, ..STAGE }, ON_STAGE)
}

/// A message of something that went wrong, on paper.
pub fn complaint(_: &Theme) -> container::Style {
    container::Style {
        border: Border { color: INK_MISSED, width: 1.0, radius: part::ROUND.into() },
        ..ground(PAPER, INK)
    }
}

/// A key as it stands on the keyboard.
pub fn key_cap(_: &Theme) -> container::Style {
    container::Style {
        border: Border { color: PAPER_EDGE, width: 1.0, radius: part::ROUND.into() },
        ..ground(PAPER_HOVER, INK)
    }
}

/// A small picture of the ribbon; the current one is framed.
pub fn small_picture(current: Current) -> impl Fn(&Theme) -> container::Style {
    move |_| container::Style {
        border: Border {
            color: if current == Current::Yes { STAGE_ACCENT } else { STAGE_EDGE },
            width: if current == Current::Yes { 2.0 } else { 1.0 },
            radius: 0.0.into(),
        },
        ..ground(STAGE_RAISED, ON_STAGE)
    }
}

/// Whether something is the one that is shown or chosen now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Current {
    /// It is.
    Yes,
    /// It is not.
    No,
}

impl From<bool> for Current {
    fn from(yes: bool) -> Self {
        if yes { Self::Yes } else { Self::No }
    }
}

/// A line of the paper that leads to its frame.
pub fn paper_line(current: Current) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |_, status| {
        let ground = match (current, status) {
            (Current::Yes, _) => PAPER_CHOSEN,
            (_, button::Status::Hovered | button::Status::Pressed) => PAPER_HOVER,
            _ => Color::TRANSPARENT,
        };
        plain_button(ground, INK)
    }
}

/// The one thing to do next, on paper.
pub fn main_button(_: &Theme, status: button::Status) -> button::Style {
    let ground = match status {
        button::Status::Hovered | button::Status::Pressed => INK,
        button::Status::Active => INK_ACCENT,
        button::Status::Disabled => INK_QUIET,
    };
    plain_button(ground, PAPER)
}

/// Something else to do, on paper.
pub fn other_button(_: &Theme, status: button::Status) -> button::Style {
    let ground = match status {
        button::Status::Hovered | button::Status::Pressed => PAPER_HOVER,
        _ => Color::TRANSPARENT,
    };
    button::Style {
        border: Border { color: PAPER_EDGE, width: 1.0, radius: part::ROUND.into() },
        ..plain_button(ground, INK_ACCENT)
    }
}

/// A button on the stage; the current one of a group is filled.
pub fn stage_button(current: Current) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |_, status| match (current, status) {
        (Current::Yes, _) => plain_button(STAGE_ACCENT, STAGE),
        (_, button::Status::Hovered | button::Status::Pressed) => {
            plain_button(STAGE_EDGE, ON_STAGE)
        }
        _ => plain_button(Color::TRANSPARENT, ON_STAGE),
    }
}

fn plain_button(ground: Color, text_color: Color) -> button::Style {
    button::Style {
        background: Some(Background::Color(ground)),
        text_color,
        border: Border { radius: part::ROUND.into(), ..Border::default() },
        shadow: Shadow::default(),
        snap: true,
    }
}

/// The caret.
pub fn caret(_: &Theme) -> container::Style {
    ground(INK_ACCENT, INK)
}

/// A field that the screen itself writes into.
pub fn own_field(current: Current) -> impl Fn(&Theme) -> container::Style {
    move |_| container::Style {
        border: Border {
            color: if current == Current::Yes { INK_ACCENT } else { INK_QUIET },
            width: 1.0,
            radius: part::ROUND.into(),
        },
        ..ground(Color::WHITE, INK)
    }
}

/// A field of iced's own to write into, on paper.
pub fn field(_: &Theme, status: text_input::Status) -> text_input::Style {
    let edge = match status {
        text_input::Status::Focused { .. } => INK_ACCENT,
        _ => INK_QUIET,
    };
    text_input::Style {
        background: Background::Color(Color::WHITE),
        border: Border { color: edge, width: 1.0, radius: part::ROUND.into() },
        icon: INK_QUIET,
        placeholder: INK_QUIET,
        value: INK,
        selection: PAPER_CHOSEN,
    }
}

/// The lane in which a long paper is moved.
pub fn lane(theme: &Theme, status: scrollable::Status) -> scrollable::Style {
    let mut style = scrollable::default(theme, status);
    style.vertical_rail.background = None;
    style.vertical_rail.scroller.background = Background::Color(PAPER_EDGE);
    style
}

/// A line between two parts of the paper.
pub fn divider(_: &Theme) -> rule::Style {
    rule::Style {
        color: PAPER_EDGE,
        radius: 0.0.into(),
        fill_mode: rule::FillMode::Full,
        snap: true,
    }
}

/// Text in a given colour.
pub fn ink(color: Color) -> impl Fn(&Theme) -> text::Style {
    move |_| text::Style { color: Some(color) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast ratio as WCAG 2.2 defines them (success criterion 1.4.3).
    fn contrast(a: Color, b: Color) -> f32 {
        let light = |color: Color| {
            let [r, g, b] = [color.r, color.g, color.b].map(|part| {
                if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
            });
            0.2126 * r + 0.7152 * g + 0.0722 * b
        };
        let (a, b) = (light(a), light(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn black_on_white_is_twenty_one_to_one() {
        assert!((contrast(Color::BLACK, Color::WHITE) - 21.0).abs() < 0.01);
    }

    #[test]
    fn every_text_can_be_read_on_its_ground() {
        for (text, ground) in TEXT_ON_GROUND {
            let ratio = contrast(text, ground);
            assert!(ratio >= 4.5, "{text:?} on {ground:?}: {ratio}");
        }
    }
}
