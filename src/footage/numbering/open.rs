use std::{
    ops::ControlFlow,
    path::Path,
    sync::{Arc, OnceLock},
};

use crate::{
    footage::{
        error::OpenError,
        libav::{self, Input, Look, Pool, Threads, VideoStream},
        limits::{LARGEST_SIDE, LIMITS},
        packets::{
            clip::Clip,
            input::{choose, open_input},
            scan::{Extent, Scan},
            session::Session,
            source::Source,
        },
        pictures::picture::{self, Defaults, Picture},
    },
    units::{Container, Ticks, TimeBase},
};

use super::{
    facts::FootageFacts,
    footage::Footage,
    proof::{ProofKeeper, Proving},
    prove::Prover,
    table::FrameTable,
};

/// Packets that decode so soon that nobody needs a likely table before the true one.
const SOON_DECODED: usize = 600;

impl Footage {
    /// Opens a clip, reads through its packets and numbers its frames.
    ///
    /// Where time stamps cannot be trusted, this decodes the whole clip once. Nothing but the file
    /// itself is ever opened.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        Self::open_source(Source::open(path)?, Extent::Whole)
    }

    /// Opens a clip and proves its frames: by the proof that `keeper` has, else by one full decode,
    /// of which `told` hears how far it is and which `keeper` is given.
    pub fn open_proved(
        path: &Path,
        keeper: Option<Arc<dyn ProofKeeper>>,
        told: &dyn Fn(Proving),
    ) -> Result<Self, OpenError> {
        let (clip, first) = Clip::open(Source::open(path)?, Extent::Whole)?;
        let facts = FootageFacts::of(&clip.stream, (&clip.format, clip.time_base), &first);
        let (clip, table, facts) = (Arc::new(clip), Arc::default(), Arc::new(facts));
        let proved = Self { clip, table, facts, keeper }.proved_telling(&|| false, told);
        let proved = proved.filter(|footage| !footage.table.is_empty());
        proved.ok_or_else(|| OpenError::NothingDecodes { path: path.to_owned() })
    }

    /// Opens a clip as soon as its beginning can be stepped, however long it is.
    ///
    /// The table may then be short of the end, and its numbers may change: [`Self::is_counted`]
    /// tells, [`Self::counted`] and [`Self::proved`] do the rest, and a [`Reader`](crate::footage::Reader) does both by
    /// itself. Times never change.
    pub fn open_beginning(path: &Path) -> Result<Self, OpenError> {
        Self::open_source(Source::open(path)?, Extent::Beginning)
    }

    /// Opens a clip as [`Self::open_beginning`] does; `keeper` has its proof, or is given it once it
    /// is made.
    pub fn open_beginning_with(
        path: &Path,
        keeper: Arc<dyn ProofKeeper>,
    ) -> Result<Self, OpenError> {
        Self::open_kept(Source::open(path)?, Extent::Beginning, Some(keeper))
    }

    /// Opens a clip whose file is open already.
    pub(crate) fn open_source(source: Arc<Source>, extent: Extent) -> Result<Self, OpenError> {
        Self::open_kept(source, extent, None)
    }

    fn open_kept(
        source: Arc<Source>,
        extent: Extent,
        keeper: Option<Arc<dyn ProofKeeper>>,
    ) -> Result<Self, OpenError> {
        let path = source.path().to_owned();
        let (clip, first) = Clip::open(source, extent)?;
        let facts = FootageFacts::of(&clip.stream, (&clip.format, clip.time_base), &first);
        Self::of(clip, facts, (extent, keeper)).ok_or(OpenError::NothingDecodes { path })
    }

    /// Numbers the frames of what was read; nothing when there are none.
    fn of(
        clip: Clip,
        mut facts: FootageFacts,
        (extent, keeper): (Extent, Option<Arc<dyn ProofKeeper>>),
    ) -> Option<Self> {
        let table = FrameTable::from_stamps(&clip.scan, clip.container.packets).or_else(|| {
            let soon = extent == Extent::Beginning && clip.scan.packets.len() > SOON_DECODED;
            soon.then(|| FrameTable::likely(&clip.scan)).flatten()
        });
        let (unproved, table) = (table.is_none(), table.unwrap_or_default());
        if unproved && !clip.scan.is_whole {
            // Only a full decode can number these frames, and that needs all packets.
            let whole = clip.read_whole(&|| false)?.ok()?;
            return Self::of(whole, facts, (Extent::Whole, keeper));
        }
        facts.note(&clip.scan, &table, &[]);
        let (clip, table, facts) = (Arc::new(clip), Arc::new(table), Arc::new(facts));
        let footage = Self { clip, table, facts, keeper };
        let footage = if unproved { footage.proved(&|| false) } else { Some(footage) };
        footage.filter(|footage| !footage.table.is_empty())
    }

    /// Reads the packets of the whole clip and returns it with the longer table; nothing when
    /// `stop` said so.
    pub fn counted(&self, stop: &dyn Fn() -> bool) -> Option<Result<Self, OpenError>> {
        if self.is_whole() {
            return Some(Ok(self.clone()));
        }
        let nothing = || OpenError::NothingDecodes { path: self.path().to_owned() };
        let facts = FootageFacts::clone(&self.facts);
        let how = (Extent::Beginning, self.keeper.clone());
        let whole = self.clip.read_whole(stop)?;
        Some(whole.and_then(|clip| Self::of(clip, facts, how).ok_or_else(nothing)))
    }

    /// Decodes the whole clip once and returns it with what that showed: the proved table, damage,
    /// repeated pictures; nothing when `stop` said so or the file cannot be read any more.
    ///
    /// Where the table was proved already, the clip is returned as it is; where a proof of it is
    /// kept, nothing is decoded.
    pub fn proved(&self, stop: &dyn Fn() -> bool) -> Option<Self> {
        self.proved_telling(stop, &|_| ())
    }

    fn proved_telling(&self, stop: &dyn Fn() -> bool, told: &dyn Fn(Proving)) -> Option<Self> {
        if self.table.is_proved() {
            return Some(self.clone());
        }
        let whole = self.counted(stop)?.ok()?;
        if let Some(recalled) = whole.recalled(stop) {
            return Some(recalled);
        }
        Prover::new(&whole).run(stop, told)?.ok()
    }
}

impl Clip {
    /// Opens a clip, reads its packets and decodes its first picture.
    fn open(source: Arc<Source>, extent: Extent) -> Result<(Self, Arc<Picture>), OpenError> {
        let path = &*source.path().to_owned();
        let not_video = |cause| OpenError::NotVideo { path: path.to_owned(), cause };
        let mut input = open_input(&source, Look::Closely).map_err(not_video)?;
        if input.streams() > LIMITS.streams {
            return Err(OpenError::TooManyStreams { path: path.to_owned(), limit: LIMITS.streams });
        }
        let format = input.format();
        let not_on_list = libav::Error::Other { errno: libav::NOT_ON_LIST };
        let container = Container::of(&format, path).ok_or_else(|| not_video(not_on_list))?;
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
        let content_hash = OnceLock::new();
        let (first, parameters) = (None, Arc::new(parameters));
        let mut clip = Self {
            source,
            stream,
            format,
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
