//! A clip as numbered frames: the only room that knows FFmpeg.
//!
//! Frame `k` is the k-th picture of one full decode of the clip, inside its edit list. Everything
//! here serves that sentence: the packets are read once and numbered (`scan`), the number travels
//! through the decoder as the packet's time stamp and so names the picture that comes out
//! (`session`), the table of frames says which packet shows which frame (`table`, `prove`), and a
//! seek counts only when the packet that was wanted has come by (`session`). What each frame
//! looks like, how it is turned upright and coloured, is in `picture`, `colour` and `convert`.

mod cache;
mod coded;
mod colour;
mod convert;
mod copy;
mod decoder;
mod describe;
mod error;
mod facts;
mod libav;
mod picture;
mod prove;
mod reader;
mod scan;
mod session;
mod source;
mod still;
mod table;
mod tone;

use std::{
    io,
    ops::ControlFlow,
    path::Path,
    sync::{Arc, OnceLock},
};

use crate::units::{self, Ticks, TimeBase};

pub use colour::{Matrix, Range};
pub(crate) use colour::{Primaries, Transfer};
pub use copy::{Copied, CopyError, CopyWishes};
pub(crate) use decoder::DEFAULT_BUDGET;
pub use decoder::Decoder;
pub use describe::{frames_json, frames_text};
pub use error::DecodeError;
pub(crate) use error::OpenError;
pub use facts::{ClipFacts, Note};
pub(crate) use picture::Arrangement;
pub use picture::{Picture, PixelLayout};
pub use reader::{Ahead, Means, Reader};
pub use source::SourceState;
pub use still::{png, still};
pub(crate) use table::{FrameEntry, FrameTable};

use libav::{Codec, Input, Limits, Look, Parameters, Pool, Threads, VideoStream};
use picture::Defaults;
use prove::Prover;
use scan::{Extent, Scan};
use session::Session;
use source::Source;
use table::Shown;

/// What a file may cost. More than any camera writes: pictures of 8192 × 8192 pixels, 128 MiB for
/// one of them, a day at 60 frames a second.
const LIMITS: Limits =
    Limits { pixels: 1 << 26, streams: 64, packet: 1 << 27, packets: 5_500_000, probe: 1 << 26 };

/// Most pixels of a picture each way, as many as every graphics card takes.
const LARGEST_SIDE: u32 = 8192;

/// Packets that decode so soon that nobody needs a likely table before the true one.
const SOON_DECODED: usize = 600;

/// An opened and scanned clip; cheap to clone and to share between threads.
#[derive(Clone, Debug)]
pub struct Footage {
    clip: Arc<Clip>,
    table: Arc<FrameTable>,
    facts: Arc<ClipFacts>,
}

/// What of a clip never changes once it is scanned.
#[derive(Clone, Debug)]
pub(crate) struct Clip {
    source: Arc<Source>,
    stream: VideoStream,
    container: String,
    time_base: TimeBase,
    defaults: Defaults,
    parameters: Arc<Parameters>,
    /// Where the pictures of all its decoders lie.
    pool: Arc<Pool>,
    scan: Scan,
    /// The first picture that decodes, and the ordinal of its packet.
    first: Option<(u32, Arc<Picture>)>,
    content_hash: OnceLock<String>,
}

impl Footage {
    /// Opens a clip, reads through its packets and numbers its frames.
    ///
    /// Where time stamps cannot be trusted, this decodes the whole clip once. Nothing but the file
    /// itself is ever opened.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        Self::open_to(path, Extent::Whole)
    }

    /// Opens a clip as soon as its beginning can be stepped, however long it is.
    ///
    /// The table may then be short of the end, and its numbers may change: [`Self::is_counted`]
    /// tells, [`Self::counted`] and [`Self::proved`] do the rest, and a [`Reader`] does both by
    /// itself. Times never change.
    pub fn open_beginning(path: &Path) -> Result<Self, OpenError> {
        Self::open_to(path, Extent::Beginning)
    }

    fn open_to(path: &Path, extent: Extent) -> Result<Self, OpenError> {
        let (clip, first) = Clip::open(path, extent)?;
        let facts = ClipFacts::of(&clip.stream, (&clip.container, clip.time_base), &first);
        Self::of(clip, facts, extent)
            .ok_or_else(|| OpenError::NothingDecodes { path: path.to_owned() })
    }

    /// Numbers the frames of what was read; nothing when there are none.
    fn of(clip: Clip, mut facts: ClipFacts, extent: Extent) -> Option<Self> {
        let table = FrameTable::from_stamps(&clip.scan, &clip.container).or_else(|| {
            let soon = extent == Extent::Beginning && clip.scan.packets.len() > SOON_DECODED;
            soon.then(|| FrameTable::likely(&clip.scan)).flatten()
        });
        let (unproved, table) = (table.is_none(), table.unwrap_or_default());
        if unproved && !clip.scan.is_whole {
            // Only a full decode can number these frames, and that needs all packets.
            let whole = clip.read_whole(&|| false)?.ok()?;
            return Self::of(whole, facts, Extent::Whole);
        }
        facts.note(&clip.scan, &table, &[]);
        let footage = Self { clip: Arc::new(clip), table: Arc::new(table), facts: Arc::new(facts) };
        let footage = if unproved { footage.proved(&|| false) } else { Some(footage) };
        footage.filter(|footage| !footage.table.is_empty())
    }

    /// Returns whether all packets of the clip have been read.
    pub fn is_whole(&self) -> bool {
        self.clip.scan.is_whole
    }

    /// Returns whether the frames have their final numbers.
    pub fn is_counted(&self) -> bool {
        self.is_whole() && self.table.is_counted()
    }

    /// Reads the packets of the whole clip and returns it with the longer table; nothing when
    /// `stop` said so.
    pub fn counted(&self, stop: &dyn Fn() -> bool) -> Option<Result<Self, OpenError>> {
        if self.is_whole() {
            return Some(Ok(self.clone()));
        }
        let nothing = || OpenError::NothingDecodes { path: self.path().to_owned() };
        let facts = ClipFacts::clone(&self.facts);
        Some(
            self.clip
                .read_whole(stop)?
                .and_then(|clip| Self::of(clip, facts, Extent::Beginning).ok_or_else(nothing)),
        )
    }

    /// Decodes the whole clip once and returns it with what that showed: the proved table, damage,
    /// repeated pictures; nothing when `stop` said so or the file cannot be read any more.
    ///
    /// Where the table was proved already, the clip is returned as it is.
    pub fn proved(&self, stop: &dyn Fn() -> bool) -> Option<Self> {
        if self.table.is_proved() {
            return Some(self.clone());
        }
        let whole = self.counted(stop)?.ok()?;
        Prover::new(&whole).run(stop)?.ok()
    }

    /// Returns the same clip with what one full decode showed.
    fn with_proof(&self, shown: &[Shown]) -> Self {
        let ticks = self.clip.frame_ticks(shown);
        let table = FrameTable::from_decode(&self.clip.scan, shown, ticks);
        let mut facts = ClipFacts::clone(&self.facts);
        facts.note(&self.clip.scan, &table, shown);
        Self { clip: Arc::clone(&self.clip), table: Arc::new(table), facts: Arc::new(facts) }
    }

    /// Returns the first picture where it is the first frame: opening has decoded it.
    fn first_picture(&self) -> Option<Arc<Picture>> {
        let (ordinal, picture) = self.clip.first.as_ref()?;
        let is_first = |entry: &FrameEntry| {
            entry.ordinal == *ordinal && entry.hash.is_none_or(|hash| hash == picture.hash())
        };
        self.table.entry(0).is_some_and(is_first).then(|| Arc::clone(picture))
    }

    /// Returns whether the other one has the same table.
    fn is_as_known_as(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.table, &other.table)
    }

    /// Returns what is known of the clip as a whole.
    pub fn facts(&self) -> &ClipFacts {
        &self.facts
    }

    /// Returns the frames in presentation order.
    pub fn table(&self) -> &FrameTable {
        &self.table
    }

    /// Returns the path under which the clip was opened.
    pub fn path(&self) -> &Path {
        self.clip.source.path()
    }

    /// Returns what became of the file since it was opened.
    pub fn state(&self) -> SourceState {
        self.clip.source.state()
    }

    /// Returns a quick name for the content, of its length and both ends; 32 hexadecimal digits.
    pub fn content_id(&self) -> io::Result<String> {
        let source = &self.clip.source;
        units::quick_id(&mut source.reader(), source.length())
    }

    /// Returns the BLAKE3 hash of the whole file; reads it all, the first time.
    pub fn content_hash(&self) -> io::Result<String> {
        if let Some(hash) = self.clip.content_hash.get() {
            return Ok(hash.clone());
        }
        let hash = units::content_hash(&mut self.clip.source.reader())?;
        Ok(self.clip.content_hash.get_or_init(|| hash).clone())
    }

    pub(crate) fn clip(&self) -> &Clip {
        &self.clip
    }
}

impl Clip {
    /// Opens a clip, reads its packets and decodes its first picture.
    fn open(path: &Path, extent: Extent) -> Result<(Self, Arc<Picture>), OpenError> {
        let source = Source::open(path)?;
        let not_video = |cause| OpenError::NotVideo { path: path.to_owned(), cause };
        let mut input = open_input(&source, Look::Closely).map_err(not_video)?;
        if input.streams() > LIMITS.streams {
            return Err(OpenError::TooManyStreams { path: path.to_owned(), limit: LIMITS.streams });
        }
        let stream =
            choose(input.videos()).ok_or_else(|| OpenError::NoPicture { path: path.to_owned() })?;
        check_size(path, &stream)?;
        input.choose(stream.index);
        let no_decoder = |cause| {
            let (path, codec) = (path.to_owned(), stream.codec.clone());
            OpenError::NoDecoder { path, codec, cause }
        };
        let parameters = input.parameters().map_err(no_decoder)?;
        let pool = Arc::new(Pool::default());
        parameters.codec(Threads(1), LIMITS, &pool).map_err(no_decoder)?;
        let time_base =
            time_base(stream.time_base).ok_or_else(|| not_video(libav::Error::InvalidData))?;
        let scan = Scan::of(&mut input, &stream.codec, (extent, LIMITS), &|| false)
            .map_err(|beyond| beyond.of(path))?
            .unwrap_or_default();
        let defaults = Defaults { matrix: stream.matrix, pixel_shape: stream.pixel_shape };
        let container = input.container();
        let content_hash = OnceLock::new();
        let (first, parameters) = (None, Arc::new(parameters));
        let mut clip = Self {
            source,
            stream,
            container,
            time_base,
            defaults,
            parameters,
            pool,
            scan,
            first,
            content_hash,
        };
        let first = first_picture(&clip, input)?;
        // A turn told in the first picture holds until another one is told.
        clip.defaults.matrix = first.1.matrix().or(clip.defaults.matrix);
        clip.first = Some((first.0, Arc::clone(&first.1)));
        Ok((clip, first.1))
    }

    /// Returns the clip with all its packets; nothing when `stop` said so.
    fn read_whole(&self, stop: &dyn Fn() -> bool) -> Option<Result<Self, OpenError>> {
        let path = self.source.path();
        let mut input = match open_input(&self.source, Look::Closely) {
            Ok(input) => input,
            Err(cause) => return Some(Err(OpenError::NotVideo { path: path.to_owned(), cause })),
        };
        input.choose(self.stream.index);
        let scan = Scan::of(&mut input, &self.stream.codec, (Extent::Whole, LIMITS), stop);
        match scan {
            Ok(scan) => Some(Ok(Self { scan: scan?, ..self.clone() })),
            Err(beyond) => Some(Err(beyond.of(path))),
        }
    }

    /// Opens the same file once more, for a reading position of its own.
    fn input(&self) -> Result<Input, libav::Error> {
        // What is known already need not be looked for again; where packets are cut out of a
        // stream of bytes, looking is part of how they are cut.
        let look = if self.is_indexed() { Look::Briefly } else { Look::Closely };
        let mut input = open_input(&self.source, look)?;
        input.choose(self.stream.index);
        Ok(input)
    }

    /// Opens a decoder for the video.
    fn codec(&self, threads: Threads) -> Result<Codec, libav::Error> {
        self.parameters.codec(threads, LIMITS, &self.pool)
    }

    /// Returns whether the container keeps every picture in a packet of its own.
    fn is_indexed(&self) -> bool {
        ["mov", "matroska"].iter().any(|name| self.container.contains(name))
    }

    /// Returns whether the container has no index of times, so that one seeks by byte.
    fn seeks_by_byte(&self) -> bool {
        ["mpegts", "mpeg", "mpegvideo", "h264", "hevc", "m4v", "obu"]
            .contains(&self.container.as_str())
    }

    /// Returns the length of a frame in ticks as a fraction, by the time between the first and the
    /// last packet that showed one, else by the stated rate, else 25 frames a second.
    fn frame_ticks(&self, shown: &[Shown]) -> (i64, i64) {
        let ordinals = || shown.iter().map(|shown| shown.ordinal as usize);
        if let Some((first, last)) = ordinals().min().zip(ordinals().max())
            && shown.len() > 1
            && let Some(span) = self.decoding_time(first, last).filter(|&span| span > 0)
        {
            return (span, shown.len() as i64 - 1);
        }
        let [tick, per_second] = self.time_base.parts().map(i64::from);
        let (rate, per) = match self.stream.rate {
            (rate, per) if rate > 0 && per > 0 => (rate.into(), per.into()),
            _ => (25, 1),
        };
        (per_second * per, tick * rate)
    }

    /// Returns the ticks from one packet to another: by their own times, else by the lengths of
    /// all packets from the one to the other, else nothing.
    fn decoding_time(&self, from: usize, to: usize) -> Option<i64> {
        let packets = self.scan.packets.get(from..=to)?;
        let (first, last) = (packets.first()?, packets.last()?);
        if let Some((first, last)) = first.dts.zip(last.dts) {
            return Some(last.saturating_sub(first));
        }
        let lengths = packets[..packets.len() - 1].iter().map(|packet| packet.duration);
        lengths.clone().all(|length| length > 0).then(|| lengths.fold(0, i64::saturating_add))
    }
}

fn open_input(source: &Arc<Source>, look: Look) -> Result<Input, libav::Error> {
    // The name only helps to tell containers apart; the file is already open.
    let extension = source.path().extension().unwrap_or_default().to_string_lossy();
    let reader = source.reader();
    let leash = reader.leash(LIMITS.probe);
    let opened = Input::open(reader, &format!("clip.{extension}"), (look, LIMITS))?;
    // A packet that was being read when the leash ended was cut there. Where the file itself says a
    // size, nothing had to be read for one.
    let has_size = || choose(opened.videos()).is_some_and(|video| video.width > 0);
    if leash.let_go() && look == Look::Closely && has_size() {
        return open_input(source, Look::Briefly);
    }
    Ok(opened)
}

/// Returns the stream that the file marks as the default, else the largest.
fn choose(videos: Vec<VideoStream>) -> Option<VideoStream> {
    let rank = |video: &VideoStream| {
        let pixels = i64::from(video.width) * i64::from(video.height);
        (video.chosen_by_file, pixels, std::cmp::Reverse(video.index))
    };
    videos.into_iter().max_by_key(rank)
}

fn check_size(path: &Path, stream: &VideoStream) -> Result<(), OpenError> {
    let (path, megapixels) = (path.to_owned(), LIMITS.pixels / 1_000_000);
    let (width, height) = (i64::from(stream.width), i64::from(stream.height));
    if width == 0 || height == 0 {
        return Err(OpenError::NoSize { path, limit: LIMITS.probe >> 20, megapixels });
    }
    if width.max(height) > LARGEST_SIDE.into() {
        return Err(OpenError::TooLarge { path, width, height, limit: LARGEST_SIDE });
    }
    Ok(())
}

fn time_base((numerator, denominator): (i32, i32)) -> Option<TimeBase> {
    TimeBase::new(u32::try_from(numerator).ok()?, u32::try_from(denominator).ok()?)
}

/// Returns the first picture that decodes, which shows what the container only claims, and the
/// ordinal of its packet; `input` has been read and is used again where that can be done.
fn first_picture(clip: &Clip, input: Input) -> Result<(u32, Arc<Picture>), OpenError> {
    let path = || clip.source.path().to_owned();
    let no_decoder =
        |cause| OpenError::NoDecoder { path: path(), codec: clip.stream.codec.clone(), cause };
    let mut session = match Session::rewound(clip, input) {
        Some(session) => session,
        None => Session::open(clip, Threads(1)).map_err(no_decoder)?,
    };
    let frame = session.next(&clip.scan, &|| false).ok().and_then(ControlFlow::continue_value);
    let frame = frame.flatten().ok_or_else(|| OpenError::NothingDecodes { path: path() })?;
    let ordinal = session.origin(&frame).map_or(u32::MAX, |origin| origin.ordinal);
    let picture = Picture::new((0, Ticks(0)), frame, clip.defaults)
        .map_err(|picture::Unsupported(format)| OpenError::PixelFormat { path: path(), format })?;
    Ok((ordinal, Arc::new(picture)))
}
