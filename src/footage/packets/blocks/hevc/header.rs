//! What a slice says before its blocks (clause 7.3.6).

use super::{
    super::bits::Bits,
    sets::{PictureSet, ReferenceSet, SequenceSet},
};

/// How blocks of a slice may be predicted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// From one or two other pictures.
    Both,
    /// From one other picture.
    One,
    /// From the picture itself.
    Intra,
}

/// What is needed to read the blocks.
#[derive(Clone, Debug)]
pub(super) struct Header {
    /// The first block.
    pub address: u32,
    /// The first block of the slice that this one depends on.
    pub slice_address: u32,
    pub is_dependent: bool,
    pub kind: Kind,
    pub offsets: [bool; 2],
    pub references: [u32; 2],
    pub second_motion_is_zero: bool,
    pub other_contexts: bool,
    pub merges: u32,
    pub quantiser: i32,
}

impl Header {
    /// Reads on behind the picture set's number; nothing where no slice can say so.
    pub(super) fn read(
        bits: &mut Bits<'_>,
        (sequence, picture): (&SequenceSet, &PictureSet),
        (kind, is_first): (u8, bool),
        independent: Option<&Self>,
    ) -> Option<Self> {
        let is_dependent = !is_first && picture.dependent && bits.flag()?;
        let blocks = sequence.blocks();
        let address =
            if is_first { 0 } else { bits.number(u32::BITS - (blocks - 1).leading_zeros())? };
        if address >= blocks {
            return None;
        }
        let mut header = if is_dependent {
            Self { address, is_dependent, ..independent?.clone() }
        } else {
            Self::read_own(bits, (sequence, picture), (kind, address))?
        };
        header.address = address;
        if picture.by_rows {
            let entries = bits.golomb()?;
            if entries > 0 {
                let length = 1 + bits.golomb()?;
                if length > 32 || entries > blocks {
                    return None;
                }
                bits.skip(length as usize * entries as usize)?;
            }
        }
        if picture.header_extension {
            let length = bits.golomb()?;
            bits.skip(8 * length as usize)?;
        }
        Some(header)
    }

    fn read_own(
        bits: &mut Bits<'_>,
        (sequence, picture): (&SequenceSet, &PictureSet),
        (unit, address): (u8, u32),
    ) -> Option<Self> {
        bits.skip(picture.extra_bits as usize)?;
        let kind = match bits.golomb()? {
            0 => Kind::Both,
            1 => Kind::One,
            2 => Kind::Intra,
            _ => return None,
        };
        if picture.output_flag {
            bits.skip(1)?;
        }
        let is_refresh = matches!(unit, 19 | 20);
        let (mut used, mut motion_of_others) = (0, false);
        if !is_refresh {
            (used, motion_of_others) = references(bits, sequence)?;
        }
        let offsets = if sequence.offsets {
            let luma = bits.flag()?;
            [luma, sequence.is_colour && bits.flag()?]
        } else {
            [false; 2]
        };
        let mut header = Self {
            address,
            slice_address: address,
            is_dependent: false,
            kind,
            offsets,
            references: [0; 2],
            second_motion_is_zero: false,
            other_contexts: false,
            merges: 0,
            quantiser: 0,
        };
        if kind != Kind::Intra {
            header.read_prediction(bits, (sequence, picture), (used, motion_of_others))?;
        }
        header.quantiser = picture.quantiser + bits.signed_golomb()?;
        if picture.chroma_offsets {
            bits.signed_golomb()?;
            bits.signed_golomb()?;
        }
        let mut is_off = false;
        if let Some(control) = picture.filter_control {
            is_off = control.is_off;
            if control.may_override && bits.flag()? {
                is_off = bits.flag()?;
                if !is_off {
                    bits.signed_golomb()?;
                    bits.signed_golomb()?;
                }
            }
        }
        if picture.filters_across && (offsets != [false; 2] || !is_off) {
            bits.skip(1)?;
        }
        Some(header)
    }

    fn read_prediction(
        &mut self,
        bits: &mut Bits<'_>,
        (sequence, picture): (&SequenceSet, &PictureSet),
        (used, motion_of_others): (u32, bool),
    ) -> Option<()> {
        let lists = if self.kind == Kind::Both { 2 } else { 1 };
        self.references = picture.references;
        if bits.flag()? {
            for list in 0..lists {
                self.references[list] = 1 + bits.golomb()?;
            }
        }
        if self.references[..lists].iter().any(|&count| count > 15) {
            return None;
        }
        if picture.lists_change && used > 1 {
            let length = u32::BITS - (used - 1).leading_zeros();
            for list in 0..lists {
                if bits.flag()? {
                    bits.skip((length * self.references[list]) as usize)?;
                }
            }
        }
        if self.kind == Kind::Both {
            self.second_motion_is_zero = bits.flag()?;
        }
        self.other_contexts = picture.chooses_contexts && bits.flag()?;
        if motion_of_others {
            let first = lists == 1 || bits.flag()?;
            if self.references[usize::from(!first)] > 1 {
                bits.golomb()?;
            }
        }
        let is_weighted =
            if self.kind == Kind::One { picture.weighted } else { picture.weighted_both };
        if is_weighted {
            weights(bits, sequence.is_colour, &self.references[..lists])?;
        }
        self.merges = 5_u32.checked_sub(bits.golomb()?).filter(|&merges| merges > 0)?;
        Some(())
    }
}

/// Reads which pictures are kept; returns how many are used, and whether motion may be taken from one
/// of them.
fn references(bits: &mut Bits<'_>, sequence: &SequenceSet) -> Option<(u32, bool)> {
    bits.skip(sequence.order_bits as usize)?;
    let count = sequence.sets.len() as u32;
    let mut used = if bits.flag()? {
        let length = if count > 1 { u32::BITS - (count - 1).leading_zeros() } else { 0 };
        sequence.sets.get(bits.number(length)? as usize)?.used()
    } else {
        ReferenceSet::read(bits, &sequence.sets, (count, count))?.used()
    };
    if let Some(known) = &sequence.long_term {
        let known_count = known.len() as u32;
        let of_sequence = if known_count > 0 { bits.golomb()? } else { 0 };
        let own = bits.golomb()?;
        if of_sequence + own > 33 {
            return None;
        }
        for k in 0..of_sequence + own {
            if k < of_sequence {
                let length =
                    if known_count > 1 { u32::BITS - (known_count - 1).leading_zeros() } else { 0 };
                used += u32::from(*known.get(bits.number(length)? as usize)?);
            } else {
                bits.skip(sequence.order_bits as usize)?;
                used += u32::from(bits.flag()?);
            }
            if bits.flag()? {
                bits.golomb()?;
            }
        }
    }
    let motion_of_others = sequence.motion_of_others && bits.flag()?;
    Some((used, motion_of_others))
}

/// Passes over the weights of references (clause 7.3.6.3).
fn weights(bits: &mut Bits<'_>, is_colour: bool, references: &[u32]) -> Option<()> {
    bits.golomb()?;
    if is_colour {
        bits.signed_golomb()?;
    }
    for &count in references {
        let mut luma = Vec::new();
        for _ in 0..count {
            luma.push(bits.flag()?);
        }
        let mut chroma = vec![false; count as usize];
        if is_colour {
            for flag in &mut chroma {
                *flag = bits.flag()?;
            }
        }
        for (luma, chroma) in luma.into_iter().zip(chroma) {
            for _ in 0..if luma { 2 } else { 0 } + if chroma { 4 } else { 0 } {
                bits.signed_golomb()?;
            }
        }
    }
    Some(())
}
