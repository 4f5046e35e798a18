//! What the graphics card is given of a picture: planes as they were decoded where it can read
//! them, three planes of colours made from them where it cannot.

use std::borrow::Cow;

use crate::{
    footage::{Arrangement, Picture, Primaries, Transfer},
    units::{Orientation, Upright},
};

/// How a picture is read by the shader.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Reading {
    /// Whether the planes are the decoded ones.
    pub planes: Planes,
    /// Bytes of a sample, 1 or 2.
    pub sample_bytes: usize,
    /// Number of planes, 1 or 3.
    pub count: usize,
    /// Largest code value.
    pub largest: f32,
    /// Factor and offset from coded pixels to chroma samples.
    pub chroma: [f32; 4],
    /// Three rows from samples to red, green and blue.
    pub rows: [[f32; 4]; 3],
    /// How dynamic range is brought down: 0 not, 1 HLG, 2 PQ; and 1 for wide primaries.
    pub tone: [f32; 2],
    /// How the planes stand upright.
    pub upright: Upright,
}

/// Which planes are uploaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Planes {
    /// The decoded ones.
    Decoded,
    /// Red, green and blue of the coded picture.
    Colours,
}

/// One plane to upload.
pub(crate) struct Plane<'a> {
    /// Its rows.
    pub bytes: Cow<'a, [u8]>,
    /// Bytes from one row's start to the next one's.
    pub stride: usize,
    /// Width and height in samples.
    pub size: [u32; 2],
}

impl Reading {
    /// Returns how a picture is read, turned otherwise than its file says where `turn` is given.
    pub(crate) fn of(picture: &Picture, turn: Option<Orientation>) -> Self {
        let upright =
            Upright { orientation: turn.unwrap_or(picture.upright.orientation), ..picture.upright };
        if is_readable(picture) { decoded(picture, upright) } else { colours(upright) }
    }

    /// Returns whether both are read from textures of the same sizes and depth.
    pub(crate) fn fits(&self, other: &Self) -> bool {
        let key = |it: &Self| {
            let Upright { coded_width, coded_height, .. } = it.upright;
            (
                it.planes,
                it.sample_bytes,
                it.count,
                it.chroma.map(f32::to_bits),
                [coded_width, coded_height],
            )
        };
        key(self) == key(other)
    }
}

/// Returns the planes of a picture, luma or red first.
pub(crate) fn planes(picture: &Picture, reading: Reading) -> Vec<Plane<'_>> {
    match reading.planes {
        Planes::Decoded => (0..reading.count).filter_map(|it| decoded_plane(picture, it)).collect(),
        Planes::Colours => colour_planes(picture),
    }
}

fn is_readable(picture: &Picture) -> bool {
    let layout = picture.layout();
    let arranged = matches!(
        layout.arrangement,
        Arrangement::Gray | Arrangement::Planar | Arrangement::PlanarRgb
    );
    let plain = layout.components.iter().take(3).all(|component| component.shift == 0);
    arranged && plain && !(layout.big_endian && layout.sample_bytes > 1)
}

fn decoded(picture: &Picture, upright: Upright) -> Reading {
    let layout = picture.layout();
    let [shift_x, shift_y] = layout.chroma_shift.map(|shift| 1.0 / (1_u32 << shift) as f32);
    let [offset_x, offset_y] = layout.chroma_offset;
    let tone = match picture.colour.transfer {
        Transfer::Sdr => 0.0,
        Transfer::Hlg => 1.0,
        Transfer::Pq => 2.0,
    };
    Reading {
        planes: Planes::Decoded,
        sample_bytes: layout.sample_bytes,
        count: if layout.arrangement == Arrangement::Gray { 1 } else { 3 },
        largest: ((1_u32 << layout.depth) - 1) as f32,
        chroma: [shift_x, shift_y, -offset_x * shift_x, -offset_y * shift_y],
        rows: picture.colour.to_rgb(layout.depth).map(|row| row.map(|number| number as f32)),
        tone: [tone, f32::from(u8::from(picture.colour.primaries == Primaries::Bt2020))],
        upright,
    }
}

fn colours(upright: Upright) -> Reading {
    Reading {
        planes: Planes::Colours,
        sample_bytes: 1,
        count: 3,
        largest: 255.0,
        chroma: [1.0, 1.0, 0.0, 0.0],
        rows: [[1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0]],
        tone: [0.0, 0.0],
        upright,
    }
}

fn decoded_plane(picture: &Picture, component: usize) -> Option<Plane<'_>> {
    let index = picture.layout().components.get(component)?.plane;
    let view = picture.plane(index)?;
    Some(Plane {
        bytes: Cow::Borrowed(view.bytes),
        stride: view.stride,
        size: picture.plane_size(index).map(|side| side as u32),
    })
}

fn colour_planes(picture: &Picture) -> Vec<Plane<'static>> {
    let image = picture.to_rgba();
    let size = [image.width(), image.height()];
    let plane = |channel: usize| Plane {
        bytes: image.pixels().map(|pixel| pixel.0[channel]).collect(),
        stride: size[0] as usize,
        size,
    };
    (0..3).map(plane).collect()
}
