//! The coefficients of one transform (clause 7.3.8.11).

use super::{
    blocks::{Block, Blocks},
    contexts as of,
};

/// In which order coefficients come (clause 6.5.3 to 6.5.5).
#[derive(Clone, Copy, PartialEq, Eq)]
enum Order {
    Diagonal,
    Across,
    Down,
}

/// Places of a square of four, in diagonals from the lower left up.
const DIAGONAL_4: [(u8, u8); 16] = diagonal::<16>(4);
const DIAGONAL_2: [(u8, u8); 4] = diagonal::<4>(2);
const DIAGONAL_8: [(u8, u8); 64] = diagonal::<64>(8);

const fn diagonal<const N: usize>(side: u8) -> [(u8, u8); N] {
    let mut places = [(0, 0); N];
    let (mut at, mut sum) = (0, 0);
    while at < N {
        let mut x = if sum < side { 0 } else { sum - side + 1 };
        while x <= sum && x < side {
            places[at] = (x, sum - x);
            at += 1;
            x += 1;
        }
        sum += 1;
    }
    places
}

/// Returns the place of the `k`-th of the groups of a transform with so many side by side, or of the
/// coefficients of a group.
fn place(order: Order, side: u8, k: usize) -> (u8, u8) {
    let k8 = k as u8;
    match (order, side) {
        (_, 1) => (0, 0),
        (Order::Across | Order::Diagonal, 8) => DIAGONAL_8[k],
        (Order::Across, _) => (k8 % side, k8 / side),
        (Order::Down, _) => (k8 / side, k8 % side),
        (Order::Diagonal, 2) => DIAGONAL_2[k],
        (Order::Diagonal, _) => DIAGONAL_4[k],
    }
}

/// Contexts of a transform of four by place (table 9-50).
const OF_FOUR: [u8; 16] = [0, 1, 4, 5, 2, 3, 4, 5, 6, 6, 8, 8, 7, 7, 8, 8];

impl Blocks<'_> {
    /// Reads them; nothing where they cannot be any. `size` is the binary logarithm of the side.
    pub(super) fn coefficients(
        &mut self,
        size: u32,
        plane: usize,
        block: &Block,
        mode: u8,
    ) -> Option<()> {
        let is_luma = plane == 0;
        if self.picture.skips_transform && !block.bypasses && size == 2 {
            self.decide(of::SKIP_TRANSFORM + usize::from(!is_luma));
        }
        let prefixes = [of::LAST_ACROSS, of::LAST_DOWN].map(|from| self.last(from, size, is_luma));
        let mut last = prefixes.map(|prefix| self.last_rest(prefix));
        let order = match mode {
            _ if !block.is_intra || !(size == 2 || size == 3 && is_luma) => Order::Diagonal,
            6..=14 => Order::Down,
            22..=30 => Order::Across,
            _ => Order::Diagonal,
        };
        if order == Order::Down {
            last.swap(0, 1);
        }
        if last.iter().any(|&at| at >= 1 << size) {
            return None;
        }
        let side = 1_u8 << (size - 2);
        let group_of = (last[0] as u8 >> 2, last[1] as u8 >> 2);
        let within = (last[0] as u8 & 3, last[1] as u8 & 3);
        let groups = usize::from(side) * usize::from(side);
        let last_group = (0..groups).find(|&k| place(order, side, k) == group_of)?;
        let last_within = (0..16).find(|&k| place(order, 4, k) == within)?;
        let mut coded = [[false; 9]; 9];
        let mut above_1 = 1;
        for group in (0..=last_group).rev() {
            let (x, y) = place(order, side, group);
            let (column, row) = (usize::from(x), usize::from(y));
            let beside = [coded[row][column + 1], coded[row + 1][column]];
            let is_inner = group < last_group && group > 0;
            let has = !is_inner
                || self.decide(
                    of::GROUP + usize::from(beside != [false; 2]) + 2 * usize::from(!is_luma),
                );
            coded[row][column] = has;
            if !has {
                continue;
            }
            let mut significant = [0_u8; 16];
            let mut count = 0;
            let mut from = 16;
            if group == last_group {
                significant[0] = last_within as u8;
                (count, from) = (1, last_within);
            }
            for k in (1..from).rev() {
                let at = place(order, 4, k);
                let context = significance(size, (x, y), at, (beside, order), is_luma);
                if self.decide(of::SIGNIFICANT + context) {
                    significant[count] = k as u8;
                    count += 1;
                }
            }
            if from > 0 {
                // A group that has any has this one where it has no other.
                let is_inferred = is_inner && count == 0;
                let context = significance(size, (x, y), (0, 0), (beside, order), is_luma);
                if is_inferred || self.decide(of::SIGNIFICANT + context) {
                    count += 1;
                }
            }
            if count > 0 {
                let begins = group == last_group;
                let set = if group == 0 || !is_luma { 0 } else { 2 };
                let set = set + usize::from(!begins && above_1 == 0);
                above_1 = self.levels(&significant[..count], set, is_luma, block)?;
            }
        }
        Some(())
    }

    /// The beginning of where the last coefficient lies.
    fn last(&mut self, from: usize, size: u32, is_luma: bool) -> u32 {
        let (offset, shift) = if is_luma {
            (3 * (size - 2) + ((size - 1) >> 2), (size + 1) >> 2)
        } else {
            (15, size - 2)
        };
        let most = 2 * size - 1;
        let mut prefix = 0;
        while prefix < most && self.decide(from + (offset + (prefix >> shift)) as usize) {
            prefix += 1;
        }
        prefix
    }

    fn last_rest(&mut self, prefix: u32) -> u32 {
        if prefix <= 3 {
            return prefix;
        }
        let bits = (prefix >> 1) - 1;
        (1 << bits) * (2 + (prefix & 1)) + self.coded.bypass_number(bits)
    }

    /// Reads the sizes of a group's coefficients, whose places come last first; returns what the next
    /// group begins with.
    fn levels(&mut self, places: &[u8], set: usize, is_luma: bool, block: &Block) -> Option<usize> {
        let chroma = usize::from(!is_luma);
        let mut above_1 = 1;
        let mut levels = [1_u32; 16];
        let mut first_above = None;
        for (k, level) in levels.iter_mut().enumerate().take(places.len().min(8)) {
            if self.decide(of::ABOVE_1 + 4 * set + above_1 + 16 * chroma) {
                *level = 2;
                above_1 = 0;
                first_above = first_above.or(Some(k));
            } else if above_1 > 0 && above_1 < 3 {
                above_1 += 1;
            }
        }
        if let Some(k) = first_above {
            levels[k] += u32::from(self.decide(of::ABOVE_2 + set + 4 * chroma));
        }
        let span = places.first()? - places.last()?;
        let hides = self.picture.hides_signs && !block.bypasses && span > 3;
        self.coded.bypass_number((places.len() - usize::from(hides)) as u32);
        let mut rice = 0;
        for (k, &level) in levels.iter().enumerate().take(places.len()) {
            let base = match k {
                8.. => 1,
                k if first_above == Some(k) => 3,
                _ => 2,
            };
            if level == base {
                let size = u64::from(base) + u64::from(self.remaining(rice)?);
                if size > 3 << rice {
                    rice = (rice + 1).min(4);
                }
            }
        }
        Some(above_1)
    }

    /// What a coefficient has beyond what was said of it (clause 9.3.3.11).
    fn remaining(&mut self, rice: u32) -> Option<u32> {
        let mut prefix = 0;
        while self.coded.bypass() {
            prefix += 1;
            if prefix > 31 {
                return None;
            }
        }
        if prefix <= 3 {
            return Some((prefix << rice) + self.coded.bypass_number(rice));
        }
        let bits = prefix - 3 + rice;
        if bits > 32 {
            return None;
        }
        let rest = self.coded.bypass_number(bits);
        Some((((1_u32 << (prefix - 3)) + 3 - 1) << rice).saturating_add(rest))
    }
}

/// Returns which context says whether a coefficient is not zero (clause 9.3.4.2.5).
fn significance(
    size: u32,
    (group_x, group_y): (u8, u8),
    (x, y): (u8, u8),
    ([right, below], order): ([bool; 2], Order),
    is_luma: bool,
) -> usize {
    let context = if size == 2 {
        OF_FOUR[usize::from(4 * y + x)]
    } else if (group_x, group_y, x, y) == (0, 0, 0, 0) {
        0
    } else {
        let near = match (right, below) {
            (false, false) if x + y == 0 => 2,
            (false, false) => u8::from(x + y < 3),
            (true, false) => 2_u8.saturating_sub(y),
            (false, true) => 2_u8.saturating_sub(x),
            (true, true) => 2,
        };
        if is_luma {
            let inner = if (group_x, group_y) == (0, 0) { 0 } else { 3 };
            let of_size = match (size, order) {
                (3, Order::Diagonal) => 9,
                (3, _) => 15,
                _ => 21,
            };
            near + inner + of_size
        } else {
            near + if size == 3 { 9 } else { 12 }
        }
    };
    usize::from(context) + if is_luma { 0 } else { 27 }
}
