//! What is known of a macroblock, and of those beside it that were read before.

/// What is kept of a macroblock. What stands here of one of plain samples is what the standard takes it
/// for: everything is coded.
#[derive(Clone, Copy, Debug, Default)]
#[allow(clippy::struct_excessive_bools, reason = "each says another thing of it")]
pub(super) struct Macroblock {
    /// Nothing of it was coded.
    pub is_skipped: bool,
    /// Its motion is that of others.
    pub is_direct: bool,
    /// Predicted from the picture itself in blocks of 4 or 8.
    pub is_small: bool,
    pub has_large_transform: bool,
    pub chroma_mode: u8,
    /// Which of its quarters have coefficients, and from the fifth bit on what chroma has.
    pub coded: u8,
    /// How many coefficients the blocks of each plane have, row by row.
    pub counts: [[u8; 16]; 3],
    /// Whether the planes have any of those that stand for all of it.
    pub sums: [bool; 3],
    /// By list and quarter, whether another picture than the list's first is used.
    pub refers: [[bool; 4]; 2],
    /// By list and block, how far motion differs from what was expected, across and down.
    pub motion: [[[u8; 2]; 16]; 2],
}

impl Macroblock {
    /// Plain samples.
    pub(super) const PLAIN: Self = Self {
        is_skipped: false,
        is_direct: false,
        is_small: false,
        has_large_transform: false,
        chroma_mode: 0,
        coded: 0x2f,
        counts: [[16; 16]; 3],
        sums: [true; 3],
        refers: [[false; 4]; 2],
        motion: [[[0; 2]; 16]; 2],
    };
}

/// A macroblock that is read, and its neighbours.
pub(super) struct Near<'a> {
    /// Of each column the last one that was read.
    row: &'a mut [Macroblock],
    column: usize,
    has_left: bool,
    has_above: bool,
    /// Blocks of a plane of chroma.
    chroma_blocks: usize,
    pub own: Macroblock,
}

impl<'a> Near<'a> {
    pub(super) fn new(row: &'a mut [Macroblock], chroma_blocks: u32) -> Self {
        let (own, chroma_blocks) = (Macroblock::default(), chroma_blocks as usize);
        Self { row, column: 0, has_left: false, has_above: false, chroma_blocks, own }
    }

    /// Begins a macroblock; nobody looks at those before the slice's `first` one.
    pub(super) fn begin(&mut self, address: u32, first: u32) {
        let across = self.row.len() as u32;
        self.column = (address % across) as usize;
        self.has_left = self.column > 0 && address > first;
        self.has_above = address >= first.saturating_add(across);
        self.own = Macroblock::default();
    }

    /// Keeps it for those after it.
    pub(super) fn end(&mut self) {
        self.row[self.column] = self.own;
    }

    fn left(&self) -> Option<&Macroblock> {
        self.has_left.then(|| &self.row[self.column - 1])
    }

    fn above(&self) -> Option<&Macroblock> {
        self.has_above.then(|| &self.row[self.column])
    }

    /// Returns in the first bit whether something holds for the one to the left, in the second for the
    /// one above.
    pub(super) fn ask(&self, holds: impl Fn(&Macroblock) -> bool) -> usize {
        let [left, above] = [self.left(), self.above()].map(|it| it.is_some_and(&holds));
        usize::from(left) + 2 * usize::from(above)
    }

    /// Likewise, of quarters beside a quarter, which may lie in the same macroblock.
    pub(super) fn ask_quarters(
        &self,
        quarter: usize,
        own: impl Fn(usize) -> bool,
        holds: impl Fn(&Macroblock, usize) -> bool,
    ) -> usize {
        let left = match quarter & 1 {
            1 => own(quarter - 1),
            _ => self.left().is_some_and(|left| holds(left, quarter + 1)),
        };
        let above = match quarter & 2 {
            2 => own(quarter - 2),
            _ => self.above().is_some_and(|above| holds(above, quarter ^ 2)),
        };
        usize::from(left) + 2 * usize::from(above)
    }

    /// Returns what blocks have to the left of a block and above it; `across` and `all` count the blocks
    /// of a macroblock in its plane.
    fn beside<T>(
        &self,
        block: usize,
        (across, all): (usize, usize),
        of: impl Fn(&Macroblock, usize) -> T,
    ) -> [Option<T>; 2] {
        let left = match block % across {
            0 => self.left().map(|left| of(left, block + across - 1)),
            _ => Some(of(&self.own, block - 1)),
        };
        let above = match block.checked_sub(across) {
            None => self.above().map(|above| of(above, block + all - across)),
            Some(above) => Some(of(&self.own, above)),
        };
        [left, above]
    }

    /// Returns how many coefficients the blocks beside one have.
    pub(super) fn counts(&self, plane: usize, block: usize) -> [Option<u8>; 2] {
        let sides = if plane == 0 { (4, 16) } else { (2, self.chroma_blocks) };
        self.beside(block, sides, |of, block| of.counts[plane][block])
    }

    /// Returns whether a plane has coefficients that stand for all of it, to the left and above.
    pub(super) fn sums(&self, plane: usize) -> [Option<bool>; 2] {
        [self.left(), self.above()].map(|it| it.map(|it| it.sums[plane]))
    }

    /// Returns how far motion differs beside a block, left and above together.
    pub(super) fn motion(&self, list: usize, block: usize, axis: usize) -> u32 {
        let of = |of: &Macroblock, block: usize| u32::from(of.motion[list][block][axis]);
        self.beside(block, (4, 16), of).into_iter().flatten().sum()
    }
}
