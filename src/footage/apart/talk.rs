//! What this process and one that stays say to each other.

use std::io::{self, Read, Write};

use serde::{Deserialize, Serialize, de::DeserializeOwned};

use crate::footage::{
    libav::Traits,
    packets::{clip::Said, elsewhere::Progress, scan::Extent},
};

use super::locks::Locks;

const LONGEST_HEADER: usize = 1 << 14;
/// Most bytes that follow a header.
pub(super) const LONGEST_TAIL: usize = 1 << 20;

/// What is asked.
#[derive(Debug, Serialize, Deserialize)]
pub(super) enum Ask {
    /// Open the clip.
    Open(Extent),
    /// Take the clip as it was opened before; so many packets follow, which are all or not.
    Take(Said, u32, bool),
    /// Packets of the clip.
    Packets,
    /// Decode from the first packet on.
    Walk {
        /// With so many threads.
        threads: usize,
    },
    /// Prepare to decode from this packet.
    Land(u32),
    /// Decode on; packets before this one may be left out.
    Next(u32),
    /// Hand over the next part of the picture.
    More,
}

/// What is answered.
#[derive(Debug, Serialize, Deserialize)]
pub(super) enum Told {
    /// The process is locked in.
    Ready(Locks),
    /// It is still at what was asked.
    Busy,
    /// The clip is open; its packets follow, then its first picture.
    Opened {
        said: Said,
        packets: u32,
        cut_short: bool,
        changes_at: Option<u32>,
        is_whole: bool,
        /// Ordinal of the packet that the first picture came from.
        first: u32,
    },
    /// Packets of the clip.
    Packets,
    /// A picture; its first part is there.
    Picture(Traits, Progress),
    /// The next part is there.
    Part,
    /// Everything has come out.
    End(Progress),
    /// It is done.
    Done,
    /// FFmpeg could not, and its number for why.
    Failed(i32),
    /// It cannot be, in words.
    Refused(String),
}

/// Writes the lengths of both parts, four bytes each, and the parts.
pub(super) fn write(to: &mut impl Write, header: &impl Serialize, tail: &[u8]) -> io::Result<()> {
    let header = serde_json::to_vec(header)?;
    let mut bytes = Vec::with_capacity(8 + header.len() + tail.len());
    bytes.extend_from_slice(&(header.len() as u32).to_le_bytes());
    bytes.extend_from_slice(&(tail.len() as u32).to_le_bytes());
    bytes.extend_from_slice(&header);
    bytes.extend_from_slice(tail);
    to.write_all(&bytes)?;
    to.flush()
}

/// Reads what may have been written by anybody; nothing where nobody writes any more.
pub(super) fn read<T: DeserializeOwned>(from: &mut impl Read) -> io::Result<Option<(T, Vec<u8>)>> {
    let mut lengths = [[0; 4]; 2];
    match from.read_exact(lengths.as_flattened_mut()) {
        Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => return Ok(None),
        read => read?,
    }
    let [header, tail] = lengths.map(|length| u32::from_le_bytes(length) as usize);
    if header > LONGEST_HEADER || tail > LONGEST_TAIL {
        return Err(io::ErrorKind::InvalidData.into());
    }
    let mut bytes = vec![0; header + tail];
    from.read_exact(&mut bytes)?;
    let told = serde_json::from_slice(&bytes[..header])?;
    bytes.drain(..header);
    Ok(Some((told, bytes)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_written_is_read_one_after_the_other() {
        let mut bytes = Vec::new();
        write(&mut bytes, &Ask::Land(7), &[]).unwrap();
        write(&mut bytes, &Ask::Packets, &[1, 2, 3]).unwrap();
        let from = &mut bytes.as_slice();
        assert!(matches!(read(from).unwrap(), Some((Ask::Land(7), tail)) if tail.is_empty()));
        assert!(matches!(read(from).unwrap(), Some((Ask::Packets, tail)) if tail == [1, 2, 3]));
        assert!(read::<Ask>(from).unwrap().is_none());
    }

    #[test]
    fn nothing_longer_than_any_answer_is_waited_for() {
        for lengths in [[u32::MAX, 0], [10, u32::MAX]] {
            let bytes = lengths.map(u32::to_le_bytes);
            assert_eq!(
                read::<Told>(&mut bytes.as_flattened()).unwrap_err().kind(),
                io::ErrorKind::InvalidData
            );
        }
        let nonsense = [&2_u32.to_le_bytes()[..], &0_u32.to_le_bytes(), b"[]"].concat();
        assert!(read::<Told>(&mut nonsense.as_slice()).is_err());
    }
}
