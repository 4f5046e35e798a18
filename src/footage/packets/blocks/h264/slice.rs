//! The macroblocks of one slice, one after the other (clause 7.3.4).

use super::{
    super::bits::Bits,
    code::Code,
    decisions::Decisions,
    header::{Header, Kind},
    lengths::Lengths,
    macroblock::{self, Macroblocks},
    near::{Macroblock, Near},
    sets::{PictureSet, SequenceSet},
};

/// Reads a slice's macroblocks, which begin where `bits` is; returns the one behind the last, nothing
/// where bytes do not add up.
pub(super) fn read(
    mut bits: Bits<'_>,
    (sequence, picture): (&SequenceSet, &PictureSet),
    header: &Header,
    row: &mut Vec<Macroblock>,
) -> Option<u32> {
    row.resize(sequence.across as usize, Macroblock::default());
    let near = Near::new(row, sequence.chroma_blocks);
    let sets = (sequence, picture);
    if picture.is_arithmetic {
        let data = bits.rest_behind(true)?;
        all(Decisions::new(data, header, sequence), near, sets, header)
    } else {
        all(Lengths::new(bits, sequence)?, near, sets, header)
    }
}

fn all<C: Code>(
    code: C,
    near: Near<'_>,
    (sequence, picture): (&SequenceSet, &PictureSet),
    header: &Header,
) -> Option<u32> {
    let mut blocks = Macroblocks { code, near, sequence, picture, header, changed: false };
    for address in header.first..sequence.macroblocks(header.is_field) {
        blocks.near.begin(address, header.first);
        if header.kind != Kind::Intra && blocks.code.is_skipped(&blocks.near, header.kind)? {
            blocks.near.own = macroblock::skipped(header.kind);
            blocks.changed = false;
        } else {
            blocks.read()?;
        }
        blocks.near.end();
        if blocks.code.ends() {
            return blocks.code.ends_well().then_some(address + 1);
        }
    }
    None
}
