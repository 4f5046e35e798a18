//! Moments of a clip on one picture.

use std::cell::RefCell;

use image::{RgbaImage, imageops};

use super::{
    error::HandoutError,
    progress::{Progress, Told, tell},
    still::{StillFormat, written},
    subject::{Ground, Subject, image_of, plain},
};
use crate::{
    figure::{self, Ink, Laid, Shape},
    footage::Decoder,
    units::Shown,
};

/// So many moments a picture has at least, and at most.
pub const FEWEST: usize = 4;
/// So many moments a picture has at most.
pub const MOST: usize = 24;

/// Longest side of the picture.
const LARGEST: f64 = 3840.0;
/// Width over height that it comes near to.
const RATIO: f64 = 1.6;
/// Pixels between two moments.
const GAP: u32 = 4;

/// Returns 4 to 24 frames beside and below each other, in the order given, each with what stands on it,
/// its number and its time; a PNG.
pub fn moments(
    subject: &Subject,
    frames: &[usize],
    ground: Ground,
    told: Told<'_>,
) -> Result<Vec<u8>, HandoutError> {
    if !(FEWEST..=MOST).contains(&frames.len()) {
        return Err(HandoutError::Moments { given: frames.len() });
    }
    subject.check(frames.iter().copied())?;
    let told = RefCell::new(told);
    let stop = || (told.borrow_mut())(Progress { done: 0, of: frames.len() }).is_break();
    let subject = subject.proved(&stop)?;
    let told = told.into_inner();
    if ground == Ground::Lines && frames.iter().all(|k| subject.drawings.on(*k).is_empty()) {
        let path = subject.footage.path().to_owned();
        return Err(HandoutError::NoLines { path, what: "any of these frames".to_owned() });
    }
    let sheet = Sheet::of(subject.size(), frames.len());
    let mut decoder = Decoder::new(&subject.footage, 2);
    let [width, height] = sheet.size();
    let mut whole = RgbaImage::from_pixel(width, height, plain());
    for (place, &k) in frames.iter().enumerate() {
        tell(told, place, frames.len())?;
        let tile = tile(&subject, &mut decoder, (k, ground), sheet.tile)?;
        let [x, y] = sheet.place(place);
        imageops::replace(&mut whole, &tile, i64::from(x), i64::from(y));
    }
    let bytes = written(whole, StillFormat::Png)?;
    tell(told, frames.len(), frames.len())?;
    Ok(bytes)
}

fn tile(
    subject: &Subject,
    decoder: &mut Decoder,
    (k, ground): (usize, Ground),
    [width, height]: [u32; 2],
) -> Result<RgbaImage, HandoutError> {
    let image = subject.image(decoder, k, ground)?;
    let own = [image.width(), image.height()];
    let image = if own == [width, height] {
        image
    } else {
        imageops::resize(&image, width, height, imageops::FilterType::Triangle)
    };
    let mut painted = subject.painted(image, k, ground)?;
    let ticks = subject.footage.table().entry(k).map(|entry| entry.ticks).unwrap_or_default();
    let seconds = subject.footage.facts().time_base.seconds(ticks);
    let corner = Shown([0.0, f64::from(height)]);
    let text = format!("frame {k}, {seconds:.2} s");
    let label = Shape::Label { at: corner, text, ink: Ink::Body };
    let laid = Laid::over([width, height], [0, 0], [width, height]);
    figure::paint(&mut painted.as_mut(), &[label], &laid);
    image_of(painted)
}

/// How moments lie on a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Sheet {
    columns: u32,
    rows: u32,
    tile: [u32; 2],
}

impl Sheet {
    /// Returns the columns that leave the fewest places empty and come nearest to a screen's shape.
    fn of(size: [u32; 2], count: usize) -> Self {
        let [w, h] = size.map(f64::from);
        let count = count as u32;
        let off = |columns: &u32| {
            let rows = count.div_ceil(*columns);
            let ratio = f64::from(*columns) * w / (f64::from(rows) * h);
            let empty = f64::from(*columns * rows - count) / f64::from(count);
            (ratio / RATIO).ln().abs() + empty
        };
        let columns = (1..=count).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(1);
        let rows = count.div_ceil(columns);
        let share = (LARGEST / (f64::from(columns) * w)).min(LARGEST / (f64::from(rows) * h));
        let tile = size.map(|side| ((f64::from(side) * share.min(1.0)).round() as u32).max(1));
        Self { columns, rows, tile }
    }

    fn size(&self) -> [u32; 2] {
        let [w, h] = self.tile;
        [self.columns * (w + GAP) - GAP, self.rows * (h + GAP) - GAP]
    }

    fn place(&self, moment: usize) -> [u32; 2] {
        let (moment, [w, h]) = (moment as u32, self.tile);
        [moment % self.columns * (w + GAP), moment / self.columns * (h + GAP)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_fill_a_picture_of_about_a_screens_shape() {
        for (size, count) in
            [([1920, 1080], 4), ([1920, 1080], 24), ([1080, 1920], 8), ([640, 480], 9)]
        {
            let sheet = Sheet::of(size, count);
            let [w, h] = sheet.size().map(f64::from);
            assert!(w.max(h) <= LARGEST + 100.0 && (0.8..3.2).contains(&(w / h)), "{w} {h}");
            let places = sheet.columns * sheet.rows;
            let filled = places - sheet.columns + 1..=places;
            assert!(filled.contains(&(count as u32)), "{sheet:?} for {count}");
        }
    }
}
