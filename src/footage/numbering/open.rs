use std::{ops::ControlFlow, path::Path, sync::Arc};

use crate::{
    footage::{
        error::OpenError,
        libav::{Input, Threads},
        limits::LIMITS,
        packets::{
            clip::{Clip, Said},
            edits,
            elsewhere::Hands,
            input::{Look, choose, open_input},
            scan::{Extent, Scan},
            session::Session,
            source::Source,
        },
        pictures::picture::{self, Defaults, Picture},
    },
    units::{Seek, Ticks},
};

use super::{
    facts::FootageFacts,
    footage::Footage,
    proof::{ProofKeeper, Proving},
    prove::Prover,
    table::FrameTable,
};

/// How much of a clip is read, and who keeps its proof.
pub(crate) type How = (Extent, Option<Arc<dyn ProofKeeper>>);

/// Packets that decode so soon that nobody needs a likely table before the true one.
const SOON_DECODED: usize = 600;

impl Footage {
    /// Opens a clip, reads through its packets and numbers its frames.
    ///
    /// Where time stamps cannot be trusted, this decodes the whole clip once. Nothing but the file
    /// itself is ever opened.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        Self::open_source(&Source::open(path)?, (Extent::Whole, None))
    }

    /// Opens a clip and proves its frames: by the proof that `keeper` has, else by one full decode,
    /// of which `told` hears how far it is and which `keeper` is given.
    pub fn open_proved(
        path: &Path,
        keeper: Option<Arc<dyn ProofKeeper>>,
        told: &dyn Fn(Proving),
    ) -> Result<Self, OpenError> {
        let nothing = || OpenError::NothingDecodes { path: path.to_owned() };
        let clip = Clip::open(&Source::open(path)?, Extent::Whole, &|| false)?;
        let (_, first) = clip.first.as_ref().ok_or_else(nothing)?;
        let facts = FootageFacts::of(&clip, first);
        let (clip, table, facts) = (Arc::new(clip), Arc::default(), Arc::new(facts));
        let proved = Self { clip, table, facts, keeper }.proved_telling(&|| false, told);
        let proved = proved.filter(|footage| !footage.table.is_empty());
        proved.ok_or_else(nothing)
    }

    /// Opens a clip as soon as its beginning can be stepped, however long it is.
    ///
    /// The table may then be short of the end, and its numbers may change: [`Self::is_counted`]
    /// tells, [`Self::counted`] and [`Self::proved`] do the rest, and a [`Reader`](crate::footage::Reader) does both by
    /// itself. Times never change.
    pub fn open_beginning(path: &Path) -> Result<Self, OpenError> {
        Self::open_source(&Source::open(path)?, (Extent::Beginning, None))
    }

    /// Opens a clip as [`Self::open_beginning`] does; `keeper` has its proof, or is given it once it
    /// is made.
    pub fn open_beginning_with(
        path: &Path,
        keeper: Arc<dyn ProofKeeper>,
    ) -> Result<Self, OpenError> {
        Self::open_source(&Source::open(path)?, (Extent::Beginning, Some(keeper)))
    }

    /// Opens a clip whose file is open already.
    pub(crate) fn open_source(source: &Arc<Source>, how: How) -> Result<Self, OpenError> {
        Self::of_clip(Clip::open(source, how.0, &|| false)?, how)
    }

    /// Numbers the frames of a clip whose packets are read, and whose first picture is decoded.
    pub(crate) fn of_clip(clip: Clip, how: How) -> Result<Self, OpenError> {
        let (path, hands) = (clip.source.path().to_owned(), clip.hands.clone());
        let Some((_, first)) = &clip.first else { return Err(OpenError::NothingDecodes { path }) };
        let facts = FootageFacts::of(&clip, first);
        Self::of(clip, facts, how).ok_or_else(|| match hands.lost() {
            Some(how) => OpenError::Unsafe { path, how },
            None => OpenError::NothingDecodes { path },
        })
    }

    /// Numbers the frames of what was read; nothing when there are none.
    fn of(clip: Clip, mut facts: FootageFacts, (extent, keeper): How) -> Option<Self> {
        let table = FrameTable::from_stamps(&clip).or_else(|| {
            let soon = extent == Extent::Beginning && clip.scan.packets.len() > SOON_DECODED;
            soon.then(|| FrameTable::likely(&clip)).flatten()
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

    /// Does what [`Self::proved`] does; `told` hears how far it is, where no proof is kept.
    pub(crate) fn proved_telling(
        &self,
        stop: &dyn Fn() -> bool,
        told: &dyn Fn(Proving),
    ) -> Option<Self> {
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
    /// Opens a clip, reads its packets, none where `stop` says so, and decodes its first
    /// picture.
    pub(crate) fn open(
        source: &Arc<Source>,
        extent: Extent,
        stop: &dyn Fn() -> bool,
    ) -> Result<Self, OpenError> {
        let path = source.path();
        let not_video = |cause| OpenError::NotVideo { path: path.to_owned(), cause };
        edits::check(source)?;
        let mut input = open_input(source, Look::Closely).map_err(not_video)?;
        if input.streams() > LIMITS.streams {
            return Err(OpenError::TooManyStreams { path: path.to_owned(), limit: LIMITS.streams });
        }
        let stream =
            choose(input.videos()).ok_or_else(|| OpenError::NoPicture { path: path.to_owned() })?;
        let defaults = Defaults { matrix: stream.matrix, pixel_shape: stream.pixel_shape };
        let mut clip =
            Self::look_into(source, Said { stream, format: input.format(), defaults }, &mut input)?;
        clip.scan = clip.scanned(&mut input, extent, stop)?.unwrap_or_default();
        let first = first_picture(&clip, input)?;
        // A turn told in the first picture holds until another one is told.
        clip.defaults.matrix = first.1.matrix().or(clip.defaults.matrix);
        clip.first = Some(first);
        Ok(clip)
    }

    /// Opens a clip of which another process has told this, and the packets.
    pub(crate) fn open_told(
        source: &Arc<Source>,
        said: Said,
        scan: Scan,
    ) -> Result<Self, OpenError> {
        let not_video = |cause| OpenError::NotVideo { path: source.path().to_owned(), cause };
        let mut input = open_input(source, Look::Closely).map_err(not_video)?;
        Ok(Self { scan, ..Self::look_into(source, said, &mut input)? })
    }

    /// Chooses the stream and sees whether there is a decoder for it.
    fn look_into(source: &Arc<Source>, said: Said, input: &mut Input) -> Result<Self, OpenError> {
        let (path, codec) = (source.path().to_owned(), said.stream.codec.clone());
        let no_decoder = |cause| OpenError::NoDecoder { path, codec, cause };
        input.choose(said.stream.index);
        let parameters = match input.parameters() {
            Ok(parameters) => parameters,
            Err(cause) => return Err(no_decoder(cause)),
        };
        let clip = Self::of(source, said, Hands::Own(Arc::new(parameters)))?;
        clip.codec(Threads(1)).map_err(no_decoder)?;
        Ok(clip)
    }

    /// Returns the clip with all its packets; nothing when `stop` said so.
    fn read_whole(&self, stop: &dyn Fn() -> bool) -> Option<Result<Self, OpenError>> {
        if let Hands::Other(elsewhere) = &self.hands {
            let scan = elsewhere.scan(stop)?;
            return Some(scan.map(|scan| Self { scan, ..self.clone() }));
        }
        let path = self.source.path();
        let mut input = match open_input(&self.source, Look::Closely) {
            Ok(input) => input,
            Err(cause) => return Some(Err(OpenError::NotVideo { path: path.to_owned(), cause })),
        };
        let scan = self.scanned(&mut input, Extent::Whole, stop).transpose()?;
        Some(scan.map(|scan| Self { scan, ..self.clone() }))
    }

    /// Reads the packets; nothing when `stop` said so.
    fn scanned(
        &self,
        input: &mut Input,
        extent: Extent,
        stop: &dyn Fn() -> bool,
    ) -> Result<Option<Scan>, OpenError> {
        let mut streams = vec![self.stream.index];
        if self.container.seek == Seek::Byte {
            // Recordings of such kinds are joined as they are, and go on in other streams then.
            let others = input.videos().into_iter().map(|video| video.index);
            streams.extend(others.filter(|&index| index != self.stream.index));
        }
        input.choose_all(&streams);
        Scan::of(input, &self.stream.codec, (extent, LIMITS), stop)
            .map_err(|beyond| beyond.of(self.source.path()))
    }
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
