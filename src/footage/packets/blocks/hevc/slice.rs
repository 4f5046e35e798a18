//! The trees of blocks of one slice, one after the other (clause 7.3.8.1).

use super::{
    super::arithmetic::Arithmetic,
    blocks::{Blocks, Scratch},
    contexts::{self, Contexts},
    header::Header,
    sets::{PictureSet, SequenceSet},
};

/// What one slice leaves to the next.
#[derive(Debug, Default)]
pub(super) struct Kept {
    /// Contexts at the end of the last slice, and behind the second tree of the row above.
    end: Option<Contexts>,
    row: Option<Contexts>,
}

/// Reads a slice's blocks; returns the tree behind the last, nothing where bytes do not add up.
pub(super) fn read(
    data: &[u8],
    (sequence, picture): (&SequenceSet, &PictureSet),
    header: &Header,
    (kept, scratch): (&mut Kept, &mut Scratch),
) -> Option<u32> {
    let fresh = || contexts::begun(header.kind, header.other_contexts, header.quantiser);
    let across = sequence.across();
    let begins_row = |address: u32| picture.by_rows && address.is_multiple_of(across);
    // The tree above on the right is of the same slice, so that its row is gone on with.
    let above = |kept: &Kept, address: u32| {
        let right = (address + 1).checked_sub(across).filter(|_| across > 1 && address >= across);
        right.filter(|&right| right >= header.slice_address).and(kept.row)
    };
    let begun = if begins_row(header.address) {
        above(kept, header.address)
    } else if header.is_dependent {
        kept.end
    } else {
        None
    };
    let contexts = begun.unwrap_or_else(fresh);
    let coded = Arithmetic::new(data, 0);
    let mut blocks = Blocks::new((sequence, picture), header, (coded, contexts), scratch);
    let mut address = header.address;
    loop {
        blocks.tree(address)?;
        let ends = blocks.coded.ends();
        if picture.by_rows && (address % across == 1 || across == 1) {
            kept.row = Some(blocks.contexts);
        }
        address += 1;
        if blocks.coded.is_beyond() {
            return None;
        }
        if ends {
            break;
        }
        if address == sequence.blocks() {
            return None;
        }
        if begins_row(address) {
            if !(blocks.coded.ends() && blocks.coded.ends_well()) {
                return None;
            }
            blocks.coded.go_on_behind(0);
            blocks.contexts = above(kept, address).unwrap_or_else(fresh);
        }
    }
    kept.end = Some(blocks.contexts);
    // Zeros may follow as words that a three was taken out of (clause 7.3.2.11).
    (blocks.coded.ends_well() && blocks.coded.is_zero_behind()).then_some(address)
}
