//! Every colour, size and distance of the window, and the styles made of them.
//!
//! The frame lies on a dark stage, what is written lies on paper; each ground has its own text
//! colours. No view names a colour or a number of pixels itself.

mod colours;
pub(super) mod text;

use iced::{
    Background, Border, Color, Font, Shadow, Theme,
    font::Weight,
    widget::{button, container, rule, scrollable},
};

pub(super) use self::text::text;
pub(super) use colours::{Colours, Look, STAGE, Tint, colours};

/// The one text font; its digits are all equally wide.
pub(super) const FONT: Font = Font::with_name("Source Sans 3");
/// The same font for headings and for what counts.
pub(super) const STRONG: Font = Font { weight: Weight::Semibold, ..FONT };

/// Files of the font, loaded at the start.
pub(super) const FONT_FILES: [&[u8]; 2] =
    [include_bytes!("../../../fonts/SourceSans3-Regular.ttf"), crate::figure::FONT];

/// Text sizes in logical pixels.
pub(super) mod size {
    /// Asides, captions, key hints.
    pub(crate) const SMALL: f32 = 13.0;
    /// Everything that is read.
    pub(crate) const BODY: f32 = 15.0;
    /// Headings.
    pub(crate) const LEAD: f32 = 18.0;
    /// The name on the start screen.
    pub(crate) const TITLE: f32 = 34.0;
    /// The score.
    pub(crate) const SCORE: f32 = 38.0;
    /// A score that is open: lowest to highest, in the room of one number.
    pub(crate) const RANGE: f32 = 28.0;
    /// The seconds that are left to answer.
    pub(crate) const HUGE: f32 = 72.0;
}

/// Text sizes that are read from ten metres, as shares of the window's height.
///
/// Signs are commonly made with letters of a two-hundredth of the distance. On a projected picture
/// one metre high that is 50 mm, a twentieth of it.
pub(super) mod far {
    /// What everybody reads; of the size about two thirds are the letter itself.
    pub(crate) const TEXT: f32 = 0.076;
    /// What was said before.
    pub(crate) const ASIDE: f32 = 0.045;
    /// Counts of hands.
    pub(crate) const COUNT: f32 = 0.2;
    /// Width of the box of a count, in sizes of the word in it.
    pub(crate) const BOX: f32 = 5.2;
}

/// Distances in logical pixels; everything on the screen is set apart by one of these.
pub(super) mod space {
    /// Between things that belong to one line.
    pub(crate) const HAIR: f32 = 2.0;
    /// Between lines.
    pub(crate) const TIGHT: f32 = 4.0;
    /// Between a sign and its text.
    pub(crate) const SMALL: f32 = 8.0;
    /// Inside boxes.
    pub(crate) const MIDDLE: f32 = 12.0;
    /// Between groups.
    pub(crate) const LARGE: f32 = 20.0;
    /// Around whole screens.
    pub(crate) const WIDE: f32 = 36.0;
}

/// Sizes of fixed parts in logical pixels.
pub(super) mod part {
    /// Width of the picture beneath which there is little room for what stands under it.
    pub(crate) const NARROW: f32 = 620.0;
    /// The same, beneath which what stands there has no gaps.
    pub(crate) const CLOSE: f32 = 880.0;
    /// Height of the picture and what stands under it beneath which there is little room for the latter.
    pub(crate) const LOW: f32 = 480.0;
    /// Width of the paper.
    pub(crate) const PAPER: f32 = 470.0;
    /// Width of the slip of a sitting.
    pub(crate) const SLIP: f32 = 400.0;
    /// Width of the column of signs.
    pub(crate) const SIGN: f32 = 18.0;
    /// Width of the column of frame numbers.
    pub(crate) const FRAME: f32 = 56.0;
    /// Step by which what hangs under an element is set in.
    pub(crate) const HANG: f32 = 22.0;
    /// Height of a small picture of the ribbon.
    pub(crate) const SMALL_PICTURE: f32 = 60.0;
    /// Height of the clip line.
    pub(crate) const CLIP_LINE: f32 = 34.0;
    /// Width of a dialogue.
    pub(crate) const DIALOGUE: f32 = 560.0;
    /// Height of the list of recent clips at most.
    pub(crate) const RECENT: f32 = 260.0;
    /// Height of the list of what may be written at most.
    pub(crate) const OFFERS: f32 = 230.0;
    /// Width of a page of the rule book.
    pub(crate) const PAGE: f32 = 860.0;
    /// Width of the column of shorthands.
    pub(crate) const SHORTHAND: f32 = 64.0;
    /// Width of a field's label.
    pub(crate) const LABEL: f32 = 110.0;
    /// Height of what can be pressed, at least: a finger or an unsteady hand hits it.
    pub(crate) const TARGET: f32 = 28.0;
    /// Width of what a group of buttons is about.
    pub(crate) const OF_GROUP: f32 = 190.0;
    /// Rounding of corners.
    pub(crate) const ROUND: f32 = 4.0;
}

/// Text on the stage.
pub(super) const ON_STAGE: Tint = |c| c.on_stage;
/// Asides on the stage.
pub(super) const ON_STAGE_QUIET: Tint = |c| c.on_stage_quiet;
/// What is current or chosen on the stage.
pub(super) const STAGE_ACCENT: Tint = |c| c.stage_accent;
/// Text on the paper.
pub(super) const INK: Tint = |c| c.ink;
/// Asides on the paper.
pub(super) const INK_QUIET: Tint = |c| c.ink_quiet;
/// Met.
pub(super) const INK_MET: Tint = |c| c.ink_met;
/// Missed, taken off, failed.
pub(super) const INK_MISSED: Tint = |c| c.ink_missed;
/// Left open.
pub(super) const INK_OPEN: Tint = |c| c.ink_open;

fn ground(background: Color, text_color: Color) -> container::Style {
    container::Style {
        background: Some(background.into()),
        text_color: Some(text_color),
        ..container::Style::default()
    }
}

/// The dark ground.
pub(super) fn stage(theme: &Theme) -> container::Style {
    let c = colours(theme);
    ground(STAGE, c.on_stage)
}

/// A bar or box on the dark ground.
pub(super) fn stage_raised(theme: &Theme) -> container::Style {
    let c = colours(theme);
    ground(c.stage_raised, c.on_stage)
}

/// The paper.
pub(super) fn paper(theme: &Theme) -> container::Style {
    let c = colours(theme);
    ground(c.paper, c.ink)
}

/// A sheet of paper that lies over everything.
pub(super) fn sheet(theme: &Theme) -> container::Style {
    let c = colours(theme);
    container::Style {
        border: Border { color: c.paper_edge, width: 1.0, radius: part::ROUND.into() },
        ..ground(c.paper, c.ink)
    }
}

/// The list that the write line offers.
pub(super) fn offers(theme: &Theme) -> container::Style {
    let c = colours(theme);
    container::Style {
        border: Border { color: c.ink_accent, width: 1.0, radius: part::ROUND.into() },
        ..ground(c.paper, c.ink)
    }
}

/// The veil over everything else while a dialogue is open.
pub(super) fn veil(theme: &Theme) -> container::Style {
    let c = colours(theme);
    ground(Color { a: 0.72, ..STAGE }, c.on_stage)
}

/// A message of something that went wrong, on paper.
pub(super) fn complaint(theme: &Theme) -> container::Style {
    let c = colours(theme);
    container::Style {
        border: Border { color: c.ink_missed, width: 1.0, radius: part::ROUND.into() },
        ..ground(c.paper, c.ink)
    }
}

/// A key as it stands on the keyboard.
pub(super) fn key_cap(theme: &Theme) -> container::Style {
    let c = colours(theme);
    container::Style {
        border: Border { color: c.paper_edge, width: 1.0, radius: part::ROUND.into() },
        ..ground(c.paper_hover, c.ink)
    }
}

/// A small picture of the ribbon; the current one is framed.
pub(super) fn small_picture(current: Current) -> impl Fn(&Theme) -> container::Style {
    move |theme| {
        let c = colours(theme);
        container::Style {
            border: Border {
                color: if current == Current::Yes { c.stage_accent } else { c.stage_edge },
                width: if current == Current::Yes { 2.0 } else { 1.0 },
                radius: 0.0.into(),
            },
            ..ground(c.stage_raised, c.on_stage)
        }
    }
}

/// Whether something is the one that is shown or chosen now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Current {
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
pub(super) fn paper_line(current: Current) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |theme, status| {
        let c = colours(theme);
        let ground = match (current, status) {
            (Current::Yes, _) => c.paper_chosen,
            (_, button::Status::Hovered | button::Status::Pressed) => c.paper_hover,
            _ => Color::TRANSPARENT,
        };
        plain_button(ground, c.ink)
    }
}

/// The two lines around what has the focus, from outside: one of them is seen on any ground.
pub(super) const FOCUS: [Color; 2] = [STAGE, Color::WHITE];

/// The one thing to do next, on paper.
pub(super) fn main_button(theme: &Theme, status: button::Status) -> button::Style {
    let c = colours(theme);
    let ground = match status {
        button::Status::Hovered | button::Status::Pressed => c.ink,
        button::Status::Active => c.ink_accent,
        button::Status::Disabled => c.ink_quiet,
    };
    plain_button(ground, c.paper)
}

/// Something else to do, on paper.
pub(super) fn other_button(theme: &Theme, status: button::Status) -> button::Style {
    let c = colours(theme);
    let ground = match status {
        button::Status::Hovered | button::Status::Pressed => c.paper_hover,
        _ => Color::TRANSPARENT,
    };
    button::Style {
        border: Border { color: c.paper_edge, width: 1.0, radius: part::ROUND.into() },
        ..plain_button(ground, c.ink_accent)
    }
}

/// A button on the stage; the current one of a group is filled.
pub(super) fn stage_button(current: Current) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |theme, status| {
        let c = colours(theme);
        match (current, status) {
            (Current::Yes, _) => plain_button(c.stage_accent, STAGE),
            (_, button::Status::Hovered | button::Status::Pressed) => {
                plain_button(c.stage_edge, c.on_stage)
            }
            _ => plain_button(Color::TRANSPARENT, c.on_stage),
        }
    }
}

/// A count of hands on the stage; the one that is typed is framed.
pub(super) fn count_box(current: Current) -> impl Fn(&Theme, button::Status) -> button::Style {
    move |theme, _| {
        let c = colours(theme);
        let color = if current == Current::Yes { c.ink_accent } else { c.paper_edge };
        button::Style {
            border: Border { color, width: 3.0, radius: part::ROUND.into() },
            ..plain_button(c.paper, c.ink)
        }
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

/// A field that the screen itself writes into.
pub(super) fn own_field(current: Current) -> impl Fn(&Theme) -> container::Style {
    move |theme| {
        let c = colours(theme);
        container::Style {
            border: Border {
                color: if current == Current::Yes { c.ink_accent } else { c.ink_quiet },
                width: 1.0,
                radius: part::ROUND.into(),
            },
            ..ground(c.field, c.ink)
        }
    }
}

/// The lane in which a long paper is moved.
pub(super) fn lane(theme: &Theme, status: scrollable::Status) -> scrollable::Style {
    let mut style = scrollable::default(theme, status);
    style.vertical_rail.background = None;
    style.vertical_rail.scroller.background = Background::Color(colours(theme).paper_edge);
    style
}

/// A line between two parts of the paper.
pub(super) fn divider(theme: &Theme) -> rule::Style {
    let c = colours(theme);
    rule::Style {
        color: c.paper_edge,
        radius: 0.0.into(),
        fill_mode: rule::FillMode::Full,
        snap: true,
    }
}

/// Text in a given colour.
pub(super) fn ink(tint: Tint) -> impl Fn(&Theme) -> text::Style {
    move |theme| text::Style { color: Some(tint(colours(theme))) }
}
