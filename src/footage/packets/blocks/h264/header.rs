//! What a slice says before its macroblocks (clause 7.3.3).

use super::{
    super::bits::Bits,
    sets::{Order, PictureSet, SequenceSet},
};

/// How macroblocks of a slice may be predicted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// From one other picture.
    One,
    /// From one or two other pictures.
    Both,
    /// From the picture itself.
    Intra,
}

/// What is needed to read the macroblocks.
#[derive(Clone, Debug)]
pub(super) struct Header {
    /// The first macroblock.
    pub first: u32,
    pub kind: Kind,
    pub is_field: bool,
    /// It says once more what another one said.
    pub is_redundant: bool,
    pub references: [u32; 2],
    /// Which table contexts begin with.
    pub contexts: u32,
    pub quantiser: i32,
}

/// The header of the slice's unit (clause 7.3.1).
#[derive(Clone, Copy)]
pub(super) struct Unit {
    pub is_refresh: bool,
    pub is_reference: bool,
}

impl Header {
    /// Reads on behind the picture set's number; nothing where no slice can say so.
    pub(super) fn read(
        bits: &mut Bits<'_>,
        (sequence, picture): (&SequenceSet, &PictureSet),
        (first, kind): (u32, Kind),
        unit: Unit,
    ) -> Option<Self> {
        bits.skip(sequence.frame_number_bits as usize)?;
        let is_field = !sequence.frames_only && bits.flag()?;
        if is_field {
            bits.skip(1)?;
        }
        if unit.is_refresh && bits.golomb()? > u32::from(u16::MAX) {
            return None;
        }
        let differ = picture.fields_differ && !is_field;
        match sequence.order {
            Order::Number(length) => {
                bits.skip(length as usize)?;
                if differ {
                    bits.signed_golomb()?;
                }
            }
            Order::Difference { is_said: true } => {
                for _ in 0..if differ { 2 } else { 1 } {
                    bits.signed_golomb()?;
                }
            }
            Order::Difference { is_said: false } | Order::Decoding => {}
        }
        let is_redundant = picture.redundant && bits.golomb()? > 0;
        if kind == Kind::Both {
            bits.skip(1)?;
        }
        let references = references(bits, picture, (kind, is_field))?;
        let is_weighted = match kind {
            Kind::One => picture.weighted,
            Kind::Both => picture.weighted_both == 1,
            Kind::Intra => false,
        };
        if is_weighted {
            weights(bits, sequence.chroma_blocks > 0, references)?;
        }
        if unit.is_reference {
            marking(bits, unit.is_refresh)?;
        }
        let contexts = match kind {
            Kind::Intra => 0,
            _ if picture.is_arithmetic => 1 + bits.golomb()?,
            _ => 1,
        };
        let quantiser = picture.quantiser + bits.signed_golomb()?;
        if picture.filter_control && bits.golomb().filter(|off| *off <= 2)? != 1 {
            for _ in 0..2 {
                bits.signed_golomb().filter(|offset| (-6..=6).contains(offset))?;
            }
        }
        let lowest = -6 * (sequence.bit_depth[0] as i32 - 8);
        let is_sane = contexts <= 3 && (lowest..=51).contains(&quantiser);
        let header = Self { first, kind, is_field, is_redundant, references, contexts, quantiser };
        is_sane.then_some(header)
    }
}

/// Reads how many pictures each list has, none where the list is not used, and passes over how the lists
/// are changed (clause 7.3.3.1).
fn references(
    bits: &mut Bits<'_>,
    picture: &PictureSet,
    (kind, is_field): (Kind, bool),
) -> Option<[u32; 2]> {
    let lists = match kind {
        Kind::Intra => return Some([0; 2]),
        Kind::One => 1,
        Kind::Both => 2,
    };
    let mut counts = [0; 2];
    counts[..lists].copy_from_slice(&picture.references[..lists]);
    if bits.flag()? {
        for count in &mut counts[..lists] {
            *count = 1 + bits.golomb()?;
        }
    }
    if counts.iter().any(|count| *count > if is_field { 32 } else { 16 }) {
        return None;
    }
    for count in &counts[..lists] {
        if !bits.flag()? {
            continue;
        }
        let mut left = *count;
        while bits.golomb().filter(|what| *what <= 5)? != 3 {
            bits.golomb()?;
            left = left.checked_sub(1)?;
        }
    }
    Some(counts)
}

/// Passes over the weights of references (clause 7.3.3.2).
fn weights(bits: &mut Bits<'_>, is_colour: bool, references: [u32; 2]) -> Option<()> {
    for _ in 0..if is_colour { 2 } else { 1 } {
        bits.golomb().filter(|denominator| *denominator <= 7)?;
    }
    for _ in 0..references.iter().sum() {
        for numbers in if is_colour { &[2, 4][..] } else { &[2] } {
            if bits.flag()? {
                for _ in 0..*numbers {
                    bits.signed_golomb().filter(|it| (-128..=127).contains(it))?;
                }
            }
        }
    }
    Some(())
}

/// Passes over which pictures are kept (clause 7.3.3.3).
fn marking(bits: &mut Bits<'_>, is_refresh: bool) -> Option<()> {
    if is_refresh {
        return bits.skip(2);
    }
    if !bits.flag()? {
        return Some(());
    }
    loop {
        let numbers = match bits.golomb()? {
            0 => return Some(()),
            1 | 2 | 4 | 6 => 1,
            3 => 2,
            5 => 0,
            _ => return None,
        };
        for _ in 0..numbers {
            bits.golomb()?;
        }
    }
}
