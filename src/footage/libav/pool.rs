use std::{
    ffi::{c_int, c_void},
    ptr, slice,
    sync::{Arc, Mutex, MutexGuard, PoisonError},
};

use ffmpeg_next::ffi::{self, AVCodecContext, AVFrame, AVPixelFormat};
use memmap2::{MmapMut, MmapRaw};

use super::{limits::LARGEST_PIECE, values::pixel_format};

/// Memory asked of the system at once, where a picture is not larger.
pub(crate) const SLAB: usize = 32 << 20;
/// What FFmpeg's own buffers have beyond a plane, because fast code reads past its end.
const BEYOND: usize = 128;
/// Planes and pictures begin at multiples of what any processor's vectors need. Not at multiples
/// of a page: a processor takes a read and a write that lie whole pages apart for the same place,
/// and a decoder reads one picture while it writes the next (a fifth of its speed).
const ALIGNMENT: usize = 128;

/// Memory for the decoded pictures of one clip, shared by all its decoders.
///
/// What one decoder gives back serves another, so that two of them with one cache need little more
/// than one, and no allocator keeps what is between.
#[derive(Debug, Default)]
pub(crate) struct Pool(Mutex<Vec<Slab>>);

/// Room for several pictures of one size.
#[derive(Debug)]
struct Slab {
    memory: Arc<MmapRaw>,
    /// Bytes of one picture.
    piece: usize,
    /// Where the pictures begin that nobody holds.
    free: Vec<usize>,
}

impl Pool {
    /// Makes `context`, which is not opened yet, take the memory of its pictures here; the pool
    /// must outlive it.
    pub(super) fn serve(self: &Arc<Self>, context: &mut AVCodecContext) {
        context.opaque = Arc::as_ptr(self).cast_mut().cast();
        context.get_buffer2 = Some(get_buffer);
        // Before FFmpeg 6 threads had to be told that they may call at once.
        #[cfg(before_ffmpeg_6)]
        {
            context.thread_safe_callbacks = 1;
        }
    }

    /// Returns memory for `size` bytes of a picture that no decoder of this process makes.
    pub(super) fn piece(pool: &Arc<Self>, size: usize) -> Option<Piece> {
        let at = pool.take(size)?;
        Some(Piece { at, size, pool: Arc::clone(pool) })
    }

    /// Returns memory for `size` bytes; zeros, or what an earlier picture of this clip left there.
    fn take(&self, size: usize) -> Option<*mut u8> {
        if size > LARGEST_PIECE {
            return None;
        }
        let piece = size.next_multiple_of(ALIGNMENT);
        let mut slabs = self.lock();
        let fits = |slab: &&mut Slab| slab.piece == piece && !slab.free.is_empty();
        let free: usize = slabs.iter_mut().filter(fits).map(|slab| slab.free.len()).sum();
        if free == 0 {
            // Pictures of another size may have come before.
            slabs.retain(|slab| slab.piece == piece || !slab.is_unused());
            slabs.push(Slab::new(piece)?);
        } else if free <= Slab::room(piece) / 2 && slabs.len() > 1 {
            // Somebody goes through the clip.
            slabs.extend(Slab::new(piece).inspect(Slab::make_ready));
        }
        slabs.iter_mut().find(fits)?.take()
    }

    fn give_back(&self, at: *mut u8) {
        let mut slabs = self.lock();
        if let Some((slab, offset)) =
            slabs.iter_mut().find_map(|slab| slab.offset(at).map(|offset| (slab, offset)))
        {
            slab.free.push(offset);
        }
    }

    fn lock(&self) -> MutexGuard<'_, Vec<Slab>> {
        // Nothing in here can be left half done.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Slab {
    fn new(piece: usize) -> Option<Self> {
        let room = Self::room(piece);
        let memory = MmapMut::map_anon(piece * room).ok()?;
        let free = (0..room).rev().map(|at| at * piece).collect();
        Some(Self { memory: Arc::new(memory.into()), piece, free })
    }

    /// Returns the number of pictures in a slab.
    fn room(piece: usize) -> usize {
        (SLAB / piece).max(1)
    }

    /// Has the system put memory behind the slab before a decoder would wait for it, page by page.
    fn make_ready(&self) {
        #[cfg(target_os = "linux")]
        {
            let memory = Arc::clone(&self.memory);
            // Where the system cannot, pages come when they are written to.
            let populate = move || drop(memory.advise(memmap2::Advice::PopulateWrite));
            let _ = std::thread::Builder::new().name("memory".into()).spawn(populate);
        }
    }

    fn take(&mut self) -> Option<*mut u8> {
        let offset = self.free.pop()?;
        Some(self.memory.as_mut_ptr().wrapping_add(offset))
    }

    fn offset(&self, at: *mut u8) -> Option<usize> {
        let offset = at.addr().checked_sub(self.memory.as_mut_ptr().addr())?;
        (offset < self.memory.len()).then_some(offset)
    }

    fn is_unused(&self) -> bool {
        self.free.len() * self.piece == self.memory.len()
    }
}

/// Memory of a pool; goes back to it when it is dropped.
pub(super) struct Piece {
    at: *mut u8,
    size: usize,
    pool: Arc<Pool>,
}

impl Piece {
    pub(super) fn bytes(&self) -> &[u8] {
        // SAFETY: `take` handed out so many bytes, which were zeros or a picture before, to nobody
        // else, and the pool that they lie in is alive.
        unsafe { slice::from_raw_parts(self.at, self.size) }
    }

    pub(super) fn bytes_mut(&mut self) -> &mut [u8] {
        // SAFETY: as above, and nobody else looks at them meanwhile.
        unsafe { slice::from_raw_parts_mut(self.at, self.size) }
    }
}

impl Drop for Piece {
    fn drop(&mut self) {
        self.pool.give_back(self.at);
    }
}

// SAFETY: the memory is this piece's alone, and the pool is made for several threads.
unsafe impl Send for Piece {}
// SAFETY: as above; shared, it is only read.
unsafe impl Sync for Piece {}

/// How a picture's planes lie in one piece of memory.
struct Plan {
    lines: [c_int; 4],
    /// Where each plane begins; nothing for one that the format has not.
    starts: [Option<usize>; 4],
    size: usize,
}

impl Plan {
    /// Lays out a picture as its decoder needs it; nothing for what has no planes.
    ///
    /// # Safety
    ///
    /// `context` is alive.
    unsafe fn of(context: *mut AVCodecContext, frame: &AVFrame) -> Option<Self> {
        let format = pixel_format(frame.format)?;
        if !has_planes(format) {
            return None;
        }
        let (mut width, mut height) = (frame.width, frame.height);
        let mut alignment = [0; ffi::AV_NUM_DATA_POINTERS as usize];
        // SAFETY: all pointers are to live integers, as many as FFmpeg documents.
        unsafe {
            ffi::avcodec_align_dimensions2(
                context,
                &raw mut width,
                &raw mut height,
                alignment.as_mut_ptr(),
            );
        }
        let lines = lines(format, width, &alignment)?;
        let mut sizes = [0_usize; 4];
        let wide = lines.map(|line| line as isize);
        // SAFETY: both arrays have four entries.
        let filled = unsafe {
            ffi::av_image_fill_plane_sizes(sizes.as_mut_ptr(), format, height, wide.as_ptr())
        };
        if filled < 0 {
            return None;
        }
        let mut size = 0;
        let starts = sizes.map(|plane| {
            let start = size;
            size += (plane + BEYOND).next_multiple_of(ALIGNMENT);
            (plane > 0).then_some(start)
        });
        Some(Self { lines, starts, size })
    }
}

/// Returns whether pictures of a format are samples in planes: no palette, no bits, and not in a
/// graphics card.
fn has_planes(format: AVPixelFormat) -> bool {
    let others = ffi::AV_PIX_FMT_FLAG_PAL as u64
        | ffi::AV_PIX_FMT_FLAG_HWACCEL as u64
        | ffi::AV_PIX_FMT_FLAG_BITSTREAM as u64;
    // SAFETY: FFmpeg returns null or a static description.
    let description = unsafe { ffi::av_pix_fmt_desc_get(format).as_ref() };
    description.is_some_and(|description| description.flags & others == 0)
}

/// Returns the bytes of a row of each plane, for the least width from `width` on at which all rows
/// are aligned. The planes keep their proportion, which some decoders rely on.
fn lines(format: AVPixelFormat, mut width: c_int, alignment: &[c_int]) -> Option<[c_int; 4]> {
    for _ in 0..16 {
        let mut lines = [0; 4];
        // SAFETY: the array has the four entries that FFmpeg fills.
        let filled = unsafe { ffi::av_image_fill_linesizes(lines.as_mut_ptr(), format, width) };
        if filled < 0 {
            return None;
        }
        if lines.iter().zip(alignment).all(|(&line, &to)| line % to.max(1) == 0) {
            return Some(lines);
        }
        // Up to the next multiple of twice the power of two that divides the width.
        width = width.checked_add(width & width.wrapping_neg())?;
    }
    None
}

/// FFmpeg's call for the memory of one picture.
unsafe extern "C" fn get_buffer(
    context: *mut AVCodecContext,
    frame: *mut AVFrame,
    flags: c_int,
) -> c_int {
    // SAFETY: FFmpeg hands over an open context, whose `opaque` is the pool of `Pool::serve`, and
    // a frame that this thread alone holds; the pool outlives the context.
    unsafe {
        let own = ((*(*context).codec).capabilities as u32) & ffi::AV_CODEC_CAP_DR1 != 0;
        let plan = if own { Plan::of(context, &*frame) } else { None };
        let Some(plan) = plan else {
            return ffi::avcodec_default_get_buffer2(context, frame, flags);
        };
        let pool: *const Pool = (*context).opaque.cast_const().cast();
        let Some(data) = (*pool).take(plan.size) else { return -ffi::ENOMEM };
        // The picture keeps the pool alive, also when its clip is closed before it.
        Arc::increment_strong_count(pool);
        let buffer =
            ffi::av_buffer_create(data, plan.size, Some(release), pool.cast_mut().cast(), 0);
        if buffer.is_null() {
            release(pool.cast_mut().cast(), data);
            return -ffi::ENOMEM;
        }
        let frame = &mut *frame;
        frame.buf[0] = buffer;
        for plane in 0..4 {
            frame.linesize[plane] = plan.lines[plane];
            frame.data[plane] =
                plan.starts[plane].map_or(ptr::null_mut(), |start| data.wrapping_add(start));
        }
        frame.extended_data = frame.data.as_mut_ptr();
        0
    }
}

/// FFmpeg's call when nobody holds a picture any more.
unsafe extern "C" fn release(pool: *mut c_void, data: *mut u8) {
    // SAFETY: `get_buffer` counted this reference up for this very call.
    let pool = unsafe { Arc::from_raw(pool.cast_const().cast::<Pool>()) };
    pool.give_back(data);
}
