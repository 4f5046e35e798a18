//! How many tiles the wall has room for.

use iced::Size;

use crate::window::theme;

/// What the wall has room for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Room {
    /// Tiles side by side.
    pub columns: u32,
    /// Height in logical pixels.
    pub height: f32,
    /// Height of a row of tiles with what is between them.
    pub row: f32,
}

impl Default for Room {
    fn default() -> Self {
        Self { columns: 4, height: 660.0, row: 220.0 }
    }
}

impl Room {
    /// Returns how tiles are laid in an area: pictures are as wide as most are filmed, 16 to 9.
    pub(super) fn of(area: Size) -> Self {
        let width = area.width - theme::space::LARGE;
        let columns = (width / COLUMN).floor().max(1.0);
        let tile = width / columns - theme::space::MIDDLE - 2.0 * theme::space::TIGHT;
        Self { columns: columns as u32, height: area.height, row: tile * 9.0 / 16.0 + UNDER }
    }
}

/// Height of what stands under a picture, with what is between rows.
pub(crate) const UNDER: f32 = 90.0;

/// Least width of a tile with what is between them, in logical pixels.
const COLUMN: f32 = 236.0;
