//! Pictures as an encoder takes them: 8 bits, halved chroma, limited range, upright.

use image::RgbaImage;

use super::{
    colour::{Matrix, Primaries, SampleRange, Transfer},
    picture::{Arrangement, Picture},
    scale::scaled,
};
use crate::{footage::libav::PlaneView, units::Orientation};

/// How the samples of [`Planes`] become colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FilmColour {
    /// BT.601 or BT.709.
    matrix: Matrix,
    /// Transfer and primaries by their numbers in ITU-T H.273.
    transfer: i32,
    primaries: i32,
}

impl FilmColour {
    /// What everything is converted to that is not of standard definition.
    pub const BT709: Self = Self { matrix: Matrix::Bt709, transfer: 1, primaries: 1 };

    /// Returns the colours in which a film made of such pictures changes least.
    pub fn of(picture: &Picture) -> Self {
        let [_, _, transfer, primaries, _] = picture.decoded().colour_numbers();
        // Curves and primaries of ordinary screens, which are shown as they are.
        let known = |number: i32, usual: i32| {
            if matches!(number, 1 | 4 | 5 | 6 | 7 | 13) { number } else { usual }
        };
        let usual = match picture.colour.matrix {
            Matrix::Bt601 => Self { matrix: Matrix::Bt601, transfer: 6, primaries: 6 },
            _ => Self::BT709,
        };
        if !is_plain(picture) || picture.colour.matrix != usual.matrix {
            return usual;
        }
        Self {
            transfer: known(transfer, usual.transfer),
            primaries: known(primaries, usual.primaries),
            ..usual
        }
    }

    /// Returns matrix, transfer and primaries by their numbers in ITU-T H.273.
    pub(crate) fn numbers(self) -> [i32; 3] {
        let matrix = if self.matrix == Matrix::Bt601 { 6 } else { 1 };
        [matrix, self.transfer, self.primaries]
    }

    /// Returns three rows of four numbers: what red, green, blue (0 to 255, times what they cover) and
    /// what they cover (0 to 255) add up to in a sample.
    fn shares(self) -> [[f32; 4]; 3] {
        let (kr, kb) = self.matrix.red_and_blue();
        let kg = 1.0 - kr - kb;
        let (luma, chroma) = (219.0 / 255.0, 224.0 / 255.0);
        let blue = chroma / (2.0 * (1.0 - kb));
        let red = chroma / (2.0 * (1.0 - kr));
        let (black, middle) = (16.0 / 255.0, 128.0 / 255.0);
        [
            [kr * luma, kg * luma, kb * luma, black],
            [-kr * blue, -kg * blue, (1.0 - kb) * blue, middle],
            [(1.0 - kr) * red, -kg * red, -kb * red, middle],
        ]
        .map(|row| row.map(|number: f64| number as f32))
    }
}

/// Luma and two chroma planes, rows without a gap; width and height are even.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planes {
    size: [usize; 2],
    colour: FilmColour,
    samples: [Vec<u8>; 3],
}

/// A painting laid over a picture: red, green, blue and what they cover, each already times that, rows
/// without a gap.
#[derive(Clone, Copy, Debug)]
pub struct Painted<'a> {
    /// Four bytes for each pixel.
    pub rgba: &'a [u8],
    /// Pixels of a row.
    pub width: usize,
}

impl Planes {
    /// Returns one colour all over.
    pub fn filled(size: [u32; 2], [r, g, b]: [u8; 3], colour: FilmColour) -> Self {
        let size = even(size);
        let samples = colour.shares().map(|row| sum(row, [r, g, b, 255].map(f32::from)));
        let lengths = [0, 1, 2].map(|plane| area(size, plane));
        let samples = [0, 1, 2].map(|plane| vec![samples[plane] as u8; lengths[plane]]);
        Self { size, colour, samples }
    }

    /// Returns a picture upright, or turned as a person says; an odd side is made even by its last row
    /// or column once more.
    pub fn of(picture: &Picture, turn: Option<Orientation>, colour: FilmColour) -> Self {
        let turn = turn.unwrap_or(picture.upright.orientation);
        Self::plainly(picture, turn, colour)
            .unwrap_or_else(|| Self::of_rgba(&picture.to_rgba_turned(Some(turn)), colour))
    }

    /// Takes the samples as they are, where they are of this very kind.
    fn plainly(picture: &Picture, turn: Orientation, colour: FilmColour) -> Option<Self> {
        let [w, h] = picture.plane_size(0);
        let fits = is_plain(picture) && picture.colour.matrix == colour.matrix;
        if !fits || w % 2 == 1 || h % 2 == 1 {
            return None;
        }
        let size = if turn.swaps_sides() { [h, w] } else { [w, h] };
        let full = picture.colour.range == SampleRange::Full;
        let samples = [0, 1, 2].map(|index| {
            let plane = picture.plane(index)?;
            let mut samples = turned(&plane, picture.plane_size(index), turn)?;
            if full {
                let table = limited(index > 0);
                for sample in &mut samples {
                    *sample = table[usize::from(*sample)];
                }
            }
            Some(samples)
        });
        let [y, u, v] = samples;
        Some(Self { size, colour, samples: [y?, u?, v?] })
    }

    fn of_rgba(image: &RgbaImage, colour: FilmColour) -> Self {
        let [width, height] = [image.width() as usize, image.height() as usize];
        let mut planes = Self::filled([width as u32, height as u32], [0; 3], colour);
        let rows = colour.shares();
        let at = |x: usize, y: usize| {
            let pixel = image.get_pixel(x.min(width - 1) as u32, y.min(height - 1) as u32);
            pixel.0.map(f32::from)
        };
        let [w, h] = planes.size;
        let [luma, blue, red] = &mut planes.samples;
        for y in 0..h {
            for x in 0..w {
                luma[y * w + x] = byte(sum(rows[0], at(x, y)));
            }
        }
        for (place, (blue, red)) in blue.iter_mut().zip(red).enumerate() {
            let [x, y] = [place % (w / 2) * 2, place / (w / 2) * 2];
            let four = [at(x, y), at(x + 1, y), at(x, y + 1), at(x + 1, y + 1)];
            let mean = [0, 1, 2, 3].map(|part| four.iter().map(|one| one[part]).sum::<f32>() / 4.0);
            (*blue, *red) = (byte(sum(rows[1], mean)), byte(sum(rows[2], mean)));
        }
        planes
    }

    /// Returns width and height.
    pub fn size(&self) -> [u32; 2] {
        self.size.map(|side| side as u32)
    }

    /// Returns the samples of luma, blue and red.
    pub(crate) fn samples(&self) -> [&[u8]; 3] {
        [&self.samples[0], &self.samples[1], &self.samples[2]]
    }

    /// Returns it in another size.
    #[must_use]
    pub fn scaled(self, size: [u32; 2]) -> Self {
        let size = even(size);
        if size == self.size {
            return self;
        }
        let of =
            |plane: usize| scaled(&self.samples[plane], side(self.size, plane), side(size, plane));
        Self { size, colour: self.colour, samples: [0, 1, 2].map(of) }
    }

    /// Lays another picture over this one at an even place: half of each is seen where `half` says so.
    pub fn lay(&mut self, other: &Self, [x, y]: [u32; 2], half: bool) {
        for plane in 0..3 {
            let shift = usize::from(plane > 0);
            let [x, y] = [x as usize >> shift, y as usize >> shift];
            let ([width, _], [from, _]) = (side(self.size, plane), side(other.size, plane));
            let rows = self.samples[plane].chunks_exact_mut(width).skip(y);
            for (to, from) in rows.zip(other.samples[plane].chunks_exact(from)) {
                let to = to.iter_mut().skip(x);
                for (to, from) in to.zip(from) {
                    *to = if half {
                        (u16::from(*to) + u16::from(*from)).div_ceil(2) as u8
                    } else {
                        *from
                    };
                }
            }
        }
    }

    /// Lays a painting of the same size over it, within rows and columns from `from` to before `to`.
    pub fn paint(&mut self, painted: Painted<'_>, from: [usize; 2], to: [usize; 2]) {
        let [w, h] = self.size;
        let rows = self.colour.shares();
        let [luma, blue, red] = &mut self.samples;
        let pixel = |x: usize, y: usize| {
            let at = (y * painted.width + x) * 4;
            let four = painted.rgba.get(at..at + 4).and_then(|four| four.first_chunk::<4>());
            four.copied().unwrap_or_default()
        };
        let [left, top] = from.map(|side| side & !1);
        let [right, bottom] = [to[0].min(w), to[1].min(h)];
        for y in (top..bottom).step_by(2) {
            for x in (left..right).step_by(2) {
                let four = [[x, y], [x + 1, y], [x, y + 1], [x + 1, y + 1]];
                let pixels = four.map(|[x, y]| pixel(x, y));
                if pixels.iter().all(|pixel| pixel[3] == 0) {
                    continue;
                }
                for ([x, y], pixel) in four.into_iter().zip(pixels) {
                    over(&mut luma[y * w + x], rows[0], pixel.map(f32::from));
                }
                let sums = [0, 1, 2, 3]
                    .map(|part| pixels.iter().map(|it| f32::from(it[part])).sum::<f32>());
                let mean = sums.map(|sum| sum / 4.0);
                let place = y / 2 * (w / 2) + x / 2;
                over(&mut blue[place], rows[1], mean);
                over(&mut red[place], rows[2], mean);
            }
        }
    }
}

/// Returns whether a picture's samples are of the kind that is taken as it is.
fn is_plain(picture: &Picture) -> bool {
    let (layout, colour) = (picture.layout(), picture.colour);
    let pixel = picture.upright.pixel;
    layout.arrangement == Arrangement::Planar
        && layout.chroma_shift == [1, 1]
        && layout.depth == 8
        && layout.components.first().is_some_and(|it| it.shift == 0)
        && colour.transfer == Transfer::Sdr
        && colour.primaries == Primaries::Bt709
        && pixel.width == pixel.height
}

/// Returns a plane mirrored and turned, rows without a gap.
fn turned(plane: &PlaneView<'_>, [w, h]: [usize; 2], turn: Orientation) -> Option<Vec<u8>> {
    let rows: Option<Vec<&[u8]>> = (0..h).map(|y| plane.row(y)?.get(..w)).collect();
    let rows = rows?;
    let quarters = turn.quarter_turns % 4;
    let mut samples = Vec::with_capacity(w * h);
    if quarters.is_multiple_of(2) {
        // Half a turn is both ways round; mirrored, one of them is undone.
        let across = (quarters == 2) != turn.mirrored;
        for y in 0..h {
            let row = rows[if quarters == 2 { h - 1 - y } else { y }];
            if across { samples.extend(row.iter().rev()) } else { samples.extend(row) }
        }
        return Some(samples);
    }
    for x in 0..w {
        // Clockwise the left column becomes the top row, from its foot on.
        let x = if (quarters == 3) == turn.mirrored { x } else { w - 1 - x };
        let column = rows.iter().map(|row| row[x]);
        if quarters == 1 { samples.extend(column.rev()) } else { samples.extend(column) }
    }
    Some(samples)
}

/// Returns what each full-range sample is in limited range.
fn limited(chroma: bool) -> [u8; 256] {
    let mut table = [0; 256];
    for (code, to) in table.iter_mut().enumerate() {
        let code = code as f32;
        *to = byte(if chroma {
            (code - 128.0).mul_add(224.0 / 255.0, 128.0)
        } else {
            code.mul_add(219.0 / 255.0, 16.0)
        });
    }
    table
}

fn even(size: [u32; 2]) -> [usize; 2] {
    size.map(|side| (side.max(1) as usize).next_multiple_of(2))
}

/// Width and height of a plane.
fn side(size: [usize; 2], plane: usize) -> [usize; 2] {
    if plane == 0 { size } else { size.map(|side| side / 2) }
}

fn area(size: [usize; 2], plane: usize) -> usize {
    let [w, h] = side(size, plane);
    w * h
}

fn sum(row: [f32; 4], of: [f32; 4]) -> f32 {
    row.iter().zip(of).map(|(share, part)| share * part).sum()
}

/// Lays what is painted over a sample.
fn over(sample: &mut u8, row: [f32; 4], painted: [f32; 4]) {
    let left = 1.0 - painted[3] / 255.0;
    *sample = byte(f32::from(*sample).mul_add(left, sum(row, painted)));
}

fn byte(value: f32) -> u8 {
    value.round().clamp(0.0, 255.0) as u8
}
