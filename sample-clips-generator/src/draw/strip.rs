//! The frame's number, drawn into the coded picture as black and white cells.

use anyhow::ensure;
use clap::ValueEnum;
use serde::{Deserialize, Serialize};

/// How large the cells are. Bit 0 of the frame's number is leftmost; white is 1.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ValueEnum)]
#[serde(rename_all = "lowercase")]
pub enum Strip {
    /// 8 by 8 pixels each, in the top left corner.
    #[default]
    Small,
    /// A sixteenth of the picture's width each, 16 rows high.
    Full,
    /// No strip.
    None,
}

/// How many cells there are.
pub(super) const CELLS: u32 = 16;

impl Strip {
    /// Returns the columns of cell `i` in a picture `width` pixels wide, the second excluded.
    pub fn columns(self, i: u32, width: u32) -> (u32, u32) {
        match self {
            Self::Small => (8 * i, 8 * i + 8),
            Self::Full => (i * width / CELLS, (i + 1) * width / CELLS),
            Self::None => (0, 0),
        }
    }

    /// Returns how many rows from the top the cells cover.
    pub fn rows(self) -> u32 {
        match self {
            Self::Small => 8,
            Self::Full => 16,
            Self::None => 0,
        }
    }

    /// Draws `number` into an RGBA picture `width` pixels wide.
    pub fn draw(self, rgba: &mut [u8], width: u32, number: u64) {
        for y in 0..self.rows() {
            for cell in 0..CELLS {
                let value = if number >> cell & 1 == 1 { 255 } else { 0 };
                let (from, to) = self.columns(cell, width);
                let row = (y * width) as usize * 4;
                let cells = &mut rgba[row + from as usize * 4..row + to as usize * 4];
                cells
                    .chunks_exact_mut(4)
                    .for_each(|p| p.copy_from_slice(&[value, value, value, 255]));
            }
        }
    }
}

/// Reads the number back from a plane of luma (or any grey) with `stride` bytes to a row.
///
/// Looks at the inner half of each cell. Fails where a cell is neither black nor white.
pub fn read_strip(strip: Strip, luma: &[u8], width: u32, stride: usize) -> anyhow::Result<u64> {
    ensure!(strip != Strip::None, "the clip has no strip");
    let mut number = 0;
    for cell in 0..CELLS {
        let (from, to) = strip.columns(cell, width);
        let quarter = (to - from) / 4;
        let (mut sum, mut count) = (0u64, 0u64);
        for y in strip.rows() / 4..strip.rows() * 3 / 4 {
            for x in from + quarter..to - quarter {
                let at = y as usize * stride + x as usize;
                let value = luma.get(at).copied();
                ensure!(value.is_some(), "the picture is too small for its strip");
                sum += u64::from(value.unwrap_or_default());
                count += 1;
            }
        }
        let mean = sum / count.max(1);
        ensure!(!(96..=160).contains(&mean), "cell {cell} is grey ({mean})");
        number |= u64::from(mean > 128) << cell;
    }
    Ok(number)
}
