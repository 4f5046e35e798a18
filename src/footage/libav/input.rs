use std::{
    ffi::{CStr, CString},
    io::{Read, Seek},
    ptr,
};

use ffmpeg_next::{
    Dictionary, ffi,
    format::context::{self, StreamIo},
};

use crate::units::CONTAINERS;

use super::{
    codec::Parameters,
    error::{Error, check},
    limits::Limits,
    packet::{Packet, Palette},
    parser::Parser,
    setup::set_up,
    stream::{VideoStream, video_stream},
};

/// Bytes read at a time.
const CHUNK: usize = 1 << 16;

/// Where to put the reading position.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Aim {
    /// At or before a time stamp of the chosen stream.
    Time(i64),
    /// At a byte of the file.
    Byte(i64),
}

/// A file opened for reading packets of one video stream.
pub(crate) struct Input {
    pub(super) context: context::Input,
    stream: usize,
    /// The colours that came last with a packet of the chosen stream.
    palette: Option<Box<Palette>>,
}

impl Input {
    /// Opens what `reader` holds, by what the file itself says; `name` is only a hint for recognising
    /// the container.
    pub(crate) fn open<R: Read + Seek + Send + 'static>(
        reader: R,
        name: &str,
        limits: Limits,
    ) -> Result<Self, Error> {
        set_up();
        let context = open_container(reader, name, limits)?;
        Ok(Self { context, stream: usize::MAX, palette: None })
    }

    /// Reads and decodes the first packets, until all is known that the file does not say.
    pub(crate) fn look_closely(&mut self, limits: Limits) -> Result<(), Error> {
        find_streams(&mut self.context, limits)
    }

    /// Returns the video streams that hold moving pictures, not covers.
    pub(crate) fn videos(&self) -> Vec<VideoStream> {
        self.context
            .streams()
            .filter_map(|stream| video_stream(&stream))
            .filter(|video| !video.cover)
            .collect()
    }

    /// Returns the number of streams of any kind that were found.
    pub(crate) fn streams(&self) -> usize {
        self.context.nb_streams() as usize
    }

    /// Chooses the stream whose packets are read; all others are skipped.
    pub(crate) fn choose(&mut self, index: usize) {
        self.choose_all(&[index]);
    }

    /// Chooses several streams, of which the first is the video.
    pub(crate) fn choose_all(&mut self, streams: &[usize]) {
        self.stream = streams.first().copied().unwrap_or(usize::MAX);
        for mut stream in self.context.streams_mut() {
            let discard = if streams.contains(&stream.index()) {
                ffi::AVDiscard::AVDISCARD_DEFAULT
            } else {
                ffi::AVDiscard::AVDISCARD_ALL
            };
            // SAFETY: the stream lives as long as the context borrowed here, and `discard` is the
            // field that FFmpeg documents for callers to set.
            unsafe { (*stream.as_mut_ptr()).discard = discard };
        }
    }

    /// Returns FFmpeg's short name of what reads the container, for example `mov,mp4,m4a,3gp,3g2,mj2`.
    pub(crate) fn format(&self) -> String {
        // SAFETY: an opened context has a format, whose name is a static C string.
        let name = unsafe { CStr::from_ptr((*(*self.context.as_ptr()).iformat).name) };
        name.to_string_lossy().into_owned()
    }

    /// Returns the next packet of the chosen stream, or nothing at the end.
    pub(crate) fn next_packet(&mut self) -> Result<Option<Packet>, Error> {
        self.next_packet_passing(&mut |_| ())
    }

    /// Returns the same; `passed` hears of what is read before it of other streams. There are some
    /// where others were chosen too, or begin later in the file.
    pub(crate) fn next_packet_passing(
        &mut self,
        passed: &mut dyn FnMut(&Packet),
    ) -> Result<Option<Packet>, Error> {
        loop {
            match self.next_of_all()? {
                Some(packet) if packet.stream() != self.stream => passed(&packet),
                packet => {
                    if let Some(palette) = packet.as_ref().and_then(Packet::palette) {
                        self.palette = Some(Box::new(*palette));
                    }
                    return Ok(packet);
                }
            }
        }
    }

    /// Returns the colours that came last; a container gives them once, with whatever is read
    /// first.
    pub(crate) fn palette(&self) -> Option<&Palette> {
        self.palette.as_deref()
    }

    /// Returns the next packet of any chosen stream, or nothing at the end.
    pub(crate) fn next_of_all(&mut self) -> Result<Option<Packet>, Error> {
        let mut packet = ffmpeg_next::Packet::empty();
        match packet.read(&mut self.context) {
            Ok(()) => Ok(Some(Packet(packet))),
            Err(Error::Eof) => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Returns whether the container's index names data that lies beyond the end of the file.
    pub(crate) fn names_more_than_there_is(&mut self) -> bool {
        // SAFETY: the context is open and exclusively borrowed, its stream one that FFmpeg handed
        // out; an entry is read before FFmpeg is called again.
        unsafe {
            let context = self.context.as_mut_ptr();
            let stream = *(*context).streams.add(self.stream);
            let end = ffi::avio_size((*context).pb);
            let count = ffi::avformat_index_get_entries_count(stream);
            end > 0
                && (0..count).any(|at| {
                    let entry = ffi::avformat_index_get_entry(stream, at).as_ref();
                    entry.is_some_and(|entry| entry.pos.saturating_add(entry.size().into()) > end)
                })
        }
    }

    /// Moves the reading position; where it really landed is for the caller to find out.
    pub(crate) fn seek(&mut self, aim: Aim) -> Result<(), Error> {
        let (stream, target, flags) = match aim {
            Aim::Time(time) => (self.stream as i32, time, ffi::AVSEEK_FLAG_BACKWARD),
            Aim::Byte(byte) => (-1, byte, ffi::AVSEEK_FLAG_BYTE),
        };
        // SAFETY: the context is open and exclusively borrowed; the index is one of its streams.
        check(unsafe { ffi::av_seek_frame(self.context.as_mut_ptr(), stream, target, flags) })?;
        Ok(())
    }

    /// Returns what a decoder for the chosen stream needs to know.
    pub(crate) fn parameters(&self) -> Result<Parameters, Error> {
        let stream = self.context.stream(self.stream).ok_or(Error::StreamNotFound)?;
        Ok(Parameters::new(&stream.parameters()))
    }

    /// Returns a parser for the chosen stream's packets, where FFmpeg has one.
    pub(crate) fn parser(&self) -> Option<Parser> {
        Parser::open(self.context.stream(self.stream)?.parameters())
    }
}

fn open_container<R: Read + Seek + Send + 'static>(
    reader: R,
    name: &str,
    limits: Limits,
) -> Result<context::Input, Error> {
    let mut io = StreamIo::from_read_seek_with_capacity(reader, CHUNK)?;
    let name = CString::new(name).map_err(|_| Error::InvalidData)?;
    let mut options = Dictionary::new();
    // All that hold video themselves. A playlist, which names further files to open, is none.
    let demuxers: Vec<&str> = CONTAINERS.iter().map(|container| container.demuxer).collect();
    options.set("format_whitelist", &demuxers.join(","));
    // No protocol has this name: nothing but the reader given here can ever be opened.
    options.set("protocol_whitelist", "none");
    options.set("probesize", &limits.probe.to_string());
    // SAFETY: the context is freed by FFmpeg when opening fails and owned by the returned wrapper
    // otherwise; the dictionary is taken back from FFmpeg before it can leak; `io` outlives the
    // context because the wrapper owns both and closes the context first.
    unsafe {
        let mut raw = ffi::avformat_alloc_context();
        if raw.is_null() {
            return Err(Error::Other { errno: ffi::ENOMEM });
        }
        (*raw).pb = io.as_mut_ptr();
        (*raw).flags |= ffi::AVFMT_FLAG_CUSTOM_IO;
        let mut options = options.disown();
        let code = ffi::avformat_open_input(
            &raw mut raw,
            name.as_ptr(),
            ptr::null_mut(),
            &raw mut options,
        );
        drop(Dictionary::own(options));
        check(code)?;
        Ok(context::Input::wrap_with_custom_io(raw, io))
    }
}

/// Lets FFmpeg look at the first packets; the bound on pixels holds for that look already.
fn find_streams(context: &mut context::Input, limits: Limits) -> Result<(), Error> {
    let count = context.nb_streams() as usize;
    let limit = limits.pixels.to_string();
    let mut options: Vec<*mut ffi::AVDictionary> = (0..count)
        .map(|_| {
            let mut options = Dictionary::new();
            options.set("max_pixels", &limit);
            // SAFETY: the dictionary is taken back below.
            unsafe { options.disown() }
        })
        .collect();
    let list = if count == 0 { ptr::null_mut() } else { options.as_mut_ptr() };
    // SAFETY: the list has one entry for each stream known now, as FFmpeg requires.
    let code = unsafe { ffi::avformat_find_stream_info(context.as_mut_ptr(), list) };
    for raw in options {
        // SAFETY: FFmpeg leaves each list to the caller.
        drop(unsafe { Dictionary::own(raw) });
    }
    check(code)?;
    Ok(())
}
