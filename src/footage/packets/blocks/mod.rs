//! Reads the coded blocks of pictures without making pictures of them, to see whether their bytes add
//! up: in a whole slice the last block ends exactly where the slice does. FFmpeg's decoders do not look;
//! they make pictures of bytes that are left over, or run out, and say nothing.

mod arithmetic;
mod bits;
mod h264;
mod hevc;
mod verdict;

pub(crate) use verdict::Verdict;

use super::coded;

/// Reads a stream's pictures in decoding order.
#[derive(Debug)]
#[allow(clippy::large_enum_variant, reason = "each decode has one")]
pub(crate) enum Reader {
    H264(h264::Reader),
    Hevc(hevc::Reader),
}

impl Reader {
    /// Returns the reader of a codec by FFmpeg's name of it, where there is one. `header` is what the
    /// container gives along with the stream: units behind start codes, or in a list of its own.
    pub(crate) fn of(codec: &str, header: &[u8]) -> Option<Self> {
        let listed = header.first() == Some(&1);
        let units = || coded::whole_units(header).unwrap_or_default();
        match codec {
            "h264" if listed => Some(Self::H264(h264::Reader::listed(header))),
            "h264" => Some(Self::H264(h264::Reader::new(&units()))),
            "hevc" if listed => Some(Self::Hevc(hevc::Reader::listed(header))),
            "hevc" => Some(Self::Hevc(hevc::Reader::new(&units()))),
            _ => None,
        }
    }

    /// Looks into a packet.
    pub(crate) fn look(&mut self, packet: &[u8]) -> Verdict {
        let units = coded::whole_units(packet).unwrap_or_default();
        match self {
            Self::H264(reader) => reader.look(&units),
            Self::Hevc(reader) => reader.look(&units),
        }
    }
}
