use std::{ffi::CStr, ptr, slice, sync::Arc};

use ffmpeg_next::{
    ffi::{self, AVFrame, AVFrameSideDataType},
    frame::Video,
};

use super::{
    pool::{Piece, Pool},
    traits::Traits,
    values::{description, matrix_of, stamp_of},
};

/// Rows of one plane of a picture.
#[derive(Clone, Copy, Debug)]
pub struct PlaneView<'a> {
    /// The rows from the first to the last, `stride` bytes apart.
    pub bytes: &'a [u8],
    /// Bytes from one row's start to the next one's.
    pub stride: usize,
    /// Bytes of a row that belong to the picture.
    pub row_bytes: usize,
    /// Number of rows.
    pub height: usize,
}

impl<'a> PlaneView<'a> {
    /// Returns row `y`, or nothing beyond the last.
    pub fn row(&self, y: usize) -> Option<&'a [u8]> {
        self.bytes.get(y * self.stride..)?.get(..self.row_bytes)
    }
}

/// Where a component's samples lie; offsets in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Component {
    /// Index of the plane.
    pub plane: usize,
    /// Bytes from one sample to the next in a row.
    pub step: usize,
    /// Bytes before the first sample of a row.
    pub offset: usize,
    /// Unused bits below the sample's value.
    pub shift: u32,
    /// Bits of the sample's value.
    pub depth: u32,
    /// Bytes that hold the value and the unused bits below it, 1 or 2.
    pub bytes: usize,
}

impl Component {
    /// FFmpeg counts the bytes of a big-endian sample as if the last came first: where one byte of
    /// two holds the value, it is the next one (`av_read_image_line2` in libavutil/pixdesc.c).
    fn of(c: &ffi::AVComponentDescriptor, big_endian: bool) -> Self {
        let bytes = if c.shift + c.depth > 8 { 2 } else { 1 };
        let offset = c.offset + i32::from(big_endian && bytes == 1);
        Self {
            plane: c.plane as usize,
            step: c.step as usize,
            offset: usize::try_from(offset).unwrap_or_default(),
            shift: c.shift as u32,
            depth: c.depth as u32,
            bytes,
        }
    }
}

/// FFmpeg's description of a pixel format, as far as it is needed here.
#[derive(Clone, Debug)]
pub(crate) struct Description {
    pub name: String,
    pub components: Vec<Component>,
    pub chroma_shift: [u32; 2],
    pub flags: u64,
}

/// A decoded picture, shared by reference and never changed.
pub(crate) struct Frame {
    traits: Traits,
    samples: Samples,
}

enum Samples {
    /// As a decoder of this process left them.
    Decoded(Video),
    /// The rows of all planes without a gap, then the palette.
    Packed(Piece),
}

impl Frame {
    pub(super) fn new(video: Video) -> Self {
        // A picture stored upside down (raw AVI) is copied once, so that rows always run down.
        let video =
            if raw(&video).linesize.iter().any(|&line| line < 0) { video.clone() } else { video };
        Self { traits: traits(&video), samples: Samples::Decoded(video) }
    }

    /// Makes a picture of what was decoded elsewhere; `fill` writes its samples, packed. Nothing
    /// where no decoder makes such a picture, or there is no memory for it.
    pub(crate) fn packed<E>(
        traits: Traits,
        pool: &Arc<Pool>,
        fill: impl FnOnce(&mut [u8]) -> Result<(), E>,
    ) -> Result<Option<Self>, E> {
        let Some(mut piece) = traits.packed_bytes().and_then(|size| Pool::piece(pool, size)) else {
            return Ok(None);
        };
        fill(piece.bytes_mut())?;
        Ok(Some(Self { traits, samples: Samples::Packed(piece) }))
    }

    /// Returns what was told of the picture beside its samples.
    pub(crate) fn traits(&self) -> &Traits {
        &self.traits
    }

    /// Returns the ordinal of the packet that the picture came from.
    pub(crate) fn ordinal(&self) -> Option<u32> {
        self.traits.ordinal
    }

    pub(crate) fn width(&self) -> u32 {
        self.traits.width
    }

    pub(crate) fn height(&self) -> u32 {
        self.traits.height
    }

    pub(crate) fn is_damaged(&self) -> bool {
        self.traits.damaged
    }

    pub(crate) fn is_interlaced(&self) -> bool {
        self.traits.interlaced
    }

    pub(crate) fn is_top_first(&self) -> bool {
        self.traits.top_first
    }

    pub(crate) fn pixel_shape(&self) -> (i32, i32) {
        self.traits.pixel_shape
    }

    /// Returns matrix, range, transfer, primaries and chroma place by their numbers in
    /// ITU-T H.273 (range: 2 is full; chroma place: FFmpeg's own).
    pub(crate) fn colour_numbers(&self) -> [i32; 5] {
        self.traits.colour
    }

    /// Returns the display matrix that travels with the picture itself.
    pub(crate) fn matrix(&self) -> Option<[i32; 9]> {
        self.traits.matrix
    }

    /// Returns the pixel format's description, or nothing for one that FFmpeg does not know.
    pub(crate) fn description(&self) -> Option<Description> {
        let description = description(self.traits.format)?;
        let big_endian = description.flags & ffi::AV_PIX_FMT_FLAG_BE as u64 != 0;
        let component = |c: &ffi::AVComponentDescriptor| Component::of(c, big_endian);
        let count = usize::from(description.nb_components).min(4);
        // SAFETY: the names of FFmpeg's descriptions are static C strings.
        let name = unsafe { CStr::from_ptr(description.name) };
        Some(Description {
            name: name.to_string_lossy().into_owned(),
            components: description.comp[..count].iter().map(component).collect(),
            chroma_shift: [description.log2_chroma_w.into(), description.log2_chroma_h.into()],
            flags: description.flags,
        })
    }

    /// Returns plane `index`; a palette and memory of a graphics card are no planes.
    pub(crate) fn plane(&self, index: usize) -> Option<PlaneView<'_>> {
        let [row_bytes, height] = self.traits.plane(index)?;
        let video = match &self.samples {
            Samples::Decoded(video) => video,
            Samples::Packed(piece) => {
                let before = (0..index).map_while(|plane| self.traits.plane(plane));
                let start: usize = before.map(|[row, rows]| row * rows).sum();
                let bytes = piece.bytes().get(start..start + row_bytes * height)?;
                return Some(PlaneView { bytes, stride: row_bytes, row_bytes, height });
            }
        };
        let data = *raw(video).data.get(index)?;
        let stride = usize::try_from(*raw(video).linesize.get(index)?).ok()?;
        let row_bytes = row_bytes.min(stride);
        if data.is_null() || row_bytes == 0 {
            return None;
        }
        let length = stride * (height - 1) + row_bytes;
        // SAFETY: the decoder allocated `height` rows of `stride` bytes for this plane, the last
        // of them at least `row_bytes` long; the view borrows the frame, which is never changed.
        let bytes = unsafe { slice::from_raw_parts(data, length) };
        Some(PlaneView { bytes, stride, row_bytes, height })
    }

    /// Returns the 256 colours of a paletted picture as FFmpeg's native 0xAARRGGBB.
    pub(crate) fn palette(&self) -> Option<[u32; 256]> {
        let mut palette = [0_u32; 256];
        match &self.samples {
            Samples::Decoded(video) => {
                let data = raw(video).data[1];
                if data.is_null() {
                    return None;
                }
                // SAFETY: a paletted picture carries 1024 bytes of palette in its second plane.
                unsafe {
                    ptr::copy_nonoverlapping(data, palette.as_mut_ptr().cast::<u8>(), 1024);
                }
            }
            Samples::Packed(piece) => {
                let (colours, _) = piece.bytes().last_chunk::<1024>()?.as_chunks::<4>();
                for (colour, bytes) in palette.iter_mut().zip(colours) {
                    *colour = u32::from_ne_bytes(*bytes);
                }
            }
        }
        Some(palette)
    }

    /// Hands over all samples, packed, in pieces of any length.
    pub(crate) fn pack<E>(&self, mut take: impl FnMut(&[u8]) -> Result<(), E>) -> Result<(), E> {
        for plane in (0..4).map_while(|index| self.plane(index)) {
            for row in (0..plane.height).filter_map(|y| plane.row(y)) {
                take(row)?;
            }
        }
        if self.traits.has_palette() {
            let colours = self.palette().unwrap_or([0; 256]).map(u32::to_ne_bytes);
            take(colours.as_flattened())?;
        }
        Ok(())
    }

    /// Returns the memory that the picture keeps alive, in bytes.
    pub(crate) fn bytes(&self) -> usize {
        let video = match &self.samples {
            Samples::Decoded(video) => video,
            Samples::Packed(piece) => return piece.bytes().len(),
        };
        // SAFETY: each entry is null or a live buffer reference of this frame.
        let sizes = raw(video)
            .buf
            .iter()
            .map(|&buffer| unsafe { buffer.as_ref().map_or(0, |buffer| buffer.size) });
        sizes.sum()
    }
}

fn raw(video: &Video) -> &AVFrame {
    // SAFETY: the wrapper owns the frame for its whole life; nobody changes it once it is a
    // `Frame`.
    unsafe { &*video.as_ptr() }
}

fn traits(video: &Video) -> Traits {
    let raw = raw(video);
    // SAFETY: each field is an enumeration of C's int size, read as that integer.
    let colour = unsafe {
        [
            (&raw const raw.colorspace).cast::<i32>().read(),
            (&raw const raw.color_range).cast::<i32>().read(),
            (&raw const raw.color_trc).cast::<i32>().read(),
            (&raw const raw.color_primaries).cast::<i32>().read(),
            (&raw const raw.chroma_location).cast::<i32>().read(),
        ]
    };
    Traits {
        format: raw.format,
        width: video.width(),
        height: video.height(),
        ordinal: stamp_of(raw.pts),
        damaged: raw.flags & ffi::AV_FRAME_FLAG_CORRUPT != 0 || raw.decode_error_flags != 0,
        interlaced: video.is_interlaced(),
        top_first: video.is_top_first(),
        pixel_shape: (raw.sample_aspect_ratio.num, raw.sample_aspect_ratio.den),
        colour,
        matrix: matrix(video),
    }
}

fn matrix(video: &Video) -> Option<[i32; 9]> {
    let kind = AVFrameSideDataType::AV_FRAME_DATA_DISPLAYMATRIX;
    // SAFETY: the frame is alive; the side data belongs to it and is only read here.
    unsafe {
        let data = ffi::av_frame_get_side_data(video.as_ptr(), kind);
        if data.is_null() || (*data).data.is_null() {
            return None;
        }
        matrix_of(slice::from_raw_parts((*data).data, (*data).size))
    }
}
