//! Where each kind of decision has its contexts, and what they begin with (tables 9-5 to 9-37).

use super::{super::arithmetic::Context, header::Kind};

pub(super) const OFFSET_MERGE: usize = 0;
pub(super) const OFFSET_KIND: usize = 1;
pub(super) const SPLIT: usize = 2;
pub(super) const BYPASS: usize = 5;
pub(super) const SKIP: usize = 6;
pub(super) const PREDICTION: usize = 9;
pub(super) const PARTS: usize = 10;
pub(super) const LIKELY_MODE: usize = 14;
pub(super) const CHROMA_MODE: usize = 15;
pub(super) const HAS_RESIDUE: usize = 16;
pub(super) const MERGE: usize = 17;
pub(super) const MERGE_WHICH: usize = 18;
pub(super) const DIRECTION: usize = 19;
pub(super) const REFERENCE: usize = 24;
pub(super) const PREDICTOR: usize = 26;
pub(super) const SPLIT_TRANSFORM: usize = 27;
pub(super) const CODED_LUMA: usize = 30;
pub(super) const CODED_CHROMA: usize = 32;
pub(super) const MOTION_ABOVE_0: usize = 36;
pub(super) const MOTION_ABOVE_1: usize = 37;
pub(super) const QUANTISER: usize = 38;
pub(super) const SKIP_TRANSFORM: usize = 40;
pub(super) const LAST_ACROSS: usize = 42;
pub(super) const LAST_DOWN: usize = 60;
pub(super) const GROUP: usize = 78;
pub(super) const SIGNIFICANT: usize = 82;
pub(super) const ABOVE_1: usize = 124;
pub(super) const ABOVE_2: usize = 148;
const COUNT: usize = 154;

pub(super) type Contexts = [Context; COUNT];

/// Stands where pictures predicted from themselves need no value.
const NONE: u8 = 154;

/// Returns what contexts begin with, by kind of slice and quantiser (clause 9.3.2.2).
pub(super) fn begun(kind: Kind, other: bool, quantiser: i32) -> Contexts {
    let table = match (kind, other) {
        (Kind::Intra, _) => 0,
        (Kind::One, false) | (Kind::Both, true) => 1,
        (Kind::Both, false) | (Kind::One, true) => 2,
    };
    let quantiser = quantiser.clamp(0, 51);
    let mut contexts = [0; COUNT];
    for (context, &value) in contexts.iter_mut().zip(&VALUES[table]) {
        let (slope, offset) = (i32::from(value >> 4), i32::from(value & 15));
        let state = (((slope * 5 - 45) * quantiser) >> 4) + (offset << 3) - 16;
        let state = state.clamp(1, 126);
        *context =
            if state <= 63 { ((63 - state) << 1) as u8 } else { (((state - 64) << 1) | 1) as u8 };
    }
    contexts
}

#[rustfmt::skip]
const VALUES: [[u8; COUNT]; 3] = [
    [
        153, 200, 139, 141, 157, 154, NONE, NONE, NONE, NONE, 184, NONE, NONE, NONE, 184, 63, NONE,
        NONE, NONE, NONE, NONE, NONE, NONE, NONE, NONE, NONE, NONE, 153, 138, 138, 111, 141,
        94, 138, 182, 154, NONE, NONE, 154, 154, 139, 139,
        110, 110, 124, 125, 140, 153, 125, 127, 140, 109, 111, 143, 127, 111, 79, 108, 123, 63,
        110, 110, 124, 125, 140, 153, 125, 127, 140, 109, 111, 143, 127, 111, 79, 108, 123, 63,
        91, 171, 134, 141,
        111, 111, 125, 110, 110, 94, 124, 108, 124, 107, 125, 141, 179, 153, 125, 107, 125, 141, 179,
        153, 125, 107, 125, 141, 179, 153, 125, 140, 139, 182, 182, 152, 136, 152, 136, 153, 136, 139,
        111, 136, 139, 111,
        140, 92, 137, 138, 140, 152, 138, 139, 153, 74, 149, 92, 139, 107, 122, 152, 140, 179, 166,
        182, 140, 227, 122, 197,
        138, 153, 136, 167, 152, 152,
    ],
    [
        153, 185, 107, 139, 126, 154, 197, 185, 201, 149, 154, 139, 154, 154, 154, 152, 79, 110, 122,
        95, 79, 63, 31, 31, 153, 153, 168, 124, 138, 94, 153, 111,
        149, 107, 167, 154, 140, 198, 154, 154, 139, 139,
        125, 110, 94, 110, 95, 79, 125, 111, 110, 78, 110, 111, 111, 95, 94, 108, 123, 108,
        125, 110, 94, 110, 95, 79, 125, 111, 110, 78, 110, 111, 111, 95, 94, 108, 123, 108,
        121, 140, 61, 154,
        155, 154, 139, 153, 139, 123, 123, 63, 153, 166, 183, 140, 136, 153, 154, 166, 183, 140, 136,
        153, 154, 166, 183, 140, 136, 153, 154, 170, 153, 123, 123, 107, 121, 107, 121, 167, 151, 183,
        140, 151, 183, 140,
        154, 196, 196, 167, 154, 152, 167, 182, 182, 134, 149, 136, 153, 121, 136, 137, 169, 194, 166,
        167, 154, 167, 137, 182,
        107, 167, 91, 122, 107, 167,
    ],
    [
        153, 160, 107, 139, 126, 154, 197, 185, 201, 134, 154, 139, 154, 154, 183, 152, 79, 154, 137,
        95, 79, 63, 31, 31, 153, 153, 168, 224, 167, 122, 153, 111,
        149, 92, 167, 154, 169, 198, 154, 154, 139, 139,
        125, 110, 124, 110, 95, 94, 125, 111, 111, 79, 125, 126, 111, 111, 79, 108, 123, 93,
        125, 110, 124, 110, 95, 94, 125, 111, 111, 79, 125, 126, 111, 111, 79, 108, 123, 93,
        121, 140, 61, 154,
        170, 154, 139, 153, 139, 123, 123, 63, 124, 166, 183, 140, 136, 153, 154, 166, 183, 140, 136,
        153, 154, 166, 183, 140, 136, 153, 154, 170, 153, 138, 138, 122, 121, 122, 121, 167, 151, 183,
        140, 151, 183, 140,
        154, 196, 167, 167, 154, 152, 167, 182, 182, 134, 149, 136, 153, 121, 136, 122, 169, 208, 166,
        167, 154, 152, 167, 182,
        107, 167, 91, 107, 107, 167,
    ],
];
