//! A clip as numbered frames: the only room that knows FFmpeg.
//!
//! Frame `k` is the k-th picture of one full decode of the clip, inside its edit list. Everything
//! here serves that sentence: the packets are read once and numbered (`scan`), the number travels
//! through the decoder as the packet's time stamp and so names the picture that comes out
//! (`session`), the table of frames says which packet shows which frame (`table`, `prove`), and a
//! seek counts only when the packet that was wanted has come by (`session`). What each frame
//! looks like, how it is turned upright and coloured, is in `picture`, `colour` and `convert`.

mod cache;
mod colour;
mod convert;
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
    path::Path,
    sync::{Arc, OnceLock},
};

use crate::units::{self, TimeBase};

pub use colour::{ColourSpace, Matrix, Primaries, Range, Transfer};
pub use decoder::{DEFAULT_BUDGET, Decoder};
pub use describe::{frames_json, frames_text};
pub use error::{DecodeError, OpenError};
pub use facts::{ClipFacts, Note};
pub use libav::{Component, PlaneView};
pub use picture::{Arrangement, Picture, PixelLayout};
pub use reader::Reader;
pub use source::SourceState;
pub use still::{StillError, still};
pub use table::{FrameEntry, FrameTable};
pub use tone::Tone;

use libav::{Input, Limits, VideoStream};
use picture::Defaults;
use prove::Prover;
use scan::Scan;
use source::Source;
use table::Shown;

/// What a file may cost: pictures of 8192 × 8192 pixels, and more streams than any camera writes.
const LIMITS: Limits = Limits { pixels: 1 << 26, streams: 64 };

/// An opened and scanned clip; cheap to clone and to share between threads.
#[derive(Clone, Debug)]
pub struct Footage {
    clip: Arc<Clip>,
    table: Arc<FrameTable>,
    facts: Arc<ClipFacts>,
}

/// What of a clip never changes once it is scanned.
#[derive(Debug)]
pub(crate) struct Clip {
    source: Arc<Source>,
    stream: VideoStream,
    container: String,
    time_base: TimeBase,
    defaults: Defaults,
    scan: Scan,
    content_hash: OnceLock<String>,
}

impl Footage {
    /// Opens a clip, reads through its packets and numbers its frames.
    ///
    /// Where time stamps cannot be trusted, this decodes the whole clip once. Nothing but the file
    /// itself is ever opened.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        let mut clip = Clip::open(path)?;
        let first = first_picture(&clip)?;
        // A turn told in the first picture holds until another one is told.
        clip.defaults.matrix = first.matrix().or(clip.defaults.matrix);
        let clip = Arc::new(clip);
        let mut facts = ClipFacts::of(&clip.stream, (&clip.container, clip.time_base), &first);
        let stamped = FrameTable::from_stamps(&clip.scan, &clip.container);
        let unproved = stamped.is_none();
        let table = stamped.unwrap_or_default();
        facts.note(&clip.scan, &table, &[]);
        let footage = Self { clip, table: Arc::new(table), facts: Arc::new(facts) };
        let footage = if unproved { footage.proved(&|| false) } else { Some(footage) };
        footage
            .filter(|footage| !footage.table.is_empty())
            .ok_or_else(|| OpenError::NothingDecodes { path: path.to_owned() })
    }

    /// Decodes the whole clip once and returns it with what that showed: the proved table, damage,
    /// repeated pictures; nothing when `stop` said so or the file cannot be read any more.
    ///
    /// Where the table was proved already, the clip is returned as it is.
    pub fn proved(&self, stop: &dyn Fn() -> bool) -> Option<Self> {
        if self.table.is_proved() {
            return Some(self.clone());
        }
        Prover::new(self).run(stop)?.ok()
    }

    /// Returns the same clip with what one full decode showed.
    fn with_proof(&self, shown: &[Shown]) -> Self {
        let ticks = self.clip.frame_ticks(shown);
        let table = FrameTable::from_decode(&self.clip.scan, shown, ticks);
        let mut facts = ClipFacts::clone(&self.facts);
        facts.note(&self.clip.scan, &table, shown);
        Self { clip: Arc::clone(&self.clip), table: Arc::new(table), facts: Arc::new(facts) }
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
    fn open(path: &Path) -> Result<Self, OpenError> {
        let source = Source::open(path)?;
        let not_video = |cause| OpenError::NotVideo { path: path.to_owned(), cause };
        let mut input = open_input(&source).map_err(not_video)?;
        let stream =
            choose(input.videos()).ok_or_else(|| OpenError::NoPicture { path: path.to_owned() })?;
        check_size(path, &stream)?;
        input.choose(stream.index);
        input.codec(libav::Threads(1), LIMITS).map_err(|cause| OpenError::NoDecoder {
            path: path.to_owned(),
            codec: stream.codec.clone(),
            cause,
        })?;
        let time_base =
            time_base(stream.time_base).ok_or_else(|| not_video(libav::Error::InvalidData))?;
        let scan = Scan::of(&mut input)
            .map_err(|_| OpenError::TooLong { path: path.to_owned(), limit: scan::MOST_PACKETS })?;
        Ok(Self {
            source,
            container: input.container(),
            time_base,
            defaults: Defaults { matrix: stream.matrix, pixel_shape: stream.pixel_shape },
            stream,
            scan,
            content_hash: OnceLock::new(),
        })
    }

    /// Opens the same file once more, for a reading position of its own.
    fn input(&self) -> Result<Input, libav::Error> {
        let mut input = open_input(&self.source)?;
        input.choose(self.stream.index);
        Ok(input)
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

fn open_input(source: &Arc<Source>) -> Result<Input, libav::Error> {
    // The name only helps to tell containers apart; the file is already open.
    let extension = source.path().extension().unwrap_or_default().to_string_lossy();
    Input::open(source.reader(), &format!("clip.{extension}"), LIMITS)
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
    let (width, height) = (i64::from(stream.width), i64::from(stream.height));
    if width * height > LIMITS.pixels as i64 {
        let limit = LIMITS.pixels / 1_000_000;
        return Err(OpenError::TooLarge { path: path.to_owned(), width, height, limit });
    }
    Ok(())
}

fn time_base((numerator, denominator): (i32, i32)) -> Option<TimeBase> {
    TimeBase::new(u32::try_from(numerator).ok()?, u32::try_from(denominator).ok()?)
}

/// Returns the first picture that decodes, which shows what the container only claims.
fn first_picture(clip: &Clip) -> Result<Picture, OpenError> {
    let path = || clip.source.path().to_owned();
    let mut session = session::Session::open(clip, libav::Threads(1)).map_err(|cause| {
        OpenError::NoDecoder { path: path(), codec: clip.stream.codec.clone(), cause }
    })?;
    let frame =
        session.next(&clip.scan, &|| false).ok().and_then(std::ops::ControlFlow::continue_value);
    let frame = frame.flatten().ok_or_else(|| OpenError::NothingDecodes { path: path() })?;
    let zero = (0, units::Ticks(0));
    Picture::new(zero, frame, clip.defaults)
        .map_err(|picture::Unsupported(format)| OpenError::PixelFormat { path: path(), format })
}
