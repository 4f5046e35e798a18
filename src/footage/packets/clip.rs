use std::{
    path::Path,
    sync::{Arc, OnceLock},
};

use serde::{Deserialize, Serialize};

use crate::{
    footage::{
        error::OpenError,
        libav::{self, Codec, Input, Pool, Threads, VideoStream},
        limits::{LARGEST_SIDE, LIMITS},
        pictures::picture::{Defaults, Picture},
    },
    units::{Container, Packets, TimeBase},
};

use super::{
    elsewhere::Hands,
    input::{Look, open_input, zeros_left_out},
    scan::Scan,
    source::Source,
};

/// What of a clip never changes once it is scanned.
#[derive(Clone, Debug)]
pub(crate) struct Clip {
    pub source: Arc<Source>,
    pub stream: VideoStream,
    /// FFmpeg's name of what reads it.
    pub format: String,
    pub container: &'static Container,
    pub time_base: TimeBase,
    pub defaults: Defaults,
    pub hands: Hands,
    /// Where the pictures of all its decoders lie.
    pub pool: Arc<Pool>,
    pub scan: Scan,
    /// The first picture that decodes, and the ordinal of its packet.
    pub first: Option<(u32, Arc<Picture>)>,
    pub content_hash: OnceLock<String>,
}

/// What the container says of a clip.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(crate) struct Said {
    pub stream: VideoStream,
    pub format: String,
    pub defaults: Defaults,
}

impl Clip {
    /// Takes a clip of which no packet is read yet, if it is one that is read.
    pub(crate) fn of(source: &Arc<Source>, said: Said, hands: Hands) -> Result<Self, OpenError> {
        let Said { stream, format, defaults } = said;
        let path = source.path();
        let not_video = |cause| OpenError::NotVideo { path: path.to_owned(), cause };
        let not_on_list = libav::Error::Other { errno: libav::NOT_ON_LIST };
        let container = Container::of(&format, path).ok_or_else(|| not_video(not_on_list))?;
        check_size(path, &stream)?;
        let time_base =
            time_base(stream.time_base).ok_or_else(|| not_video(libav::Error::InvalidData))?;
        Ok(Self {
            source: Arc::clone(source),
            stream,
            format,
            container,
            time_base,
            defaults,
            hands,
            pool: Arc::default(),
            scan: Scan::default(),
            first: None,
            content_hash: OnceLock::new(),
        })
    }

    /// Returns what the container says of it.
    pub(crate) fn said(&self) -> Said {
        let (stream, format) = (self.stream.clone(), self.format.clone());
        Said { stream, format, defaults: self.defaults }
    }

    /// Returns how many zeros at the end of the file are not read.
    pub(crate) fn zeros_left_out(&self) -> u64 {
        zeros_left_out(&self.source, self.container)
    }

    /// Opens the same file once more, for a reading position of its own; fails where another process
    /// reads it, so that this one never does.
    pub(crate) fn input(&self) -> Result<Input, libav::Error> {
        if let Hands::Other(_) = self.hands {
            return Err(libav::Error::DemuxerNotFound);
        }
        // What is known already need not be looked for again; where packets are cut out of a
        // stream of bytes, looking is part of how they are cut.
        let look = match self.container.packets {
            Packets::Indexed => Look::Briefly,
            Packets::Found => Look::Closely,
        };
        let mut input = open_input(&self.source, look)?;
        input.choose(self.stream.index);
        Ok(input)
    }

    /// Opens a decoder for the video in this process.
    pub(crate) fn codec(&self, threads: Threads) -> Result<Codec, libav::Error> {
        match &self.hands {
            Hands::Own(parameters) => parameters.codec(threads, LIMITS, &self.pool),
            Hands::Other(_) => Err(libav::Error::DecoderNotFound),
        }
    }

    /// Returns how a process that decodes the clip was lost, where `error` says that it was.
    pub(crate) fn lost(&self, error: libav::Error) -> Option<String> {
        if error == libav::LOST { self.hands.lost() } else { None }
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
