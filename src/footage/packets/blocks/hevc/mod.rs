//! HEVC (ITU-T H.265, 7.3.8 and 9.3). What one writes with the usual tools and cameras is read: pictures
//! in 4:0:0 or 4:2:0, without tiles and extensions. Nothing is said of others.

mod blocks;
mod coefficients;
mod contexts;
mod header;
mod sets;
mod slice;

use std::collections::BTreeMap;

use super::{
    bits::{self, Bits},
    verdict::Verdict,
};

use header::Header;
use sets::{PictureSet, SequenceSet};

/// Reads pictures in decoding order.
#[derive(Debug, Default)]
pub(crate) struct Reader {
    sequences: BTreeMap<u32, SequenceSet>,
    pictures: BTreeMap<u32, PictureSet>,
    /// The last slice that did not depend on another one.
    independent: Option<Header>,
    kept: slice::Kept,
    scratch: blocks::Scratch,
}

impl Reader {
    /// Begins with units that come along with a stream.
    pub(super) fn new(units: &[&[u8]]) -> Self {
        let mut reader = Self::default();
        reader.look(units);
        reader
    }

    /// Begins with a list of units (ISO/IEC 14496-15, 8.3.3.1).
    pub(super) fn listed(header: &[u8]) -> Self {
        Self::new(&listed_units(header).unwrap_or_default())
    }

    /// Looks into the units of a packet, or of the stream's header.
    pub(super) fn look(&mut self, units: &[&[u8]]) -> Verdict {
        let mut verdict = Verdict::Unknown;
        // Block at which the next slice of this picture begins, and how many there are.
        let mut reached: Option<(u32, u32)> = None;
        for unit in units {
            let kind = unit[0] >> 1 & 63;
            let is_base = (unit[0] & 1) == 0 && unit[1] >> 3 == 0;
            match kind {
                33 if is_base => self.take_sequence(unit),
                34 if is_base => self.take_picture(unit),
                0..=21 if is_base => match self.slice(unit, &mut reached) {
                    Some(true) => {
                        if verdict == Verdict::Unknown {
                            verdict = Verdict::Whole;
                        }
                    }
                    Some(false) => return Verdict::Broken,
                    None => return Verdict::Unknown,
                },
                _ => {}
            }
        }
        match reached {
            Some((next, all)) if next != all => Verdict::Broken,
            _ => verdict,
        }
    }

    fn take_sequence(&mut self, unit: &[u8]) {
        let bytes = bits::unescaped(unit);
        if let Some((id, set)) = SequenceSet::read(&mut Bits::new(&bytes[2..])) {
            self.sequences.insert(id, set);
        }
    }

    fn take_picture(&mut self, unit: &[u8]) {
        let bytes = bits::unescaped(unit);
        if let Some((id, set)) = PictureSet::read(&mut Bits::new(&bytes[2..])) {
            self.pictures.insert(id, set);
        }
    }

    /// Returns whether a slice adds up; nothing where that cannot be told.
    fn slice(&mut self, unit: &[u8], reached: &mut Option<(u32, u32)>) -> Option<bool> {
        let bytes = bits::unescaped(unit);
        let mut bits = Bits::new(&bytes[2..]);
        let is_first = bits.flag()?;
        if (16..=23).contains(&(unit[0] >> 1 & 63)) {
            bits.skip(1)?;
        }
        // A decoder says by itself where a set is not there.
        let picture = self.pictures.get(&bits.golomb()?)?;
        let sequence = self.sequences.get(&picture.sequence)?;
        if !(sequence.is_read && picture.is_read) {
            return None;
        }
        let kind = unit[0] >> 1 & 63;
        let header = Header::read(
            &mut bits,
            (sequence, picture),
            (kind, is_first),
            self.independent.as_ref(),
        );
        let Some(header) = header else { return Some(false) };
        let expected = match *reached {
            // One picture may follow another.
            Some((next, all)) if is_first && next == all => 0,
            reached => reached.map_or(0, |(next, _)| next),
        };
        if header.address != expected || is_first != (expected == 0) {
            return Some(false);
        }
        if !header.is_dependent {
            self.independent = Some(header.clone());
        }
        let data = bits.rest()?;
        let sets = (sequence, picture);
        let end = slice::read(data, sets, &header, (&mut self.kept, &mut self.scratch));
        let Some(end) = end else { return Some(false) };
        *reached = Some((end, sequence.blocks()));
        Some(true)
    }
}

/// Behind 22 bytes the number of lists; of each its kind, a length in two bytes, and units behind their
/// lengths in two bytes.
fn listed_units(header: &[u8]) -> Option<Vec<&[u8]>> {
    let (&lists, mut rest) = header.get(22..)?.split_first()?;
    let mut units = Vec::new();
    for _ in 0..lists {
        let (_, after) = rest.split_first()?;
        let (count, after) = after.split_first_chunk::<2>()?;
        rest = after;
        for _ in 0..u16::from_be_bytes(*count) {
            let (length, after) = rest.split_first_chunk::<2>()?;
            let (unit, after) = after.split_at_checked(u16::from_be_bytes(*length).into())?;
            if unit.len() >= 2 {
                units.push(unit);
            }
            rest = after;
        }
    }
    Some(units)
}
