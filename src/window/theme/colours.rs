//! The colours of each look, and the proof that everything can be read in all of them.

use iced::{Color, Theme, theme::Palette};
use serde::{Deserialize, Serialize};

/// Which colours the window wears.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Look {
    /// Dark ink on light paper.
    #[default]
    Light,
    /// Light ink on dark paper, for a dim gym.
    Dark,
    /// White and strong colours on black.
    HighContrast,
}

impl Look {
    /// All looks in the order in which one follows the other.
    pub(crate) const ALL: [Self; 3] = [Self::Light, Self::Dark, Self::HighContrast];

    /// Returns the look after this one.
    #[must_use]
    pub(crate) const fn next(self) -> Self {
        match self {
            Self::Light => Self::Dark,
            Self::Dark => Self::HighContrast,
            Self::HighContrast => Self::Light,
        }
    }

    /// Returns the look in words.
    pub(crate) const fn says(self) -> &'static str {
        match self {
            Self::Light => "Light paper",
            Self::Dark => "Dark paper",
            Self::HighContrast => "High contrast",
        }
    }

    const fn colours(self) -> &'static Colours {
        match self {
            Self::Light => &LIGHT,
            Self::Dark => &DARK,
            Self::HighContrast => &HIGH_CONTRAST,
        }
    }

    /// Returns the iced theme whose defaults are those of the paper.
    pub(crate) fn theme(self) -> Theme {
        let colours = self.colours();
        let palette = Palette {
            background: colours.paper,
            text: colours.ink,
            primary: colours.ink_accent,
            success: colours.ink_met,
            warning: colours.ink_open,
            danger: colours.ink_missed,
        };
        Theme::custom(self.says(), palette)
    }
}

/// Returns the colours that belong to an iced theme.
pub(crate) fn colours(theme: &Theme) -> &'static Colours {
    let paper = theme.palette().background;
    let looks = Look::ALL.map(Look::colours);
    looks.into_iter().find(|colours| colours.paper == paper).unwrap_or(&LIGHT)
}

/// One colour of whatever look is worn.
pub(crate) type Tint = fn(&Colours) -> Color;

/// Every colour of one look.
#[derive(Debug)]
pub(crate) struct Colours {
    /// Bars and boxes on the stage.
    pub stage_raised: Color,
    /// Lines on the stage, and a button on it under the pointer.
    pub stage_edge: Color,
    /// Text on the stage.
    pub on_stage: Color,
    /// Asides on the stage.
    pub on_stage_quiet: Color,
    /// What is current or chosen on the stage.
    pub stage_accent: Color,
    /// The paper.
    pub paper: Color,
    /// A chosen line on the paper.
    pub paper_chosen: Color,
    /// A line of the paper under the pointer.
    pub paper_hover: Color,
    /// Lines drawn on the paper.
    pub paper_edge: Color,
    /// The ground of a field to write in.
    pub field: Color,
    /// Text on the paper.
    pub ink: Color,
    /// Asides on the paper.
    pub ink_quiet: Color,
    /// What leads somewhere.
    pub ink_accent: Color,
    /// Met.
    pub ink_met: Color,
    /// Missed, taken off, failed.
    pub ink_missed: Color,
    /// Left open.
    pub ink_open: Color,
}

const fn rgb(hex: u32) -> Color {
    Color::from_rgb8((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

/// The ground under the frame: dark in every look, so that nothing outshines the picture.
pub(crate) const STAGE: Color = rgb(0x0012_181B);

const LIGHT: Colours = Colours {
    stage_raised: rgb(0x001C_2529),
    stage_edge: rgb(0x0034_4247),
    on_stage: rgb(0x00E9_E6DE),
    on_stage_quiet: rgb(0x00A3_B0B5),
    stage_accent: rgb(0x006C_C7BD),
    paper: rgb(0x00F3_EFE6),
    paper_chosen: rgb(0x00D9_E6E0),
    paper_hover: rgb(0x00E9_E4D8),
    paper_edge: rgb(0x00CB_C4B4),
    field: Color::WHITE,
    ink: rgb(0x001F_2A2E),
    ink_quiet: rgb(0x0051_5E63),
    ink_accent: rgb(0x000B_5F5C),
    ink_met: rgb(0x0021_6238),
    ink_missed: rgb(0x0098_2A20),
    ink_open: rgb(0x0077_4700),
};

const DARK: Colours = Colours {
    paper: rgb(0x0020_282B),
    paper_chosen: rgb(0x002D_4542),
    paper_hover: rgb(0x002A_3437),
    paper_edge: rgb(0x0047_5559),
    field: rgb(0x0014_1A1D),
    ink: rgb(0x00EC_E8DF),
    ink_quiet: rgb(0x00B4_BEC1),
    ink_accent: rgb(0x007F_D3C9),
    ink_met: rgb(0x008F_D3A0),
    ink_missed: rgb(0x00F4_A69D),
    ink_open: rgb(0x00F0_C27A),
    ..LIGHT
};

const HIGH_CONTRAST: Colours = Colours {
    stage_raised: Color::BLACK,
    stage_edge: rgb(0x0060_6060),
    on_stage: Color::WHITE,
    on_stage_quiet: rgb(0x00E6_E6E6),
    stage_accent: rgb(0x00FF_E04A),
    paper: Color::BLACK,
    paper_chosen: rgb(0x0000_345C),
    paper_hover: rgb(0x0022_2222),
    paper_edge: rgb(0x00C8_C8C8),
    field: Color::BLACK,
    ink: Color::WHITE,
    ink_quiet: rgb(0x00E6_E6E6),
    ink_accent: rgb(0x00FF_E04A),
    ink_met: rgb(0x007C_FF9B),
    ink_missed: rgb(0x00FF_B0A8),
    ink_open: rgb(0x00FF_D08A),
};

#[cfg(test)]
mod tests {
    use super::*;

    /// Every ink of the paper may stand on each of its grounds, and likewise on the stage: the
    /// whole product is checked, so that no pair can be forgotten.
    fn pairs(colours: &Colours) -> Vec<(Color, Color)> {
        let paper_inks = [
            colours.ink,
            colours.ink_quiet,
            colours.ink_accent,
            colours.ink_met,
            colours.ink_missed,
            colours.ink_open,
        ];
        let papers = [colours.paper, colours.paper_chosen, colours.paper_hover, colours.field];
        let stage_inks = [colours.on_stage, colours.on_stage_quiet, colours.stage_accent];
        let stages = [STAGE, colours.stage_raised, colours.stage_edge];
        let product = |inks: &[Color], grounds: &[Color]| -> Vec<(Color, Color)> {
            inks.iter().flat_map(|ink| grounds.iter().map(|ground| (*ink, *ground))).collect()
        };
        let mut pairs = product(&paper_inks, &papers);
        pairs.extend(product(&stage_inks, &stages));
        // Filled buttons: the ground's own colour is the ink.
        pairs.extend([(colours.paper, colours.ink_accent), (colours.paper, colours.ink)]);
        pairs.extend([(STAGE, colours.stage_accent), (colours.paper, colours.ink_quiet)]);
        pairs
    }

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
    fn every_text_and_sign_can_be_read_on_its_ground_in_every_look() {
        for look in Look::ALL {
            for (ink, ground) in pairs(look.colours()) {
                let ratio = contrast(ink, ground);
                assert!(ratio >= 4.5, "{look:?}: {ink:?} on {ground:?}: {ratio}");
            }
        }
    }

    #[test]
    fn a_theme_leads_back_to_its_colours() {
        for look in Look::ALL {
            assert!(std::ptr::eq(colours(&look.theme()), look.colours()), "{look:?}");
        }
    }
}
