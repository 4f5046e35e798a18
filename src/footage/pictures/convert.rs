use image::{RgbaImage, imageops};

use crate::{
    footage::libav::{Component, PlaneView},
    units::{Orientation, Upright},
};

use super::{colour::Matrix, picture::Picture, tone::Tone};

impl Picture {
    /// Returns the whole picture upright, in square pixels and sRGB-like colours, 8 bits each.
    ///
    /// High dynamic range is brought down by one fixed formula (see `tone`). Chroma is
    /// interpolated linearly between its samples.
    pub fn to_rgba_upright(&self) -> RgbaImage {
        self.to_rgba_turned(None)
    }

    /// Returns the picture as [`Self::to_rgba_upright`] does, turned and mirrored as `turn` says,
    /// where a person has said it, instead of as its file does.
    pub fn to_rgba_turned(&self, turn: Option<Orientation>) -> RgbaImage {
        let coded = self.to_rgba();
        let pixel = self.upright.pixel;
        let orientation = turn.unwrap_or(self.upright.orientation);
        let [mut width, height] = Upright { orientation, ..self.upright }.shown_size();
        if orientation.swaps_sides() {
            width = height;
        }
        let square = if pixel.width == pixel.height {
            coded
        } else {
            imageops::resize(&coded, width, coded.height(), imageops::FilterType::Triangle)
        };
        let faced = if orientation.mirrored { imageops::flip_horizontal(&square) } else { square };
        match orientation.quarter_turns % 4 {
            0 => faced,
            1 => imageops::rotate90(&faced),
            2 => imageops::rotate180(&faced),
            _ => imageops::rotate270(&faced),
        }
    }

    /// Returns the picture as [`Self::to_rgba_turned`] does, `height` pixels high.
    pub(crate) fn to_small(&self, height: u32, turn: Option<Orientation>) -> RgbaImage {
        let full = self.to_rgba_turned(turn);
        let share = f64::from(height) / f64::from(full.height());
        let width = (f64::from(full.width()) * share).round().max(1.0) as u32;
        imageops::thumbnail(&full, width, height.max(1))
    }

    /// Returns the coded picture in colours, not turned and not stretched.
    pub(crate) fn to_rgba(&self) -> RgbaImage {
        let [width, height] = self.plane_size(0).map(|side| side as u32);
        let mut image = RgbaImage::new(width, height);
        if let Some(palette) = self.palette() {
            self.fill_from_palette(&mut image, &palette);
            return image;
        }
        if let Some(white) = self.white_bit() {
            self.fill_from_bits(&mut image, white);
            return image;
        }
        let channels = [0, 1, 2].map(|index| Channel::of(self, index));
        let tone = Tone::of(self.colour);
        let to_rgb = self.colour.to_rgb(self.layout().depth);
        let to_rgb = to_rgb.map(|row| row.map(|number| number as f32));
        let mut lines = [0, 1, 2].map(|_| vec![0.0; width as usize]);
        for (y, row) in image.rows_mut().enumerate() {
            for (channel, line) in channels.iter().zip(&mut lines) {
                channel.fill(y, line);
            }
            for (x, pixel) in row.enumerate() {
                let [a, b, c] = [lines[0][x], lines[1][x], lines[2][x]];
                let rgb = to_rgb.map(|m| m[0] * a + m[1] * b + m[2] * c + m[3]);
                let [r, g, b] = tone.apply(rgb).map(to_byte);
                pixel.0 = [r, g, b, 255];
            }
        }
        image
    }

    fn fill_from_palette(&self, image: &mut RgbaImage, palette: &[u32; 256]) {
        let Some(plane) = self.plane(0) else { return };
        for (y, row) in image.rows_mut().enumerate() {
            let indices = plane.row(y).unwrap_or_default();
            for (pixel, &index) in row.zip(indices) {
                let [_, r, g, b] = palette[usize::from(index)].to_be_bytes();
                pixel.0 = [r, g, b, 255];
            }
        }
    }

    fn fill_from_bits(&self, image: &mut RgbaImage, white: u8) {
        let Some(plane) = self.plane(0) else { return };
        for (y, row) in image.rows_mut().enumerate() {
            let bytes = plane.row(y).unwrap_or_default();
            let bits = bytes.iter().flat_map(|byte| (0..8).rev().map(move |bit| byte >> bit & 1));
            for (pixel, bit) in row.zip(bits) {
                let grey = if bit == white { 255 } else { 0 };
                pixel.0 = [grey, grey, grey, 255];
            }
        }
    }
}

fn to_byte(value: f32) -> u8 {
    (value * 255.0).round().clamp(0.0, 255.0) as u8
}

/// One colour component of a picture, read line by line at luma's resolution, from 0 to 1.
struct Channel<'a> {
    /// Nothing where the picture lacks the component.
    plane: Option<PlaneView<'a>>,
    component: Component,
    read: fn(&[u8]) -> Option<u16>,
    /// Value of a component that the picture lacks.
    middle: f32,
    /// Width and height in this channel's own samples.
    size: [usize; 2],
    shift: [u32; 2],
    offset: [f32; 2],
}

impl<'a> Channel<'a> {
    fn of(picture: &'a Picture, index: usize) -> Self {
        let layout = picture.layout();
        let lacks = layout.components.len() < 3 && index > 0;
        let component = layout.components[if lacks { 0 } else { index }];
        let halved = index > 0 && picture.colour.matrix != Matrix::Rgb;
        let (shift, offset) =
            if halved { (layout.chroma_shift, layout.chroma_offset) } else { ([0, 0], [0.0, 0.0]) };
        let [width, height] = picture.plane_size(0);
        Self {
            plane: if lacks { None } else { picture.plane(component.plane) },
            component,
            read: match (component.bytes, layout.big_endian) {
                (1, _) => |bytes| bytes.first().copied().map(u16::from),
                (_, false) => |bytes| bytes.first_chunk().copied().map(u16::from_le_bytes),
                (_, true) => |bytes| bytes.first_chunk().copied().map(u16::from_be_bytes),
            },
            middle: (1_u32 << (layout.depth - 1)) as f32 / largest(layout.depth),
            size: [width.div_ceil(1 << shift[0]), height.div_ceil(1 << shift[1])],
            shift,
            offset,
        }
    }

    /// Fills `line` with the channel's values for luma row `y`.
    fn fill(&self, y: usize, line: &mut [f32]) {
        let Some(plane) = self.plane else { return line.fill(self.middle) };
        let down = self.between(1, y);
        let upper = plane.row(down.first).unwrap_or_default();
        let lower = plane.row(down.second).unwrap_or_default();
        if self.shift[0] == 0 {
            for (x, value) in line.iter_mut().enumerate() {
                *value = down.mix(self.sample(upper, x), self.sample(lower, x));
            }
            return;
        }
        for (x, value) in line.iter_mut().enumerate() {
            let along = self.between(0, x);
            let row =
                |row| along.mix(self.sample(row, along.first), self.sample(row, along.second));
            *value = down.mix(row(upper), row(lower));
        }
    }

    /// Returns the samples on both sides of a luma position along an axis (0 is x, 1 is y).
    fn between(&self, axis: usize, luma: usize) -> Between {
        if self.shift[axis] == 0 {
            return Between { first: luma, second: luma, share: 0.0 };
        }
        let scale = (1_u32 << self.shift[axis]) as f32;
        let place = (luma as f32 + 0.5 - self.offset[axis]) / scale - 0.5;
        let last = self.size[axis] - 1;
        let first = place.floor().max(0.0) as usize;
        let share = (place - first as f32).max(0.0);
        Between { first: first.min(last), second: (first + 1).min(last), share }
    }

    fn sample(&self, row: &[u8], x: usize) -> f32 {
        let at = x * self.component.step + self.component.offset;
        let code = row.get(at..).and_then(self.read).unwrap_or_default();
        let code = code >> self.component.shift & ((1_u32 << self.component.depth) - 1) as u16;
        f32::from(code) / largest(self.component.depth)
    }
}

/// Two neighbouring samples and how far a point lies from the first towards the second.
struct Between {
    first: usize,
    second: usize,
    share: f32,
}

impl Between {
    fn mix(&self, first: f32, second: f32) -> f32 {
        first + (second - first) * self.share
    }
}

fn largest(depth: u32) -> f32 {
    ((1_u32 << depth) - 1) as f32
}
