use std::fs::File;

use ffmpeg_next::{
    Dictionary, Rational, ffi,
    format::{
        self, Pixel,
        context::{self, StreamIo},
    },
    frame::Video,
};

use super::{
    encoder::{Encoder, Encoding, picture},
    error::Error,
};

/// Bytes written at a time.
const CHUNK: usize = 1 << 16;
/// Most bytes of an MP4's index for one picture: 4 for its size, 8 for how much later it is shown, 4
/// where a player can begin, and where each is a chunk of its own 8 for its place and 12 for its
/// length (ISO/IEC 14496-12, 8.6 and 8.7).
const INDEX_OF_A_PICTURE: u64 = 36;
/// More than the rest of the index ever takes.
const REST_OF_THE_INDEX: u64 = 1 << 14;

/// A new MP4 file of pictures that are encoded here, each as long as the others. It says nothing of
/// place, day or device, and its index comes first.
pub(crate) struct Film {
    encoder: Encoder,
    context: context::Output,
    encoding: Encoding,
    ticks: [Rational; 2],
    last: Option<Video>,
    written: i64,
}

impl Film {
    /// Begins a film of at most so many pictures in an open file.
    pub(crate) fn create(file: File, encoding: Encoding, most: u64) -> Result<Self, Error> {
        let encoder = Encoder::open(&encoding)?;
        let io = StreamIo::from_write_seek_with_capacity(file, CHUNK)?;
        let mut context = format::output_to_stream(io, None, Some("mp4"))?;
        let [count, seconds] = encoding.rate.map(|part| part as i32);
        let mut stream = context.add_stream_with(&encoder.encoder)?;
        stream.set_time_base(Rational::new(seconds, count));
        stream.set_avg_frame_rate(Rational::new(count, seconds));
        // SAFETY: the context is alive and its header not written yet; no program signs its name.
        unsafe { (*context.as_mut_ptr()).flags |= ffi::AVFMT_FLAG_BITEXACT };
        let mut options = Dictionary::new();
        // The index comes first in room that is kept for it: nothing has to be read and moved in the
        // end, and no file opened by a name.
        let room = most.saturating_mul(INDEX_OF_A_PICTURE) + REST_OF_THE_INDEX;
        options.set("moov_size", &room.to_string());
        drop(context.write_header_with(options)?);
        let written = context.stream(0).ok_or(Error::StreamNotFound)?.time_base();
        let ticks = [Rational::new(seconds, count), written];
        Ok(Self { encoder, context, encoding, ticks, last: None, written: 0 })
    }

    /// Adds a picture, halved chroma and limited range, its rows without a gap.
    pub(crate) fn add(&mut self, planes: [&[u8]; 3]) -> Result<(), Error> {
        self.last = Some(picture(Pixel::YUV420P, self.encoding.size, planes)?);
        self.repeat()
    }

    /// Adds the last picture once more.
    pub(crate) fn repeat(&mut self) -> Result<(), Error> {
        if let Some(picture) = &mut self.last {
            picture.set_pts(Some(self.written));
            self.written += 1;
            self.encoder.send(Some(picture))?;
            self.take()?;
        }
        Ok(())
    }

    /// Writes what belongs at the end.
    pub(crate) fn finish(mut self) -> Result<(), Error> {
        self.encoder.send(None)?;
        self.take()?;
        self.context.write_trailer()
    }

    /// Writes every packet that is ready.
    fn take(&mut self) -> Result<(), Error> {
        while let Some(mut packet) = self.encoder.receive()? {
            let [from, to] = self.ticks;
            packet.set_stream(0);
            packet.set_duration(1);
            packet.rescale_ts(from, to);
            packet.write_interleaved(&mut self.context)?;
        }
        Ok(())
    }
}
