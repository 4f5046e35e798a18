use std::{
    ffi::{CStr, CString},
    io::{Read, Seek},
    ptr, slice,
};

use ffmpeg_next::{
    Dictionary, Rational,
    ffi::{self, AVMediaType, AVPacketSideDataType},
    format::context::{self, StreamIo},
};

use super::{Error, Parameters, Parser, check, known};

/// What an opened file may cost.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limits {
    /// Most pixels of a coded picture.
    pub pixels: u64,
    /// Most streams of a file.
    pub streams: usize,
    /// Most bytes of a packet.
    pub packet: usize,
    /// Most packets of a clip.
    pub packets: usize,
    /// Bytes from the start within which the video must have told what it is.
    pub probe: usize,
}

/// Containers that hold video themselves. A playlist, which names further files to open, is none.
const CONTAINERS: &str = "mov,matroska,avi,mpegts,mpeg,mpegvideo,h264,hevc,m4v,mjpeg,ogg,flv,dv,\
                          gif,mxf,ivf,asf,obu,yuv4mpegpipe";
/// Bytes read at a time.
const CHUNK: usize = 1 << 16;

/// Whether streams are looked into while opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Look {
    /// Their first packets are read and decoded, until all is known that the file does not say.
    Closely,
    /// Only what the file itself says is read.
    Briefly,
}

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
}

impl Input {
    /// Opens what `reader` holds; `name` is only a hint for recognising the container.
    pub(crate) fn open<R: Read + Seek + Send + 'static>(
        reader: R,
        name: &str,
        (look, limits): (Look, Limits),
    ) -> Result<Self, Error> {
        super::set_up();
        let mut context = open_container(reader, name, limits)?;
        if look == Look::Closely {
            find_streams(&mut context, limits)?;
        }
        Ok(Self { context, stream: usize::MAX })
    }

    /// Returns the video streams that hold moving pictures, not covers.
    pub(crate) fn videos(&self) -> Vec<VideoStream> {
        self.context
            .streams()
            .filter_map(|stream| VideoStream::of(&stream))
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

    /// Returns FFmpeg's short name of the container, for example `mov,mp4,m4a,3gp,3g2,mj2`.
    pub(crate) fn container(&self) -> String {
        // SAFETY: an opened context has a format, whose name is a static C string.
        let name = unsafe { CStr::from_ptr((*(*self.context.as_ptr()).iformat).name) };
        name.to_string_lossy().into_owned()
    }

    /// Returns the next packet of the chosen stream, or nothing at the end.
    pub(crate) fn next_packet(&mut self) -> Result<Option<Packet>, Error> {
        loop {
            match self.next_of_all()? {
                Some(packet) if packet.stream() != self.stream => {}
                packet => return Ok(packet),
            }
        }
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

/// What the container says about a video stream.
#[derive(Clone, Debug)]
pub(crate) struct VideoStream {
    pub index: usize,
    pub width: i32,
    pub height: i32,
    pub codec: String,
    pub time_base: (i32, i32),
    /// Average frames a second as the container states them.
    pub rate: (i32, i32),
    pub chosen_by_file: bool,
    pub cover: bool,
    /// Pixel shape by container, else by codec; zero where neither says one.
    pub pixel_shape: (i32, i32),
    /// The nine numbers of the display matrix, 16.16 and 2.30 fixed point.
    pub matrix: Option<[i32; 9]>,
}

impl VideoStream {
    fn of(stream: &ffmpeg_next::Stream<'_>) -> Option<Self> {
        let pair = |r: Rational| (r.numerator(), r.denominator());
        // SAFETY: stream and parameters are alive while `stream` is borrowed; only plain integers
        // are read, enumerations of known fixed meaning compared by value; FFmpeg's names are
        // static C strings.
        unsafe {
            let raw = stream.as_ptr();
            let parameters = (*raw).codecpar;
            if (*parameters).codec_type != AVMediaType::AVMEDIA_TYPE_VIDEO {
                return None;
            }
            let shape =
                ffi::av_guess_sample_aspect_ratio(ptr::null_mut(), raw.cast_mut(), ptr::null_mut());
            Some(Self {
                index: stream.index(),
                width: (*parameters).width,
                height: (*parameters).height,
                codec: CStr::from_ptr(ffi::avcodec_get_name((*parameters).codec_id))
                    .to_string_lossy()
                    .into_owned(),
                time_base: pair(stream.time_base()),
                rate: pair(stream.avg_frame_rate()),
                chosen_by_file: (*raw).disposition & ffi::AV_DISPOSITION_DEFAULT != 0,
                cover: (*raw).disposition & ffi::AV_DISPOSITION_ATTACHED_PIC != 0,
                pixel_shape: (shape.num, shape.den),
                matrix: stream_matrix(raw),
            })
        }
    }
}

/// Reads a stream's display matrix.
///
/// # Safety
/// `stream` must point to a stream of an open context.
unsafe fn stream_matrix(stream: *const ffi::AVStream) -> Option<[i32; 9]> {
    let mut size = 0_usize;
    let kind = AVPacketSideDataType::AV_PKT_DATA_DISPLAYMATRIX;
    // SAFETY: the stream is alive by this function's own condition.
    let data = unsafe { ffi::av_stream_get_side_data(stream, kind, &raw mut size) };
    if data.is_null() {
        return None;
    }
    // SAFETY: FFmpeg gives `size` readable bytes at `data`, alive as long as the stream.
    matrix_of(unsafe { slice::from_raw_parts(data, size) })
}

/// Reads the nine native integers of a display matrix.
pub(super) fn matrix_of(bytes: &[u8]) -> Option<[i32; 9]> {
    let mut matrix = [0; 9];
    for (number, bytes) in matrix.iter_mut().zip(bytes.get(..36)?.chunks_exact(4)) {
        *number = i32::from_ne_bytes(bytes.try_into().ok()?);
    }
    Some(matrix)
}

/// Coded data of one picture or field.
pub(crate) struct Packet(pub(super) ffmpeg_next::Packet);

impl Packet {
    pub(crate) fn stream(&self) -> usize {
        self.0.stream()
    }

    pub(crate) fn pts(&self) -> Option<i64> {
        self.0.pts()
    }

    pub(crate) fn dts(&self) -> Option<i64> {
        self.0.dts()
    }

    pub(crate) fn duration(&self) -> i64 {
        self.0.duration()
    }

    /// Returns the byte of the file at which the packet begins, where the container knows it.
    pub(crate) fn position(&self) -> Option<i64> {
        i64::try_from(self.0.position()).ok().filter(|&byte| byte >= 0)
    }

    pub(crate) fn bytes(&self) -> &[u8] {
        self.0.data().unwrap_or_default()
    }

    pub(crate) fn is_key(&self) -> bool {
        self.0.is_key()
    }

    pub(crate) fn is_corrupt(&self) -> bool {
        self.0.is_corrupt()
    }

    /// Returns whether the file asks for the picture to be decoded but not shown.
    pub(crate) fn is_hidden(&self) -> bool {
        use ffmpeg_next::packet::Ref;
        // SAFETY: the packet is alive; ffmpeg-next's own flags drop this bit.
        unsafe { (*self.0.as_ptr()).flags & ffi::AV_PKT_FLAG_DISCARD != 0 }
    }

    /// Says when the packet is to be decoded, where something is given.
    pub(crate) fn decode_at(&mut self, dts: Option<i64>) {
        if dts.is_some() {
            self.0.set_dts(dts);
        }
    }

    /// Overwrites the time stamps with the packet's place in decoding order, which the decoder
    /// hands on to the picture.
    pub(crate) fn stamp(&mut self, ordinal: u32) {
        self.0.set_pts(Some(i64::from(ordinal)));
        self.0.set_dts(Some(i64::from(ordinal)));
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
    options.set("format_whitelist", CONTAINERS);
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

/// Returns a frame's time stamp, which is its packet's ordinal.
pub(super) fn stamp_of(pts: i64) -> Option<u32> {
    known(pts).and_then(|pts| u32::try_from(pts).ok())
}
