//! How macroblocks and their quarters are cut up, and which lists each part uses (tables 7-13, 7-14,
//! 7-17 and 7-18).

use super::header::Kind;

/// A part of a macroblock, in blocks of four samples: the first of them, row by row, and its sides.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    pub first: usize,
    pub across: usize,
    pub down: usize,
    /// Whether the first and the second list are used.
    pub lists: [bool; 2],
}

/// How a macroblock is predicted that is not from the picture itself.
#[derive(Clone, Copy, Debug)]
pub(super) enum Cut {
    Direct,
    One(Part),
    Two([Part; 2]),
    /// Four quarters; whether references are named.
    Four(bool),
}

const FIRST: [bool; 2] = [true, false];
const SECOND: [bool; 2] = [false, true];
const BOTH: [bool; 2] = [true; 2];

/// The lists of the two parts, by pairs of kinds from the fifth on.
const PAIRS: [[[bool; 2]; 2]; 9] = [
    [FIRST, FIRST],
    [SECOND, SECOND],
    [FIRST, SECOND],
    [SECOND, FIRST],
    [FIRST, BOTH],
    [SECOND, BOTH],
    [BOTH, FIRST],
    [BOTH, SECOND],
    [BOTH, BOTH],
];

fn two(is_rows: bool, lists: [[bool; 2]; 2]) -> Cut {
    let (across, down, second) = if is_rows { (4, 2, 8) } else { (2, 4, 2) };
    let part = |first, lists| Part { first, across, down, lists };
    Cut::Two([part(0, lists[0]), part(second, lists[1])])
}

/// Returns how a kind of macroblock is cut; nothing where it is predicted from the picture itself.
pub(super) fn cut(slice: Kind, kind: u32) -> Option<Cut> {
    let one = |lists| Cut::One(Part { first: 0, across: 4, down: 4, lists });
    Some(match (slice, kind) {
        (Kind::One, 0) | (Kind::Both, 1) => one(FIRST),
        (Kind::One, 1 | 2) => two(kind == 1, [FIRST; 2]),
        (Kind::One, 3 | 4) => Cut::Four(kind == 3),
        (Kind::Both, 0) => Cut::Direct,
        (Kind::Both, 2) => one(SECOND),
        (Kind::Both, 3) => one(BOTH),
        (Kind::Both, 4..=21) => two(kind.is_multiple_of(2), PAIRS[(kind as usize - 4) / 2]),
        (Kind::Both, 22) => Cut::Four(true),
        _ => return None,
    })
}

/// How many kinds come before those that are predicted from the picture itself.
pub(super) fn before_intra(slice: Kind) -> u32 {
    match slice {
        Kind::One => 5,
        Kind::Both => 23,
        Kind::Intra => 0,
    }
}

/// How a quarter is predicted.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Quarter {
    pub is_direct: bool,
    pub lists: [bool; 2],
    /// The sides of its parts, in blocks of four samples.
    pub across: usize,
    pub down: usize,
}

/// Returns how a kind of quarter is predicted; nothing of one that is none.
pub(super) fn quarter(slice: Kind, kind: u32) -> Option<Quarter> {
    const WHOLE: (usize, usize) = (2, 2);
    const ROWS: (usize, usize) = (2, 1);
    const COLUMNS: (usize, usize) = (1, 2);
    const SINGLE: (usize, usize) = (1, 1);
    let (lists, (across, down)) = match (slice, kind) {
        (Kind::One, 0) | (Kind::Both, 1) => (FIRST, WHOLE),
        (Kind::One, 1) | (Kind::Both, 4) => (FIRST, ROWS),
        (Kind::One, 2) | (Kind::Both, 5) => (FIRST, COLUMNS),
        (Kind::One, 3) | (Kind::Both, 10) => (FIRST, SINGLE),
        (Kind::Both, 0) => return Some(Quarter { is_direct: true, ..Quarter::default() }),
        (Kind::Both, 2) => (SECOND, WHOLE),
        (Kind::Both, 3) => (BOTH, WHOLE),
        (Kind::Both, 6) => (SECOND, ROWS),
        (Kind::Both, 7) => (SECOND, COLUMNS),
        (Kind::Both, 8) => (BOTH, ROWS),
        (Kind::Both, 9) => (BOTH, COLUMNS),
        (Kind::Both, 11) => (SECOND, SINGLE),
        (Kind::Both, 12) => (BOTH, SINGLE),
        _ => return None,
    };
    Some(Quarter { is_direct: false, lists, across, down })
}
