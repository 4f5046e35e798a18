//! Where each kind of decision has its contexts (table 9-34), and what they begin with.

use super::{
    super::arithmetic::Context,
    context_values::{COUNT, VALUES},
};

pub(super) const KIND_INTRA: usize = 3;
pub(super) const SKIP_ONE: usize = 11;
pub(super) const KIND_ONE: usize = 14;
pub(super) const KIND_ONE_INTRA: usize = 17;
pub(super) const QUARTER_ONE: usize = 21;
pub(super) const SKIP_BOTH: usize = 24;
pub(super) const KIND_BOTH: usize = 27;
pub(super) const KIND_BOTH_INTRA: usize = 32;
pub(super) const QUARTER_BOTH: usize = 36;
/// Across, and down.
pub(super) const MOTION: [usize; 2] = [40, 47];
pub(super) const REFERENCE: usize = 54;
pub(super) const QUANTISER: usize = 60;
pub(super) const CHROMA_MODE: usize = 64;
pub(super) const LIKELY_MODE: usize = 68;
pub(super) const MODE: usize = 69;
pub(super) const CODED_LUMA: usize = 73;
pub(super) const CODED_CHROMA: usize = 77;
pub(super) const HAS_ANY: usize = 85;
pub(super) const LARGE_TRANSFORM: usize = 399;

/// By what a block's coefficients stand for: where its contexts are (tables 9-34 and 9-40).
pub(super) struct OfBlock {
    pub has_any: usize,
    /// In frames, and in fields.
    pub significant: [usize; 2],
    pub last: [usize; 2],
    pub level: usize,
}

const fn of(any: usize, significant: usize, level: usize) -> OfBlock {
    OfBlock {
        has_any: HAS_ANY + any,
        significant: [105 + significant, 277 + significant],
        last: [166 + significant, 338 + significant],
        level: 227 + level,
    }
}

pub(super) static OF_BLOCK: [OfBlock; 6] = [
    of(0, 0, 0),
    of(4, 15, 10),
    of(8, 29, 20),
    of(12, 44, 30),
    of(16, 47, 39),
    // Whether a large one has any is never asked.
    OfBlock { has_any: 0, significant: [402, 436], last: [417, 451], level: 426 },
];

/// By the place of a large transform's coefficient: which context says whether there is one, in frames
/// and in fields, and whether it is the last (table 9-43).
pub(super) const LARGE_SIGNIFICANT: [[u8; 63]; 2] = [
    [
        0, 1, 2, 3, 4, 5, 5, 4, 4, 3, 3, 4, 4, 4, 5, 5, 4, 4, 4, 4, 3, 3, 6, 7, 7, 7, 8, 9, 10, 9,
        8, 7, 7, 6, 11, 12, 13, 11, 6, 7, 8, 9, 14, 10, 9, 8, 6, 11, 12, 13, 11, 6, 9, 14, 10, 9,
        11, 12, 13, 11, 14, 10, 12,
    ],
    [
        0, 1, 1, 2, 2, 3, 3, 4, 5, 6, 7, 7, 7, 8, 4, 5, 6, 9, 10, 10, 8, 11, 12, 11, 9, 9, 10, 10,
        8, 11, 12, 11, 9, 9, 10, 10, 8, 11, 12, 11, 9, 9, 10, 10, 8, 13, 13, 9, 9, 10, 10, 8, 13,
        13, 9, 9, 10, 10, 14, 14, 14, 14, 14,
    ],
];
pub(super) const LARGE_LAST: [u8; 63] = [
    0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2,
    3, 3, 3, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 4, 5, 5, 5, 5, 6, 6, 6, 6, 7, 7, 7, 7, 8, 8, 8,
];

pub(super) type Contexts = [Context; COUNT];

/// Returns what contexts begin with, by table and quantiser (clause 9.3.1.1).
pub(super) fn begun(table: u32, quantiser: i32) -> Contexts {
    let mut contexts = [0; COUNT];
    let Some(values) = VALUES.get(table as usize) else { return contexts };
    let quantiser = quantiser.clamp(0, 51);
    for (context, &(slope, offset)) in contexts.iter_mut().zip(values) {
        let state = ((i32::from(slope) * quantiser) >> 4) + i32::from(offset);
        let state = state.clamp(1, 126);
        *context =
            if state <= 63 { ((63 - state) << 1) as u8 } else { (((state - 64) << 1) | 1) as u8 };
    }
    contexts
}
