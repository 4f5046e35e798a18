use std::sync::{Arc, OnceLock};

use crate::{
    footage::{
        libav::{self, Codec, Input, Look, Parameters, Pool, Threads, VideoStream},
        limits::LIMITS,
        pictures::picture::{Defaults, Picture},
    },
    units::{Container, Packets, TimeBase},
};

use super::{input::open_input, scan::Scan, source::Source};

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
    pub parameters: Arc<Parameters>,
    /// Where the pictures of all its decoders lie.
    pub pool: Arc<Pool>,
    pub scan: Scan,
    /// The first picture that decodes, and the ordinal of its packet.
    pub first: Option<(u32, Arc<Picture>)>,
    pub content_hash: OnceLock<String>,
}

impl Clip {
    /// Opens the same file once more, for a reading position of its own.
    pub(crate) fn input(&self) -> Result<Input, libav::Error> {
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

    /// Opens a decoder for the video.
    pub(crate) fn codec(&self, threads: Threads) -> Result<Codec, libav::Error> {
        self.parameters.codec(threads, LIMITS, &self.pool)
    }
}
