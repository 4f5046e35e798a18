use std::{ffi::CStr, ptr, slice};

use ffmpeg_next::{
    ffi::{self, AVFrame, AVFrameSideDataType, AVPixelFormat},
    frame::Video,
};

use super::values::{matrix_of, pixel_format, stamp_of};

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
    video: Video,
}

impl Frame {
    pub(super) fn new(video: Video) -> Self {
        let frame = Self { video };
        // A picture stored upside down (raw AVI) is copied once, so that rows always run down.
        if frame.raw().linesize.iter().any(|&line| line < 0) {
            Self { video: frame.video.clone() }
        } else {
            frame
        }
    }

    fn raw(&self) -> &AVFrame {
        // SAFETY: the wrapper owns the frame for its whole life; nobody changes it after `new`.
        unsafe { &*self.video.as_ptr() }
    }

    /// Returns the ordinal of the packet that the picture came from.
    pub(crate) fn ordinal(&self) -> Option<u32> {
        stamp_of(self.raw().pts)
    }

    pub(crate) fn width(&self) -> u32 {
        self.video.width()
    }

    pub(crate) fn height(&self) -> u32 {
        self.video.height()
    }

    pub(crate) fn is_damaged(&self) -> bool {
        self.raw().flags & ffi::AV_FRAME_FLAG_CORRUPT != 0 || self.raw().decode_error_flags != 0
    }

    pub(crate) fn is_interlaced(&self) -> bool {
        self.video.is_interlaced()
    }

    pub(crate) fn is_top_first(&self) -> bool {
        self.video.is_top_first()
    }

    pub(crate) fn pixel_shape(&self) -> (i32, i32) {
        (self.raw().sample_aspect_ratio.num, self.raw().sample_aspect_ratio.den)
    }

    /// Returns matrix, range, transfer, primaries and chroma place by their numbers in
    /// ITU-T H.273 (range: 2 is full; chroma place: FFmpeg's own).
    pub(crate) fn colour_numbers(&self) -> [i32; 5] {
        let raw = self.raw();
        // SAFETY: each field is an enumeration of C's int size, read as that integer.
        unsafe {
            [
                (&raw const raw.colorspace).cast::<i32>().read(),
                (&raw const raw.color_range).cast::<i32>().read(),
                (&raw const raw.color_trc).cast::<i32>().read(),
                (&raw const raw.color_primaries).cast::<i32>().read(),
                (&raw const raw.chroma_location).cast::<i32>().read(),
            ]
        }
    }

    /// Returns the display matrix that travels with the picture itself.
    pub(crate) fn matrix(&self) -> Option<[i32; 9]> {
        let kind = AVFrameSideDataType::AV_FRAME_DATA_DISPLAYMATRIX;
        // SAFETY: the frame is alive; the side data belongs to it and is only read here.
        unsafe {
            let data = ffi::av_frame_get_side_data(self.video.as_ptr(), kind);
            if data.is_null() || (*data).data.is_null() {
                return None;
            }
            matrix_of(slice::from_raw_parts((*data).data, (*data).size))
        }
    }

    /// Returns the pixel format's description, or nothing for one that FFmpeg does not know.
    pub(crate) fn description(&self) -> Option<Description> {
        // SAFETY: FFmpeg returns null or a static description; its names are static C strings;
        // the number of components is at most four.
        unsafe {
            let description = ffi::av_pix_fmt_desc_get(self.format()?).as_ref()?;
            let big_endian = description.flags & ffi::AV_PIX_FMT_FLAG_BE as u64 != 0;
            let component = |c: &ffi::AVComponentDescriptor| Component::of(c, big_endian);
            let count = usize::from(description.nb_components).min(4);
            Some(Description {
                name: CStr::from_ptr(description.name).to_string_lossy().into_owned(),
                components: description.comp[..count].iter().map(component).collect(),
                chroma_shift: [description.log2_chroma_w.into(), description.log2_chroma_h.into()],
                flags: description.flags,
            })
        }
    }

    /// Returns plane `index`; a palette and memory of a graphics card are no planes.
    pub(crate) fn plane(&self, index: usize) -> Option<PlaneView<'_>> {
        let raw = self.raw();
        let height = self.plane_height(index)?;
        let data = *raw.data.get(index)?;
        let stride = usize::try_from(*raw.linesize.get(index)?).ok()?;
        // SAFETY: takes numbers only.
        let row = unsafe { ffi::av_image_get_linesize(self.format()?, raw.width, index as i32) };
        let row_bytes = usize::try_from(row).ok()?.min(stride);
        if data.is_null() || height == 0 || row_bytes == 0 {
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
        let data = self.raw().data[1];
        if data.is_null() {
            return None;
        }
        let mut palette = [0_u32; 256];
        // SAFETY: a paletted picture carries 1024 bytes of palette in its second plane.
        unsafe {
            ptr::copy_nonoverlapping(data, palette.as_mut_ptr().cast::<u8>(), 1024);
        }
        Some(palette)
    }

    /// Returns the memory that the picture keeps alive, in bytes.
    pub(crate) fn bytes(&self) -> usize {
        // SAFETY: each entry is null or a live buffer reference of this frame.
        let sizes = self
            .raw()
            .buf
            .iter()
            .map(|&buffer| unsafe { buffer.as_ref().map_or(0, |buffer| buffer.size) });
        sizes.sum()
    }

    fn plane_height(&self, index: usize) -> Option<usize> {
        // SAFETY: FFmpeg returns null or a static description.
        let description = unsafe { ffi::av_pix_fmt_desc_get(self.format()?).as_ref()? };
        let no_rows = description.flags & ffi::AV_PIX_FMT_FLAG_HWACCEL as u64 != 0
            || description.flags & ffi::AV_PIX_FMT_FLAG_PAL as u64 != 0 && index == 1;
        let shift = if matches!(index, 1 | 2) { description.log2_chroma_h } else { 0 };
        let height = usize::try_from(self.raw().height).ok()?;
        (!no_rows).then(|| height.div_ceil(1 << shift))
    }

    fn format(&self) -> Option<AVPixelFormat> {
        pixel_format(self.raw().format)
    }
}
