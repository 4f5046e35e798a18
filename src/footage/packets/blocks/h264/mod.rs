//! H.264 (ITU-T H.264, 7.3.4 and 9). What one writes with the usual tools and cameras is read: frames and
//! single fields in 4:0:0, 4:2:0 or 4:2:2. Nothing is said of others: frames whose macroblocks may be of
//! either field, groups of slices and slices in any order, parts of slices in units of their own,
//! switching pictures, 4:4:4.

mod code;
mod code_values;
mod context_values;
mod contexts;
mod decisions;
mod header;
mod kinds;
mod lengths;
mod macroblock;
mod near;
mod sets;
mod slice;

use std::collections::BTreeMap;

use super::{
    bits::{self, Bits},
    verdict::Verdict,
};

use header::{Header, Kind, Unit};
use near::Macroblock;
use sets::{PictureSet, SequenceSet};

/// Reads pictures in decoding order.
#[derive(Debug, Default)]
pub(crate) struct Reader {
    sequences: BTreeMap<u32, SequenceSet>,
    pictures: BTreeMap<u32, PictureSet>,
    /// A row of macroblocks, kept to be used again.
    row: Vec<Macroblock>,
    /// Whether packets are cut into units in a way that is not read.
    other_lengths: bool,
}

/// How far the slices of a picture came: the macroblock behind the last one, and how many there are.
type Reached = Option<(u32, u32)>;

impl Reader {
    /// Begins with units that come along with a stream.
    pub(super) fn new(units: &[&[u8]]) -> Self {
        let mut reader = Self::default();
        reader.look(units);
        reader
    }

    /// Begins with a list of units (ISO/IEC 14496-15, 5.3.3.1).
    pub(super) fn listed(header: &[u8]) -> Self {
        let mut reader = Self::new(&listed_units(header).unwrap_or_default());
        reader.other_lengths = header.get(4).is_some_and(|bits| bits & 3 != 3);
        reader
    }

    /// Looks into the units of a packet, or of the stream's header.
    pub(super) fn look(&mut self, units: &[&[u8]]) -> Verdict {
        if self.other_lengths {
            return Verdict::Unknown;
        }
        let mut verdict = Verdict::Unknown;
        let (mut reached, mut passed_over) = (None, false);
        for unit in units {
            match unit[0] & 31 {
                7 => self.take_sequence(unit),
                8 => self.take_picture(unit),
                // Cameras write remarks as such slices. Decoders pass over them.
                5 if unit[0] & 0x60 == 0 => passed_over = true,
                1 | 5 => match self.slice(unit, &mut reached) {
                    Verdict::Whole => verdict = Verdict::Whole,
                    other => return other,
                },
                // Slices in parts.
                2..=4 => return Verdict::Unknown,
                _ => {}
            }
        }
        match reached {
            Some((next, all)) if next != all => Verdict::Broken,
            None if passed_over => Verdict::Broken,
            _ => verdict,
        }
    }

    fn take_sequence(&mut self, unit: &[u8]) {
        let bytes = bits::unescaped(unit);
        if let Some((id, set)) = SequenceSet::read(&mut Bits::new(&bytes[1..])) {
            self.sequences.insert(id, set);
        }
    }

    fn take_picture(&mut self, unit: &[u8]) {
        let bytes = bits::unescaped(unit);
        if let Some((id, set)) = PictureSet::read(&mut Bits::new(&bytes[1..])) {
            self.pictures.insert(id, set);
        }
    }

    fn slice(&mut self, unit: &[u8], reached: &mut Reached) -> Verdict {
        let bytes = bits::unescaped(unit);
        let mut bits = Bits::new(&bytes[1..]);
        let Some((first, kind, id)) = begin(&mut bits) else { return Verdict::Broken };
        // A decoder says by itself where a set is not there.
        let picture = self.pictures.get(&id);
        let sets = picture.and_then(|it| Some((self.sequences.get(&it.sequence)?, it)));
        let Some((sequence, picture)) = sets else { return Verdict::Unknown };
        let kind = match kind % 5 {
            0 => Kind::One,
            1 => Kind::Both,
            2 => Kind::Intra,
            _ => return Verdict::Unknown,
        };
        if !(sequence.is_read && picture.is_read) {
            return Verdict::Unknown;
        }
        let said = Unit { is_refresh: unit[0] & 31 == 5, is_reference: unit[0] & 0x60 != 0 };
        let header = Header::read(&mut bits, (sequence, picture), (first, kind), said);
        let Some(header) = header else { return Verdict::Broken };
        if sequence.mixes_fields && !header.is_field {
            return Verdict::Unknown;
        }
        if header.is_redundant {
            return Verdict::Whole;
        }
        let expected = match *reached {
            // One picture, or field, may follow another.
            Some((next, all)) if first == 0 && next == all => 0,
            reached => reached.map_or(0, |(next, _)| next),
        };
        if first != expected {
            return if sequence.any_order { Verdict::Unknown } else { Verdict::Broken };
        }
        let end = slice::read(bits, (sequence, picture), &header, &mut self.row);
        let Some(end) = end else { return Verdict::Broken };
        *reached = Some((end, sequence.macroblocks(header.is_field)));
        Verdict::Whole
    }
}

/// Reads how a slice's header begins: its first macroblock, its kind, its picture set.
fn begin(bits: &mut Bits<'_>) -> Option<(u32, u32, u32)> {
    let begun = (bits.golomb()?, bits.golomb()?, bits.golomb()?);
    (begun.1 < 10).then_some(begun)
}

/// Behind five bytes the number of sequence sets in five bits, then those behind their lengths in two
/// bytes; then likewise picture sets, whose number has a byte.
fn listed_units(header: &[u8]) -> Option<Vec<&[u8]>> {
    let (&count, mut rest) = header.get(5..)?.split_first()?;
    let mut units = Vec::new();
    let mut counts = [count & 31, 0];
    for k in 0..2 {
        for _ in 0..counts[k] {
            let (length, after) = rest.split_first_chunk::<2>()?;
            let (unit, after) = after.split_at_checked(u16::from_be_bytes(*length).into())?;
            if unit.len() >= 2 {
                units.push(unit);
            }
            rest = after;
        }
        if k == 0 {
            let (&count, after) = rest.split_first()?;
            (counts[1], rest) = (count, after);
        }
    }
    Some(units)
}

#[cfg(test)]
mod tests {
    use proptest::{collection::vec, prelude::*};

    use super::*;

    /// High profile, 4 x 3 macroblocks, frames only, four bits of the frame's number; written by hand
    /// from clause 7.3.2.1.1.
    const SEQUENCE: &[u8] = &[0x67, 0x64, 0, 0x1e, 0xac, 0xb4, 0x23, 0xc8];
    /// Codes of varying length, and decisions; each with the large transform (clause 7.3.2.2).
    const PICTURES: [&[u8]; 2] = [&[0x68, 0xce, 0x3c, 0xb0], &[0x68, 0xee, 0x3c, 0xb0]];

    /// A slice of kind P that skips so many macroblocks and says no more: clauses 7.3.3 and 7.3.4 by
    /// hand.
    #[test]
    fn a_slice_is_whole_where_its_macroblocks_and_its_bits_end_together() {
        let of = |slice: &[u8]| Reader::new(&[SEQUENCE, PICTURES[0]]).look(&[slice]);
        let skipping_12 = [1, 0x9a, 0x25, 0x0d, 0x80];
        let skipping_11 = [1, 0x9a, 0x25, 0x0c, 0x80];
        let skipping_13 = [1, 0x9a, 0x25, 0x0e, 0x80];
        let with_one_bit_more = [1, 0x9a, 0x25, 0x0d, 0xc0];
        assert_eq!(of(&skipping_12), Verdict::Whole);
        for slice in [skipping_11, skipping_13, with_one_bit_more] {
            assert_eq!(of(&slice), Verdict::Broken, "{slice:x?}");
        }
        // Without its sets nobody knows.
        assert_eq!(Reader::new(&[SEQUENCE]).look(&[&skipping_12]), Verdict::Unknown);
        // One picture after another, and one that is not complete before it.
        let mut reader = Reader::new(&[SEQUENCE, PICTURES[0]]);
        assert_eq!(reader.look(&[&skipping_12, &skipping_12]), Verdict::Whole);
        assert_eq!(reader.look(&[&skipping_11, &skipping_12]), Verdict::Broken);
    }

    proptest! {
        #[test]
        fn no_bytes_stop_it(
            sets in vec(vec(any::<u8>(), 2..40), 0..3),
            slices in vec((0_u8..4, vec(any::<u8>(), 2..400)), 1..4),
            which in 0_usize..2,
        ) {
            let mut reader = Reader::new(&[SEQUENCE, PICTURES[which]]);
            for (kind, mut slice) in slices.iter().cloned() {
                // First macroblock 0, kinds P, B and I of the sets above, mostly.
                (slice[0], slice[1]) = match kind {
                    0 => (0x41, 0x9b),
                    1 => (1, 0x9f),
                    2 => (0x65, 0x88),
                    _ => (slice[0], slice[1]),
                };
                reader.look(&[&slice]);
            }
            // Sets that say anything.
            let mut all: Vec<Vec<u8>> = sets;
            for (set, kind) in all.iter_mut().zip([0x67, 0x68, 0x67]) {
                set[0] = kind;
            }
            all.extend(slices.into_iter().map(|(_, slice)| slice));
            reader.look(&all.iter().map(Vec::as_slice).collect::<Vec<_>>());
            Reader::listed(&all.concat());
        }
    }
}
