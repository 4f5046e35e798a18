//! What holds for a sequence of pictures, and for some of its pictures (clauses 7.3.2.2 and 7.3.2.3).

use super::super::bits::Bits;

/// Pictures that a slice may name as references, at most (clause A.4.2).
const MOST_REFERENCES: u32 = 16;

/// What holds for a sequence of pictures.
#[derive(Clone, Debug, Default)]
#[allow(clippy::struct_excessive_bools, reason = "the standard's own flags")]
pub(super) struct SequenceSet {
    /// Whether all that it asks for is read here.
    pub is_read: bool,
    pub is_colour: bool,
    pub width: u32,
    pub height: u32,
    pub bit_depth: [u32; 2],
    /// Binary logarithms of sizes in samples: the least coded block, the tree of blocks, the least and
    /// the largest transform.
    pub least_block: u32,
    pub tree: u32,
    pub least_transform: u32,
    pub largest_transform: u32,
    pub depth_inter: u32,
    pub depth_intra: u32,
    pub asymmetric: bool,
    pub offsets: bool,
    pub plain: Option<Plain>,
    pub order_bits: u32,
    pub sets: Vec<ReferenceSet>,
    pub long_term: Option<Vec<bool>>,
    pub motion_of_others: bool,
}

/// Blocks whose samples are not coded: bits of luma and chroma, sizes.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Plain {
    pub bits: [u32; 2],
    pub least: u32,
    pub largest: u32,
}

/// Which pictures are kept: for each whether the current one uses it.
#[derive(Clone, Debug, Default)]
pub(super) struct ReferenceSet {
    /// Distances of the pictures, those before first, each with whether it is used.
    pub pictures: Vec<(i32, bool)>,
}

/// What holds for some pictures.
#[derive(Clone, Debug, Default)]
#[allow(clippy::struct_excessive_bools, reason = "the standard's own flags")]
pub(super) struct PictureSet {
    pub is_read: bool,
    pub sequence: u32,
    pub dependent: bool,
    pub output_flag: bool,
    pub extra_bits: u32,
    pub hides_signs: bool,
    pub chooses_contexts: bool,
    pub references: [u32; 2],
    pub quantiser: i32,
    pub skips_transform: bool,
    /// Depth in the tree down to which a quantiser of its own is coded.
    pub quantiser_depth: Option<u32>,
    pub chroma_offsets: bool,
    pub weighted: bool,
    pub weighted_both: bool,
    pub bypasses: bool,
    pub by_rows: bool,
    pub filter_control: Option<FilterControl>,
    pub filters_across: bool,
    pub lists_change: bool,
    pub header_extension: bool,
}

/// How slices say how they are smoothed.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct FilterControl {
    pub may_override: bool,
    pub is_off: bool,
}

impl SequenceSet {
    /// Returns how many trees of blocks a picture has.
    pub(super) fn blocks(&self) -> u32 {
        self.across() * self.height.div_ceil(1 << self.tree)
    }

    /// Returns how many lie side by side.
    pub(super) fn across(&self) -> u32 {
        self.width.div_ceil(1 << self.tree)
    }

    pub(super) fn read(bits: &mut Bits<'_>) -> Option<(u32, Self)> {
        bits.skip(4)?;
        let layers = bits.number(3)?;
        bits.skip(1)?;
        profile(bits, layers)?;
        let id = bits.golomb()?;
        let format = bits.golomb()?;
        let mut set = Self { is_read: format <= 1, is_colour: format == 1, ..Self::default() };
        if format == 3 {
            bits.skip(1)?;
        }
        (set.width, set.height) = (bits.golomb()?, bits.golomb()?);
        if bits.flag()? {
            for _ in 0..4 {
                bits.golomb()?;
            }
        }
        set.bit_depth = [8 + bits.golomb()?, 8 + bits.golomb()?];
        set.order_bits = 4 + bits.golomb()?;
        let each = bits.flag()?;
        for _ in if each { 0 } else { layers }..=layers {
            for _ in 0..3 {
                bits.golomb()?;
            }
        }
        set.least_block = 3 + bits.golomb()?;
        set.tree = set.least_block + bits.golomb()?;
        set.least_transform = 2 + bits.golomb()?;
        set.largest_transform = set.least_transform + bits.golomb()?;
        (set.depth_inter, set.depth_intra) = (bits.golomb()?, bits.golomb()?);
        if bits.flag()? && bits.flag()? {
            scaling_lists(bits)?;
        }
        set.asymmetric = bits.flag()?;
        set.offsets = bits.flag()?;
        if bits.flag()? {
            let depth = [1 + bits.number(4)?, 1 + bits.number(4)?];
            let least = 3 + bits.golomb()?;
            set.plain = Some(Plain { bits: depth, least, largest: least + bits.golomb()? });
            bits.skip(1)?;
        }
        let count = bits.golomb()?;
        if count > 64 {
            return None;
        }
        for k in 0..count {
            let next = ReferenceSet::read(bits, &set.sets, (k, count))?;
            set.sets.push(next);
        }
        if bits.flag()? {
            let count = bits.golomb()?;
            let order_bits = set.order_bits;
            let mut used = |_| {
                bits.skip(order_bits as usize)?;
                bits.flag()
            };
            set.long_term = Some((0..count.min(33)).map(&mut used).collect::<Option<_>>()?);
        }
        set.motion_of_others = bits.flag()?;
        bits.skip(1)?;
        if bits.flag()? {
            usability(bits, layers)?;
        }
        // An extension of any kind changes how blocks are read.
        set.is_read &= !bits.flag()?;
        let sizes = (3..=6).contains(&set.least_block)
            && (3..=6).contains(&set.tree)
            && set.least_transform < set.least_block
            && set.largest_transform <= set.tree.min(5)
            && set.width.min(set.height) > 0
            && set.width.max(set.height) <= 1 << 14
            && (set.width | set.height) & ((1 << set.least_block) - 1) == 0;
        sizes.then_some((id, set))
    }
}

/// Passes over profile and level (clause 7.3.3).
fn profile(bits: &mut Bits<'_>, layers: u32) -> Option<()> {
    bits.skip(88 + 8)?;
    let mut present = Vec::new();
    for _ in 0..layers {
        present.push([bits.flag()?, bits.flag()?]);
    }
    if layers > 0 {
        bits.skip(2 * (8 - layers as usize))?;
    }
    for [profile, level] in present {
        bits.skip(88 * usize::from(profile) + 8 * usize::from(level))?;
    }
    Some(())
}

/// Passes over lists that scale coefficients (clause 7.3.4).
fn scaling_lists(bits: &mut Bits<'_>) -> Option<()> {
    for size in 0..4_u32 {
        for _ in (0..6).step_by(if size == 3 { 3 } else { 1 }) {
            if !bits.flag()? {
                bits.golomb()?;
                continue;
            }
            if size > 1 {
                bits.signed_golomb()?;
            }
            for _ in 0..64.min(1 << (4 + 2 * size)) {
                bits.signed_golomb()?;
            }
        }
    }
    Some(())
}

/// Passes over what helps showing it (clause E.2.1).
fn usability(bits: &mut Bits<'_>, layers: u32) -> Option<()> {
    if bits.flag()? && bits.number(8)? == 255 {
        bits.skip(32)?;
    }
    if bits.flag()? {
        bits.skip(1)?;
    }
    if bits.flag()? {
        bits.skip(4)?;
        if bits.flag()? {
            bits.skip(24)?;
        }
    }
    if bits.flag()? {
        bits.golomb()?;
        bits.golomb()?;
    }
    bits.skip(3)?;
    if bits.flag()? {
        for _ in 0..4 {
            bits.golomb()?;
        }
    }
    if bits.flag()? {
        bits.skip(64)?;
        if bits.flag()? {
            bits.golomb()?;
        }
        if bits.flag()? {
            buffering(bits, layers)?;
        }
    }
    if bits.flag()? {
        bits.skip(3)?;
        for _ in 0..5 {
            bits.golomb()?;
        }
    }
    Some(())
}

/// Passes over how a stream is to be buffered (clause E.2.2).
fn buffering(bits: &mut Bits<'_>, layers: u32) -> Option<()> {
    let kinds = [bits.flag()?, bits.flag()?];
    let mut by_picture = false;
    if kinds.contains(&true) {
        by_picture = bits.flag()?;
        if by_picture {
            bits.skip(8 + 5 + 1 + 5)?;
        }
        bits.skip(8)?;
        if by_picture {
            bits.skip(4)?;
        }
        bits.skip(15)?;
    }
    for _ in 0..=layers {
        let general = bits.flag()?;
        let within = general || bits.flag()?;
        let mut low_delay = false;
        if within {
            bits.golomb()?;
        } else {
            low_delay = bits.flag()?;
        }
        let count = if low_delay { 0 } else { bits.golomb()? };
        for _ in kinds.iter().filter(|kind| **kind) {
            for _ in 0..=count.min(31) {
                for _ in 0..if by_picture { 4 } else { 2 } {
                    bits.golomb()?;
                }
                bits.skip(1)?;
            }
        }
    }
    Some(())
}

impl ReferenceSet {
    /// Reads a set (clause 7.3.7); the one of a slice comes behind all those of the sequence.
    pub(super) fn read(
        bits: &mut Bits<'_>,
        before: &[Self],
        (index, count): (u32, u32),
    ) -> Option<Self> {
        if index > 0 && bits.flag()? {
            let back = if index == count { 1 + bits.golomb()? } else { 1 };
            let of = before.get(index.checked_sub(back)? as usize)?;
            let is_back = bits.flag()?;
            let by = 1 + bits.golomb()? as i32;
            return Self::from_other(bits, of, if is_back { -by } else { by });
        }
        let counts = [bits.golomb()?, bits.golomb()?];
        if counts.iter().sum::<u32>() > MOST_REFERENCES {
            return None;
        }
        let mut pictures = Vec::new();
        for (count, sign) in counts.into_iter().zip([-1, 1]) {
            let mut at = 0_i32;
            for _ in 0..count {
                at = at.checked_add(sign * (1 + i32::try_from(bits.golomb()?).ok()?))?;
                pictures.push((at, bits.flag()?));
            }
        }
        Some(Self { pictures })
    }

    /// Clause 7.4.8, equations 7-61 and 7-62: the pictures of the other set, each moved, and the one
    /// in between.
    fn from_other(bits: &mut Bits<'_>, of: &Self, by: i32) -> Option<Self> {
        let mut pictures = Vec::new();
        for at in of.pictures.iter().map(|(at, _)| *at).chain([0]) {
            let used = bits.flag()?;
            let kept = used || bits.flag()?;
            let at = at.checked_add(by)?;
            if kept && at != 0 {
                pictures.push((at, used));
            }
        }
        // Those before from the nearest on, then those after.
        pictures.sort_by_key(|&(at, _)| (at > 0, at.unsigned_abs()));
        (pictures.len() <= MOST_REFERENCES as usize).then_some(Self { pictures })
    }

    /// Returns how many are used.
    pub(super) fn used(&self) -> u32 {
        self.pictures.iter().filter(|(_, used)| *used).count() as u32
    }
}

impl PictureSet {
    pub(super) fn read(bits: &mut Bits<'_>) -> Option<(u32, Self)> {
        let id = bits.golomb()?;
        let mut set = Self { sequence: bits.golomb()?, is_read: true, ..Self::default() };
        set.dependent = bits.flag()?;
        set.output_flag = bits.flag()?;
        set.extra_bits = bits.number(3)?;
        set.hides_signs = bits.flag()?;
        set.chooses_contexts = bits.flag()?;
        set.references = [1 + bits.golomb()?, 1 + bits.golomb()?];
        set.quantiser = 26 + bits.signed_golomb()?;
        bits.skip(1)?;
        set.skips_transform = bits.flag()?;
        if bits.flag()? {
            set.quantiser_depth = Some(bits.golomb()?);
        }
        bits.signed_golomb()?;
        bits.signed_golomb()?;
        set.chroma_offsets = bits.flag()?;
        set.weighted = bits.flag()?;
        set.weighted_both = bits.flag()?;
        set.bypasses = bits.flag()?;
        let tiles = bits.flag()?;
        set.by_rows = bits.flag()?;
        if tiles {
            set.is_read = false;
            return Some((id, set));
        }
        set.filters_across = bits.flag()?;
        if bits.flag()? {
            let (may_override, is_off) = (bits.flag()?, bits.flag()?);
            set.filter_control = Some(FilterControl { may_override, is_off });
            if !is_off {
                bits.signed_golomb()?;
                bits.signed_golomb()?;
            }
        }
        if bits.flag()? {
            scaling_lists(bits)?;
        }
        set.lists_change = bits.flag()?;
        bits.golomb()?;
        set.header_extension = bits.flag()?;
        set.is_read &= !bits.flag()?;
        Some((id, set))
    }
}
