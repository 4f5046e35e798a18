use std::sync::atomic::{AtomicBool, Ordering};

use serde::{Deserialize, Serialize};

use crate::{
    footage::{
        libav::{Component, Description, Frame, PlaneView},
        limits::LARGEST_SIDE,
    },
    units::{Orientation, PictureField, PixelShape, Ticks, Upright},
};

use super::colour::{ColourSpace, Samples};

/// One decoded frame of a clip; cheap to share between threads.
pub struct Picture {
    /// Place in presentation order, counted from 0.
    pub frame: usize,
    /// When it is shown.
    pub ticks: Ticks,
    /// How its coded pixels become the upright picture.
    pub upright: Upright,
    /// How its samples become colours.
    pub colour: ColourSpace,
    /// Whether decoding met damage, so that parts of it may be wrong.
    pub damaged: bool,
    /// Whether it was made of two fields taken at different instants.
    pub interlaced: bool,
    layout: PixelLayout,
    data: Frame,
    /// Whether it was held against a proof of its clip.
    proved: AtomicBool,
}

/// How a picture's samples lie in its planes.
#[derive(Clone, Debug, PartialEq)]
pub struct PixelLayout {
    /// FFmpeg's name of the pixel format, for example `yuv420p10le`.
    pub name: String,
    /// What the planes hold.
    pub arrangement: Arrangement,
    /// Where each component lies: Y, Cb, Cr or R, G, B, then alpha.
    pub components: Vec<Component>,
    /// How often chroma width and height are halved against luma.
    pub chroma_shift: [u32; 2],
    /// Where the first chroma sample lies in luma samples, from the centre of the luma block it
    /// belongs to: (-0.5, 0) where it sits on the left luma sample, (0, 0) in the middle.
    pub chroma_offset: [f32; 2],
    /// Bits of a sample.
    pub depth: u32,
    /// Bytes of a sample as stored, 1 or 2.
    pub sample_bytes: usize,
    /// Whether two-byte samples have their high byte first.
    pub big_endian: bool,
}

/// What the planes of a picture hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// Luma alone.
    Gray,
    /// Luma and two chroma planes.
    Planar,
    /// Luma and one plane with both chromas in turn.
    SemiPlanar,
    /// Red, green and blue in planes of their own; the components say which is which.
    PlanarRgb,
    /// Anything else: several components in one plane, or a palette. Use
    /// [`Picture::to_rgba_upright`].
    Other,
}

/// What applies to a picture unless it says otherwise itself.
#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
pub(crate) struct Defaults {
    pub matrix: Option<[i32; 9]>,
    pub pixel_shape: (i32, i32),
}

/// Names a pixel format that is not shown.
#[derive(Debug)]
pub(crate) struct Unsupported(pub String);

impl Picture {
    pub(crate) fn new(
        (frame, ticks): (usize, Ticks),
        data: Frame,
        defaults: Defaults,
    ) -> Result<Self, Unsupported> {
        let description = data.description().ok_or_else(|| Unsupported("unknown".into()))?;
        let numbers = data.colour_numbers();
        let layout = PixelLayout::of(&description, numbers[4])?;
        let size = [data.width(), data.height()];
        if size.iter().any(|&side| side > LARGEST_SIDE) {
            return Err(Unsupported(format!(
                "{} of {} x {} pixels",
                layout.name, size[0], size[1]
            )));
        }
        let [matrix, range, transfer, primaries, _] = numbers;
        let colour = ColourSpace::settle(
            samples_of(&description),
            [matrix, range, transfer, primaries],
            size,
        );
        Ok(Self {
            frame,
            ticks,
            upright: upright(size, &data, defaults),
            colour,
            damaged: data.is_damaged(),
            interlaced: data.is_interlaced(),
            layout,
            data,
            proved: AtomicBool::new(false),
        })
    }

    /// Returns the picture as it was decoded.
    pub(crate) fn decoded(&self) -> &Frame {
        &self.data
    }

    /// Returns how the samples lie in the planes.
    pub fn layout(&self) -> &PixelLayout {
        &self.layout
    }

    /// Returns plane `index`, or nothing where the picture has fewer.
    pub fn plane(&self, index: usize) -> Option<PlaneView<'_>> {
        self.data.plane(index)
    }

    /// Returns width and height of plane `index` in samples.
    ///
    /// Halved chroma is rounded up, so that an odd picture keeps its last column and row.
    pub fn plane_size(&self, index: usize) -> [usize; 2] {
        let [w, h] = [self.data.width() as usize, self.data.height() as usize];
        if matches!(index, 1 | 2) {
            let [x, y] = self.layout.chroma_shift;
            [w.div_ceil(1 << x), h.div_ceil(1 << y)]
        } else {
            [w, h]
        }
    }

    /// Returns the display matrix that travels with the picture itself.
    pub(crate) fn matrix(&self) -> Option<[i32; 9]> {
        self.data.matrix()
    }

    /// Returns the 256 colours of a paletted picture as 0xAARRGGBB.
    pub(crate) fn palette(&self) -> Option<[u32; 256]> {
        (self.layout.name == "pal8").then(|| self.data.palette()).flatten()
    }

    /// Returns the bit of a white pixel, where a byte holds eight pixels, the first in its highest bit.
    pub(crate) fn white_bit(&self) -> Option<u8> {
        white_bit(&self.layout.name)
    }

    /// Returns the memory that the picture keeps alive, in bytes.
    pub fn bytes(&self) -> usize {
        self.data.bytes()
    }

    /// Returns a hash of the visible samples of all planes.
    pub fn hash(&self) -> u64 {
        hash(&self.data)
    }

    /// Returns whether it was held against a proof of its clip: number, time and samples are right.
    pub fn is_proved(&self) -> bool {
        self.proved.load(Ordering::Relaxed)
    }

    /// Says that it was.
    pub(crate) fn set_proved(&self) {
        self.proved.store(true, Ordering::Relaxed);
    }

    /// Returns the field that was taken first; nothing for progressive pictures.
    pub fn first_field(&self) -> Option<PictureField> {
        let first = if self.data.is_top_first() { PictureField::Top } else { PictureField::Bottom };
        self.interlaced.then_some(first)
    }
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Picture")
            .field("frame", &self.frame)
            .field("ticks", &self.ticks)
            .field("format", &self.layout.name)
            .finish_non_exhaustive()
    }
}

impl PixelLayout {
    fn of(description: &Description, chroma_place: i32) -> Result<Self, Unsupported> {
        let unsupported = || Unsupported(description.name.clone());
        let first = description.components.first().ok_or_else(unsupported)?;
        let refused = description.flags & REFUSED != 0 && white_bit(&description.name).is_none();
        if refused || first.depth > 16 || NOT_CONVERTED.contains(&&*description.name) {
            return Err(unsupported());
        }
        let sample_bytes = first.bytes;
        Ok(Self {
            name: description.name.clone(),
            arrangement: arrangement(description, sample_bytes),
            components: description.components.clone(),
            chroma_shift: description.chroma_shift,
            chroma_offset: chroma_offset(chroma_place, description),
            depth: first.depth,
            sample_bytes,
            big_endian: description.flags & BIG_ENDIAN != 0,
        })
    }
}

/// The colours of digital cinema (SMPTE ST 428), and three, three and two bits, whose place FFmpeg's
/// table and its documentation do not agree on: no camera at a gym writes either.
const NOT_CONVERTED: [&str; 3] = ["xyz12le", "xyz12be", "rgb8"];

/// Returns the bit of a white pixel in a picture of nothing but black and white, eight pixels in a
/// byte.
fn white_bit(name: &str) -> Option<u8> {
    match name {
        "monob" => Some(1),
        "monow" => Some(0),
        _ => None,
    }
}

// FFmpeg's pixel format flags (libavutil/pixdesc.h); the bindings' types differ by version.
const BIG_ENDIAN: u64 = 1;
const PALETTE: u64 = 1 << 1;
const BITSTREAM: u64 = 1 << 2;
const HARDWARE: u64 = 1 << 3;
const RGB: u64 = 1 << 5;
const BAYER: u64 = 1 << 8;
const FLOAT: u64 = 1 << 9;
const REFUSED: u64 = BITSTREAM | HARDWARE | BAYER | FLOAT;

fn samples_of(description: &Description) -> Samples {
    if description.flags & (RGB | PALETTE) != 0 {
        Samples::Rgb
    } else if description.components.len() < 3 {
        Samples::Luma
    } else if description.name.starts_with("yuvj") {
        Samples::LumaChromaFull
    } else {
        Samples::LumaChroma
    }
}

fn arrangement(description: &Description, sample_bytes: usize) -> Arrangement {
    let components = &description.components;
    let alone = |c: &Component| c.step == sample_bytes && c.offset == 0;
    if description.flags & (PALETTE | BITSTREAM) != 0 {
        return Arrangement::Other;
    }
    match components.as_slice() {
        [y] | [y, _] if alone(y) => Arrangement::Gray,
        [y, u, v, ..] if alone(y) && alone(u) && alone(v) => {
            if description.flags & RGB != 0 {
                Arrangement::PlanarRgb
            } else {
                Arrangement::Planar
            }
        }
        [y, u, v] if alone(y) && u.plane == 1 && v.plane == 1 => Arrangement::SemiPlanar,
        _ => Arrangement::Other,
    }
}

/// Returns where chroma lies; a picture that does not say has it on the left, as H.264 and HEVC
/// assume, and JPEG in the middle.
fn chroma_offset(place: i32, description: &Description) -> [f32; 2] {
    let full = description.name.starts_with("yuvj");
    // FFmpeg's numbers: 1 left, 2 centre, 3 top left, 4 top, 5 bottom left, 6 bottom.
    let (x, y) = match place {
        2 => (0.0, 0.0),
        3 => (-1.0, -1.0),
        4 => (0.0, -1.0),
        5 => (-1.0, 1.0),
        6 => (0.0, 1.0),
        0 if full => (0.0, 0.0),
        _ => (-1.0, 0.0),
    };
    let half = |shift: u32| ((1_u32 << shift) - 1) as f32 / 2.0;
    let [shift_x, shift_y] = description.chroma_shift;
    [x * half(shift_x), y * half(shift_y)]
}

fn upright([width, height]: [u32; 2], data: &Frame, defaults: Defaults) -> Upright {
    // What travels with the picture counts more for the turn; the container for the shape.
    let matrix = data.matrix().or(defaults.matrix);
    let shape = |(w, h): (i32, i32)| match (u32::try_from(w), u32::try_from(h)) {
        (Ok(width), Ok(height)) if width > 0 && height > 0 => Some(PixelShape { width, height }),
        _ => None,
    };
    let pixel = shape(defaults.pixel_shape).or_else(|| shape(data.pixel_shape()));
    Upright {
        coded_width: width,
        coded_height: height,
        pixel: pixel.filter(|&shape| plausible(shape)).unwrap_or(PixelShape::SQUARE),
        orientation: matrix.map_or(Orientation::UPRIGHT, orientation),
    }
}

/// No camera's pixels are ten times as wide as high; a file that says so would blow up memory.
fn plausible(shape: PixelShape) -> bool {
    let ratio = f64::from(shape.width) / f64::from(shape.height);
    (0.1..=10.0).contains(&ratio)
}

fn orientation(matrix: [i32; 9]) -> Orientation {
    let [a, b, _, c, d, ..] = matrix.map(f64::from);
    Orientation::from_matrix([a, b, c, d])
}

/// Bytes that are hashed at a time.
const PIECE: usize = 1 << 15;

/// Returns a hash of the visible samples of all planes.
pub(crate) fn hash(frame: &Frame) -> u64 {
    let mut hasher = blake3::Hasher::new();
    // Rows alone are too short for all lanes of the processor.
    let mut rows = Vec::with_capacity(2 * PIECE);
    for plane in (0..4).map_while(|index| frame.plane(index)) {
        for row in (0..plane.height).filter_map(|y| plane.row(y)) {
            rows.extend_from_slice(row);
            if rows.len() >= PIECE {
                hasher.update(&rows);
                rows.clear();
            }
        }
    }
    hasher.update(&rows);
    first_bytes(&hasher.finalize())
}

/// Returns as much of a hash as tells things of one clip apart.
pub(crate) fn first_bytes(hash: &blake3::Hash) -> u64 {
    let mut first = [0; 8];
    first.copy_from_slice(&hash.as_bytes()[..8]);
    u64::from_le_bytes(first)
}
