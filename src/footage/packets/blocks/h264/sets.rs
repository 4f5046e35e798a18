//! What holds for a sequence of pictures, and for some of its pictures (clauses 7.3.2.1 and 7.3.2.2).

use super::super::bits::Bits;

/// Macroblocks of the largest pictures (table A-1).
const MOST_MACROBLOCKS: u32 = 139_264;

/// What holds for a sequence of pictures.
#[derive(Clone, Debug, Default)]
#[allow(clippy::struct_excessive_bools, reason = "the standard's own flags")]
pub(super) struct SequenceSet {
    /// Whether all that it asks for is read here.
    pub is_read: bool,
    /// Whether slices may come in any order.
    pub any_order: bool,
    /// Blocks of a plane of chroma in each macroblock.
    pub chroma_blocks: u32,
    pub bit_depth: [u32; 2],
    pub frame_number_bits: u32,
    pub order: Order,
    /// Macroblocks that lie side by side, and one above the other in a frame.
    pub across: u32,
    pub down: u32,
    pub frames_only: bool,
    /// Whether the macroblocks of a frame may be of either field.
    pub mixes_fields: bool,
    pub direct_8: bool,
}

/// How slices say in which order pictures are shown.
#[derive(Clone, Copy, Debug, Default)]
pub(super) enum Order {
    /// By a number of so many bits.
    Number(u32),
    /// By how it differs from what is expected, where that is said.
    Difference { is_said: bool },
    #[default]
    Decoding,
}

/// What holds for some pictures.
#[derive(Clone, Debug, Default)]
#[allow(clippy::struct_excessive_bools, reason = "the standard's own flags")]
pub(super) struct PictureSet {
    pub is_read: bool,
    pub sequence: u32,
    pub is_arithmetic: bool,
    pub fields_differ: bool,
    pub references: [u32; 2],
    pub weighted: bool,
    pub weighted_both: u32,
    pub quantiser: i32,
    pub filter_control: bool,
    pub redundant: bool,
    pub transform_8: bool,
}

/// Profiles that say how samples are coded (clause 7.3.2.1.1).
const HIGH: [u32; 13] = [100, 110, 122, 244, 44, 83, 86, 118, 128, 138, 139, 134, 135];

impl SequenceSet {
    /// Returns how many macroblocks a picture has.
    pub(super) fn macroblocks(&self, is_field: bool) -> u32 {
        self.across * if is_field { self.down / 2 } else { self.down }
    }

    pub(super) fn read(bits: &mut Bits<'_>) -> Option<(u32, Self)> {
        let profile = bits.number(8)?;
        let constraints = bits.number(8)?;
        bits.skip(8)?;
        let id = bits.golomb()?;
        let mut set = Self { bit_depth: [8; 2], chroma_blocks: 4, ..Self::default() };
        // What is constrained to suit the Main profile has its slices in order (clause A.2.1).
        set.any_order = matches!(profile, 66 | 88) && constraints & 0x40 == 0;
        let mut format = 1;
        if HIGH.contains(&profile) {
            format = bits.golomb()?;
            if format == 3 {
                bits.skip(1)?;
            }
            set.bit_depth = [8 + bits.golomb()?, 8 + bits.golomb()?];
            bits.skip(1)?;
            if bits.flag()? {
                scaling_lists(bits, if format == 3 { 12 } else { 8 })?;
            }
        }
        set.chroma_blocks = match format {
            0 => 0,
            2 => 8,
            _ => 4,
        };
        set.frame_number_bits = 4 + bits.golomb()?;
        set.order = match bits.golomb()? {
            0 => Order::Number(4 + bits.golomb()?),
            1 => {
                let is_said = !bits.flag()?;
                bits.signed_golomb()?;
                bits.signed_golomb()?;
                for _ in 0..bits.golomb()?.min(256) {
                    bits.signed_golomb()?;
                }
                Order::Difference { is_said }
            }
            _ => Order::Decoding,
        };
        bits.golomb()?;
        bits.skip(1)?;
        (set.across, set.down) = (1 + bits.golomb()?, 1 + bits.golomb()?);
        set.frames_only = bits.flag()?;
        if !set.frames_only {
            set.down *= 2;
            set.mixes_fields = bits.flag()?;
        }
        set.direct_8 = bits.flag()?;
        let order_bits = if let Order::Number(bits) = set.order { bits } else { 4 };
        set.is_read = format <= 2 && set.bit_depth.iter().all(|depth| *depth <= 14);
        let sizes = u64::from(set.across) * u64::from(set.down) <= MOST_MACROBLOCKS.into()
            && set.frame_number_bits <= 16
            && order_bits <= 16
            && id < 32;
        sizes.then_some((id, set))
    }
}

/// Passes over lists that scale coefficients (clause 7.3.2.1.1.1).
fn scaling_lists(bits: &mut Bits<'_>, count: u32) -> Option<()> {
    for list in 0..count {
        if !bits.flag()? {
            continue;
        }
        let (mut last, mut next) = (8, 8);
        for _ in 0..if list < 6 { 16 } else { 64 } {
            if next != 0 {
                next = (last + bits.signed_golomb()?).rem_euclid(256);
            }
            last = if next == 0 { last } else { next };
        }
    }
    Some(())
}

impl PictureSet {
    pub(super) fn read(bits: &mut Bits<'_>) -> Option<(u32, Self)> {
        let id = bits.golomb()?;
        let mut set = Self { sequence: bits.golomb()?, ..Self::default() };
        set.is_arithmetic = bits.flag()?;
        set.fields_differ = bits.flag()?;
        // More than one group of slices.
        if bits.golomb()? > 0 {
            return Some((id, set));
        }
        set.is_read = true;
        set.references = [1 + bits.golomb()?, 1 + bits.golomb()?];
        set.weighted = bits.flag()?;
        set.weighted_both = bits.number(2)?;
        set.quantiser = 26 + bits.signed_golomb()?;
        bits.signed_golomb()?;
        bits.signed_golomb()?;
        set.filter_control = bits.flag()?;
        bits.skip(1)?;
        set.redundant = bits.flag()?;
        if bits.passed() < bits.last_one()? {
            // What stands behind it is not needed.
            set.transform_8 = bits.flag()?;
        }
        (id < 256).then_some((id, set))
    }
}
