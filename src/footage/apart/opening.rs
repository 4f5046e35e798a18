//! What another process tells of a clip when it opens it.

use std::sync::Arc;

use crate::footage::{
    OpenError,
    libav::{Frame, Pool},
    limits::LIMITS,
    packets::{
        clip::Said,
        scan::{Extent, Scan},
        source::Source,
    },
};

use super::{
    decoder::ApartDecoder,
    error::ApartError,
    packed::unpacked,
    process::{Process, not_understood},
    reply::short,
    talk::{Ask, Told},
};

/// A clip that another process has opened.
pub(super) struct Opened {
    pub said: Said,
    pub scan: Scan,
    /// The first picture, and the ordinal of its packet.
    pub first: (u32, Frame),
    /// The process, which has read these packets.
    pub process: Process,
}

/// Why it could not.
pub(super) enum Refusal {
    /// The clip or the program is not as it should be.
    Said(OpenError),
    /// The process did not end as it should.
    Lost(String),
}

impl From<ApartError> for Refusal {
    fn from(error: ApartError) -> Self {
        match error {
            ApartError::Unsafe { how, .. } => Self::Lost(how),
            ApartError::Open(error) => Self::Said(error),
            other => Self::Said(OpenError::Refused(other.to_string())),
        }
    }
}

/// Has a clip opened; nothing when `stop` said so.
pub(super) fn open(
    decoder: &ApartDecoder,
    source: &Source,
    (extent, pool): (Extent, &Arc<Pool>),
    stop: &dyn Fn() -> bool,
) -> Result<Option<Opened>, Refusal> {
    let mut process = Process::start(decoder, source)?;
    let opened = hear(&mut process, (extent, pool), stop);
    let opened = opened.map_err(|refused| match refused {
        Ok(words) => Refusal::Said(OpenError::Refused(words)),
        Err(how) => Refusal::Lost(how),
    })?;
    Ok(opened.map(|(said, scan, first)| Opened { said, scan, first, process }))
}

type Parts = (Said, Scan, (u32, Frame));

/// An error is what the process says, or how it was lost.
fn hear(
    process: &mut Process,
    (extent, pool): (Extent, &Arc<Pool>),
    stop: &dyn Fn() -> bool,
) -> Result<Option<Parts>, Result<String, String>> {
    let nonsense = || Err(not_understood());
    process.ask(&Ask::Open(extent), &[]).map_err(Err)?;
    let Some((told, _)) = process.hear(stop).map_err(Err)? else { return Ok(None) };
    let (mut said, count, (cut_short, changes_at), is_whole, ordinal) = match told {
        Told::Opened { said, packets, cut_short, changes_at, is_whole, first } => {
            (said, packets as usize, (cut_short, changes_at), is_whole, first)
        }
        Told::Refused(words) => return Err(Ok(short(&words))),
        _ => return Err(nonsense()),
    };
    // They are shown to people.
    (said.format, said.stream.codec) = (short(&said.format), short(&said.stream.codec));
    if count > LIMITS.packets || extent == Extent::Whole && !is_whole {
        return Err(nonsense());
    }
    let mut packets = Vec::new();
    while packets.len() < count {
        let Some((told, tail)) = process.hear(stop).map_err(Err)? else { return Ok(None) };
        match (told, unpacked(&tail, count - packets.len())) {
            (Told::Packets, Some(more)) => packets.extend(more),
            _ => return Err(nonsense()),
        }
    }
    let mut scan = Scan::from_packets(packets, cut_short);
    (scan.is_whole, scan.changes_at) = (is_whole, changes_at);
    let (Told::Picture(traits, _), tail) = process.answer().map_err(Err)? else {
        return Err(nonsense());
    };
    let frame = Frame::packed(traits, pool, |bytes| process.take(bytes, tail)).map_err(Err)?;
    let frame = frame.filter(|_| traits.pixels() <= LIMITS.pixels).ok_or_else(nonsense);
    Ok(Some((said, scan, (ordinal, frame?))))
}
