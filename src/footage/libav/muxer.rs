use std::fs::File;

use ffmpeg_next::{
    Codec, Dictionary, Rational,
    ffi::{self, AVMediaType, AVPacketSideDataType},
    format::{
        self,
        context::{self, StreamIo},
    },
};

use super::{error::Error, input::Input, packet::Packet, setup::set_up};

/// Bytes written at a time.
const CHUNK: usize = 1 << 16;

/// A new file that takes packets as they are coded. Nothing is carried over of what a file says
/// about itself: no place, no day, no device.
pub(crate) struct Muxer {
    context: context::Output,
    /// Stream of the input and its length of a tick, for each stream of this file.
    tracks: Vec<(usize, Rational)>,
}

impl Muxer {
    /// Lets FFmpeg's muxer of that `name` write into an open file, for these streams of `input`. It
    /// is given no path: one that a person gives may look like an address.
    pub(crate) fn create(
        file: File,
        name: &str,
        input: &Input,
        streams: &[usize],
    ) -> Result<Self, Error> {
        set_up();
        let io = StreamIo::from_write_seek_with_capacity(file, CHUNK)?;
        let mut context = format::output_to_stream(io, None, Some(name))?;
        let mut tracks = Vec::new();
        let mut options = Dictionary::new();
        for &index in streams {
            let from = input.stream(index)?;
            let mut to = context.add_stream(None::<Codec>)?;
            to.set_parameters(from.parameters());
            to.set_time_base(from.time_base());
            to.set_avg_frame_rate(from.avg_frame_rate());
            // SAFETY: both streams belong to contexts that are borrowed here.
            unsafe { carry_over(from.as_ptr(), to.as_mut_ptr())? };
            if tracks.is_empty() {
                // Ticks stay what they are, where the container lets them.
                options.set("video_track_timescale", &from.time_base().denominator().to_string());
            }
            tracks.push((index, from.time_base()));
        }
        drop(context.write_header_with(options)?);
        Ok(Self { context, tracks })
    }

    /// Writes a packet of the input, earlier by `earlier` ticks of the first stream.
    pub(crate) fn write(&mut self, packet: Packet, earlier: i64) -> Result<(), Error> {
        let Packet(mut packet) = packet;
        let from = packet.stream();
        let Some(track) = self.tracks.iter().position(|(index, _)| *index == from) else {
            return Ok(());
        };
        let ((_, first), (_, ticks)) = (self.tracks[0], self.tracks[track]);
        // SAFETY: a pure function of numbers.
        let earlier = unsafe { ffi::av_rescale_q(earlier, first.into(), ticks.into()) };
        packet.set_pts(packet.pts().map(|pts| pts - earlier));
        packet.set_dts(packet.dts().map(|dts| dts - earlier));
        let written = self.context.stream(track).ok_or(Error::StreamNotFound)?.time_base();
        packet.rescale_ts(ticks, written);
        packet.set_stream(track);
        packet.set_position(-1);
        packet.write_interleaved(&mut self.context)
    }

    /// Writes what belongs at the end.
    pub(crate) fn finish(mut self) -> Result<(), Error> {
        self.context.write_trailer()
    }
}

impl Input {
    /// Returns the first stream of sound.
    pub(crate) fn sound(&self) -> Option<usize> {
        let mut streams = self.context.streams();
        let is_sound = |stream: &ffmpeg_next::Stream<'_>| {
            // SAFETY: stream and parameters are alive while `stream` is borrowed.
            unsafe { (*(*stream.as_ptr()).codecpar).codec_type == AVMediaType::AVMEDIA_TYPE_AUDIO }
        };
        streams.find(is_sound).map(|stream| stream.index())
    }

    fn stream(&self, index: usize) -> Result<ffmpeg_next::Stream<'_>, Error> {
        self.context.stream(index).ok_or(Error::StreamNotFound)
    }
}

/// Carries over how pictures stand and how wide their pixels are.
///
/// # Safety
/// Both must point to streams of open contexts.
unsafe fn carry_over(from: *const ffi::AVStream, to: *mut ffi::AVStream) -> Result<(), Error> {
    let kind = AVPacketSideDataType::AV_PKT_DATA_DISPLAYMATRIX;
    // SAFETY: the streams are alive by this function's own condition; FFmpeg gives as many readable
    // and writable bytes as it says.
    unsafe {
        // Names of codecs differ between containers.
        (*(*to).codecpar).codec_tag = 0;
        (*to).sample_aspect_ratio = (*from).sample_aspect_ratio;
        let mut size = 0_usize;
        let matrix = ffi::av_stream_get_side_data(from, kind, &raw mut size);
        if matrix.is_null() {
            return Ok(());
        }
        let place = ffi::av_stream_new_side_data(to, kind, size);
        if place.is_null() {
            return Err(Error::Other { errno: ffi::ENOMEM });
        }
        matrix.copy_to_nonoverlapping(place, size);
    }
    Ok(())
}
