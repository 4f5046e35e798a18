use std::sync::Arc;

use ffmpeg_next::{codec, decoder, ffi};

use super::{
    complaints::{self, Complaint},
    error::Error,
    frame::Frame,
    limits::Limits,
    packet::Packet,
    pool::Pool,
};

/// How many threads one decoder uses; at least 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Threads(pub usize);

/// What came out of a decoder.
pub(crate) enum Output {
    Frame(Frame),
    /// It needs another packet first.
    Hungry,
    /// Everything has come out.
    End,
}

/// What a decoder needs to know of a stream.
pub(crate) struct Parameters(codec::Parameters);

// SAFETY: nobody changes them after they were made; what is done with them copies them.
unsafe impl Sync for Parameters {}

impl Parameters {
    /// Takes a copy, because the stream's own may change while it is read.
    pub(super) fn new(parameters: &codec::Parameters) -> Self {
        Self(parameters.clone())
    }

    /// Returns what the container gives along with the stream.
    pub(crate) fn header(&self) -> Vec<u8> {
        // SAFETY: the parameters are alive and never changed; their extra data is null or as long as
        // they say.
        unsafe {
            let raw = &*self.0.as_ptr();
            let length = usize::try_from(raw.extradata_size).unwrap_or_default();
            if raw.extradata.is_null() {
                return Vec::new();
            }
            std::slice::from_raw_parts(raw.extradata, length).to_vec()
        }
    }

    /// Opens a decoder whose pictures lie in `pool`.
    pub(crate) fn codec(
        &self,
        threads: Threads,
        limits: Limits,
        pool: &Arc<Pool>,
    ) -> Result<Codec, Error> {
        Codec::open(self.0.clone(), threads, limits, pool)
    }
}

impl std::fmt::Debug for Parameters {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_tuple("Parameters").field(&self.0.id()).finish()
    }
}

/// What becomes of pictures that no other picture leans on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unneeded {
    Decode,
    LeaveOut,
}

/// A decoder of one video stream.
pub(crate) struct Codec {
    decoder: decoder::Video,
    /// Held because the decoder points to it; dropped after it.
    _pool: Arc<Pool>,
}

impl Codec {
    fn open(
        parameters: codec::Parameters,
        threads: Threads,
        limits: Limits,
        pool: &Arc<Pool>,
    ) -> Result<Self, Error> {
        let mut context = codec::Context::from_parameters(parameters)?;
        // SAFETY: the context is not opened yet, which is when these fields may be set.
        unsafe {
            let raw = context.as_mut_ptr();
            (*raw).thread_count = threads.0.max(1) as i32;
            (*raw).thread_type = ffi::FF_THREAD_FRAME | ffi::FF_THREAD_SLICE;
            (*raw).max_pixels = limits.pixels as i64;
            // Exact left cropping; the rows are then not aligned, which nothing here needs.
            (*raw).flags |= ffi::AV_CODEC_FLAG_UNALIGNED as i32;
            // Whoever decodes in a straight line holds pictures against the checksums that a stream
            // may have of them. Other decoders than this one take the flag for a wish to leave out.
            if threads.0 <= 1 && context.id() == codec::Id::HEVC {
                (*raw).err_recognition |= ffi::AV_EF_CRCCHECK;
            }
            pool.serve(&mut *raw);
        }
        Ok(Self { decoder: context.decoder().video()?, _pool: Arc::clone(pool) })
    }

    /// Returns what was said since it was last asked; a decoder of several threads says most of it
    /// where nobody hears it.
    pub(crate) fn complaint() -> Complaint {
        complaints::take()
    }

    /// Hands over a packet, or the end of the stream.
    pub(crate) fn send(&mut self, packet: Option<&Packet>) -> Result<(), Error> {
        match packet {
            Some(packet) => self.decoder.send_packet(&packet.0),
            None => self.decoder.send_eof(),
        }
    }

    /// Returns the next picture in presentation order.
    pub(crate) fn receive(&mut self) -> Result<Output, Error> {
        let mut frame = ffmpeg_next::frame::Video::empty();
        match self.decoder.receive_frame(&mut frame) {
            Ok(()) => Ok(Output::Frame(Frame::new(frame))),
            Err(Error::Other { errno }) if errno == ffi::EAGAIN => Ok(Output::Hungry),
            Err(Error::Eof) => Ok(Output::End),
            Err(error) => Err(error),
        }
    }

    /// Says whether pictures that no other leans on may be left out of what is handed over next.
    pub(crate) fn set_unneeded(&mut self, which: Unneeded) {
        let skip = match which {
            Unneeded::Decode => ffi::AVDiscard::AVDISCARD_DEFAULT,
            Unneeded::LeaveOut => ffi::AVDiscard::AVDISCARD_NONREF,
        };
        // SAFETY: the context is open and exclusively borrowed; FFmpeg documents the field for
        // callers to set and hands it on to its threads with each packet.
        unsafe { (*self.decoder.as_mut_ptr()).skip_frame = skip };
    }

    /// Forgets everything that was handed over.
    pub(crate) fn flush(&mut self) {
        self.decoder.flush();
    }
}
