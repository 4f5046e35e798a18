//! Trees of blocks, and how each block is predicted (clauses 7.3.8.2 to 7.3.8.9).

use super::{
    super::arithmetic::Arithmetic,
    contexts::{self as of, Contexts},
    header::{Header, Kind},
    sets::{PictureSet, SequenceSet},
};

/// The mode without a direction that nearly everything falls back to (table 8-1).
const MEAN: u8 = 1;
const PLANAR: u8 = 0;
const UP: u8 = 26;

/// What is known of blocks that were read, by the place of each; kept to be used again.
#[derive(Debug, Default)]
pub(super) struct Scratch {
    /// How often a block was split, and whether it was skipped, by least blocks.
    pub depth: Vec<u8>,
    pub skipped: Vec<bool>,
    /// How a block is predicted from the picture itself, by four samples each way.
    pub mode: Vec<u8>,
}

/// Reads the blocks of one slice.
pub(super) struct Blocks<'a> {
    pub coded: Arithmetic<'a>,
    pub contexts: Contexts,
    pub sequence: &'a SequenceSet,
    pub picture: &'a PictureSet,
    header: &'a Header,
    scratch: &'a mut Scratch,
    /// Least blocks, and fours of samples, that lie side by side.
    least_across: usize,
    fours_across: usize,
    /// Whether the quantiser of the current group was said.
    quantiser_is_said: bool,
}

/// A coded block.
#[derive(Clone, Copy)]
pub(super) struct Block {
    pub is_intra: bool,
    /// Its coefficients are coded without loss.
    pub bypasses: bool,
    parts: Parts,
    /// Modes of its four parts; of all alike where it has one.
    modes: [u8; 4],
    pub chroma_mode: u8,
    most_depth: u32,
}

/// How a block is cut up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Parts {
    One,
    /// Two, by the share of four that the first has: across, or down.
    Rows(u32),
    Columns(u32),
    Four,
}

/// A square of samples.
#[derive(Clone, Copy)]
struct Square {
    x: u32,
    y: u32,
    /// Binary logarithm of its side.
    size: u32,
}

impl Square {
    fn side(self) -> u32 {
        1 << self.size
    }

    fn quarters(self) -> [Self; 4] {
        let (size, half) = (self.size - 1, self.side() / 2);
        [(0, 0), (half, 0), (0, half), (half, half)].map(|(x, y)| Self {
            x: self.x + x,
            y: self.y + y,
            size,
        })
    }
}

/// What a block of transforms hands down to its parts.
#[derive(Clone, Copy)]
struct Coded {
    chroma: [bool; 2],
}

impl<'a> Blocks<'a> {
    pub(super) fn new(
        (sequence, picture): (&'a SequenceSet, &'a PictureSet),
        header: &'a Header,
        (coded, contexts): (Arithmetic<'a>, Contexts),
        scratch: &'a mut Scratch,
    ) -> Self {
        let least = |size: u32| [sequence.width, sequence.height].map(|it| it.div_ceil(1 << size));
        let [across, down] = least(sequence.least_block).map(|it| it as usize);
        let [fours_across, fours_down] = least(2).map(|it| it as usize);
        if scratch.depth.len() != across * down || scratch.mode.len() != fours_across * fours_down {
            scratch.depth = vec![0; across * down];
            scratch.skipped = vec![false; across * down];
            scratch.mode = vec![MEAN; fours_across * fours_down];
        }
        Self {
            coded,
            contexts,
            sequence,
            picture,
            header,
            scratch,
            least_across: across,
            fours_across,
            quantiser_is_said: true,
        }
    }

    pub(super) fn decide(&mut self, context: usize) -> bool {
        self.coded.decide(&mut self.contexts[context])
    }

    /// Reads one tree; nothing where it cannot be one.
    pub(super) fn tree(&mut self, address: u32) -> Option<()> {
        let across = self.sequence.across();
        let (column, row) = (address % across, address / across);
        self.offsets(address, column, row);
        let size = self.sequence.tree;
        self.split(Square { x: column << size, y: row << size, size }, 0)
    }

    /// What is added to samples by kind (clause 7.3.8.3).
    fn offsets(&mut self, address: u32, column: u32, row: u32) {
        if self.header.offsets == [false; 2] {
            return;
        }
        let first = self.header.slice_address;
        if column > 0 && address > first && self.decide(of::OFFSET_MERGE) {
            return;
        }
        let above = address.checked_sub(self.sequence.across());
        if row > 0 && above.is_some_and(|above| above >= first) && self.decide(of::OFFSET_MERGE) {
            return;
        }
        let planes = if self.sequence.is_colour { 3 } else { 1 };
        let mut kind = 0;
        for plane in 0..planes {
            if !self.header.offsets[usize::from(plane > 0)] {
                continue;
            }
            if plane < 2 {
                kind = if self.decide(of::OFFSET_KIND) {
                    1 + u8::from(self.coded.bypass())
                } else {
                    0
                };
            }
            if kind == 0 {
                continue;
            }
            let depth = self.sequence.bit_depth[usize::from(plane > 0)].min(10);
            let most = (1 << (depth - 5)) - 1;
            let mut not_zero = 0;
            for _ in 0..4 {
                let mut size = 0;
                while size < most && self.coded.bypass() {
                    size += 1;
                }
                not_zero += u32::from(size > 0);
            }
            if kind == 1 {
                self.coded.bypass_number(not_zero + 5);
            } else if plane < 2 {
                self.coded.bypass_number(2);
            }
        }
    }

    /// Returns whether the block that holds a sample was read before, and is of this slice.
    fn is_there(&self, x: u32, y: u32) -> bool {
        let size = self.sequence.tree;
        (y >> size) * self.sequence.across() + (x >> size) >= self.header.slice_address
    }

    fn least(&self, x: u32, y: u32) -> usize {
        let size = self.sequence.least_block;
        (y >> size) as usize * self.least_across + (x >> size) as usize
    }

    /// Returns the places of the samples to the left and above, where those are there.
    fn neighbours(&self, x: u32, y: u32) -> [Option<(u32, u32)>; 2] {
        let left = x.checked_sub(1).map(|x| (x, y));
        let above = y.checked_sub(1).map(|y| (x, y));
        [left, above].map(|place| place.filter(|&(x, y)| self.is_there(x, y)))
    }

    fn split(&mut self, square: Square, depth: u8) -> Option<()> {
        let Square { x, y, size } = square;
        let (width, height) = (self.sequence.width, self.sequence.height);
        let fits = x + square.side() <= width && y + square.side() <= height;
        let may = size > self.sequence.least_block;
        let is_split = if fits && may {
            let neighbours = self.neighbours(x, y);
            let deeper = neighbours.into_iter().flatten();
            let deeper =
                deeper.filter(|&(x, y)| self.scratch.depth[self.least(x, y)] > depth).count();
            self.decide(of::SPLIT + deeper)
        } else {
            may
        };
        let group =
            self.picture.quantiser_depth.map(|depth| self.sequence.tree.saturating_sub(depth));
        if group.is_some_and(|group| size >= group) {
            self.quantiser_is_said = false;
        }
        if !is_split {
            return self.block(square, depth);
        }
        for quarter in square.quarters() {
            if quarter.x < width && quarter.y < height {
                self.split(quarter, depth + 1)?;
            }
        }
        Some(())
    }

    fn block(&mut self, square: Square, depth: u8) -> Option<()> {
        let Square { x, y, size } = square;
        let bypasses = self.picture.bypasses && self.decide(of::BYPASS);
        let mut is_skipped = false;
        if self.header.kind != Kind::Intra {
            let skipped = self.neighbours(x, y).into_iter().flatten();
            let skipped = skipped.filter(|&(x, y)| self.scratch.skipped[self.least(x, y)]).count();
            is_skipped = self.decide(of::SKIP + skipped);
        }
        self.remember(square, depth, is_skipped);
        if is_skipped {
            self.set_mode(square, MEAN);
            self.merge_which();
            return Some(());
        }
        let is_intra = self.header.kind == Kind::Intra || self.decide(of::PREDICTION);
        let parts = if is_intra && size > self.sequence.least_block {
            Parts::One
        } else {
            self.parts(is_intra, size)
        };
        let mut block =
            Block { is_intra, bypasses, parts, modes: [MEAN; 4], chroma_mode: MEAN, most_depth: 0 };
        let mut has_residue = true;
        if is_intra {
            if self.is_plain(square, parts) {
                self.set_mode(square, MEAN);
                return self.plain(size);
            }
            block.modes = self.modes(square, parts);
            block.chroma_mode =
                if self.sequence.is_colour { self.chroma_mode(block.modes[0]) } else { 0 };
            block.most_depth = self.sequence.depth_intra + u32::from(parts == Parts::Four);
        } else {
            self.set_mode(square, MEAN);
            let merges = self.motions(square, parts, depth);
            block.most_depth = self.sequence.depth_inter;
            has_residue = parts == Parts::One && merges || self.decide(of::HAS_RESIDUE);
        }
        if has_residue {
            self.transforms(square, (square, 0), 0, &block, Coded { chroma: [false; 2] })?;
        }
        Some(())
    }

    fn remember(&mut self, square: Square, depth: u8, is_skipped: bool) {
        let count = 1_usize << (square.size - self.sequence.least_block);
        let from = self.least(square.x, square.y);
        for row in 0..count {
            let row = from + row * self.least_across;
            self.scratch.depth[row..row + count].fill(depth);
            self.scratch.skipped[row..row + count].fill(is_skipped);
        }
    }

    fn set_mode(&mut self, square: Square, mode: u8) {
        let count = 1_usize << (square.size - 2);
        let from = self.four(square.x, square.y);
        for row in 0..count {
            let row = from + row * self.fours_across;
            self.scratch.mode[row..row + count].fill(mode);
        }
    }

    fn four(&self, x: u32, y: u32) -> usize {
        (y >> 2) as usize * self.fours_across + (x >> 2) as usize
    }

    /// Table 9-43 and the ones around it.
    fn parts(&mut self, is_intra: bool, size: u32) -> Parts {
        if self.decide(of::PARTS) {
            return Parts::One;
        }
        if is_intra {
            return Parts::Four;
        }
        let is_rows = self.decide(of::PARTS + 1);
        let halves = if is_rows { Parts::Rows(2) } else { Parts::Columns(2) };
        if size == self.sequence.least_block {
            let may_four = size > 3 && !is_rows;
            return if may_four && !self.decide(of::PARTS + 2) { Parts::Four } else { halves };
        }
        if !self.sequence.asymmetric || self.decide(of::PARTS + 3) {
            return halves;
        }
        let first = if self.coded.bypass() { 3 } else { 1 };
        if is_rows { Parts::Rows(first) } else { Parts::Columns(first) }
    }

    fn is_plain(&mut self, square: Square, parts: Parts) -> bool {
        let plain = self.sequence.plain.filter(|_| parts == Parts::One);
        plain.is_some_and(|it| (it.least..=it.largest).contains(&square.size)) && self.coded.ends()
    }

    /// Samples that are not coded, behind which the arithmetic begins anew.
    fn plain(&mut self, size: u32) -> Option<()> {
        let plain = self.sequence.plain?;
        let samples = 1_u32 << (2 * size);
        let chroma = if self.sequence.is_colour { samples / 2 } else { 0 };
        let bits = samples * plain.bits[0] + chroma * plain.bits[1];
        self.coded.go_on_behind(bits.div_ceil(8) as usize);
        Some(())
    }

    /// Modes of luma (clauses 7.3.8.5 and 8.4.2).
    fn modes(&mut self, square: Square, parts: Parts) -> [u8; 4] {
        let squares = if parts == Parts::Four { square.quarters() } else { [square; 4] };
        let count = if parts == Parts::Four { 4 } else { 1 };
        let mut are_likely = [false; 4];
        for is_likely in &mut are_likely[..count] {
            *is_likely = self.decide(of::LIKELY_MODE);
        }
        let mut modes = [MEAN; 4];
        for part in 0..count {
            let likely = self.likely_modes(squares[part]);
            modes[part] = if are_likely[part] {
                let more = self.coded.bypass();
                let which = if more { 1 + usize::from(self.coded.bypass()) } else { 0 };
                likely[which]
            } else {
                let mut sorted = likely;
                sorted.sort_unstable();
                let rest = self.coded.bypass_number(5) as u8;
                sorted.iter().fold(rest, |mode, &passed| mode + u8::from(mode >= passed))
            };
            self.set_mode(squares[part], modes[part]);
        }
        if count == 1 { [modes[0]; 4] } else { modes }
    }

    fn likely_modes(&self, Square { x, y, .. }: Square) -> [u8; 3] {
        let [left, above] = self.neighbours(x, y);
        // Nothing is taken from the row of trees above.
        let above = above.filter(|&(_, up)| up >> self.sequence.tree == y >> self.sequence.tree);
        let [left, above] = [left, above]
            .map(|place| place.map_or(MEAN, |(x, y)| self.scratch.mode[self.four(x, y)]));
        if left != above {
            let third = [PLANAR, MEAN, UP].into_iter().find(|it| *it != left && *it != above);
            return [left, above, third.unwrap_or(UP)];
        }
        if left < 2 {
            return [PLANAR, MEAN, UP];
        }
        [left, 2 + (left + 29) % 32, 2 + (left - 2 + 1) % 32]
    }

    fn chroma_mode(&mut self, luma: u8) -> u8 {
        if !self.decide(of::CHROMA_MODE) {
            return luma;
        }
        let mode = [PLANAR, UP, 10, MEAN][self.coded.bypass_number(2) as usize];
        if mode == luma { 34 } else { mode }
    }

    /// Returns whether the last part takes over its motion.
    fn motions(&mut self, square: Square, parts: Parts, depth: u8) -> bool {
        let side = square.side();
        let quarter = side / 4;
        let sizes: &[[u32; 2]] = match parts {
            Parts::One => &[[side, side]],
            Parts::Four => &[[side / 2; 2]; 4],
            Parts::Rows(first) => &[[side, first * quarter], [side, (4 - first) * quarter]],
            Parts::Columns(first) => &[[first * quarter, side], [(4 - first) * quarter, side]],
        };
        let mut merges = false;
        for [width, height] in sizes {
            merges = self.motion(width + height, depth);
        }
        merges
    }

    fn motion(&mut self, sides: u32, depth: u8) -> bool {
        if self.decide(of::MERGE) {
            self.merge_which();
            return true;
        }
        let (mut first, mut second) = (true, false);
        if self.header.kind == Kind::Both {
            if sides != 12 && self.decide(of::DIRECTION + usize::from(depth)) {
                second = true;
            } else if self.decide(of::DIRECTION + 4) {
                (first, second) = (false, true);
            }
        }
        for (list, is_used) in [first, second].into_iter().enumerate() {
            if !is_used {
                continue;
            }
            self.reference(self.header.references[list]);
            if !(list == 1 && first && self.header.second_motion_is_zero) {
                self.difference();
            }
            self.decide(of::PREDICTOR);
        }
        false
    }

    fn merge_which(&mut self) {
        let most = self.header.merges - 1;
        let mut which = u32::from(most > 0 && self.decide(of::MERGE_WHICH));
        while which > 0 && which < most && self.coded.bypass() {
            which += 1;
        }
    }

    fn reference(&mut self, count: u32) {
        let mut which = 0;
        while which + 1 < count {
            let more = if which < 2 {
                self.decide(of::REFERENCE + which as usize)
            } else {
                self.coded.bypass()
            };
            if !more {
                break;
            }
            which += 1;
        }
    }

    fn difference(&mut self) {
        let not_zero = [self.decide(of::MOTION_ABOVE_0), self.decide(of::MOTION_ABOVE_0)];
        let above_1 = not_zero.map(|is| is && self.decide(of::MOTION_ABOVE_1));
        for (not_zero, above_1) in not_zero.into_iter().zip(above_1) {
            if above_1 {
                let mut bits = 1;
                while bits < 32 && self.coded.bypass() {
                    bits += 1;
                }
                self.coded.bypass_number(bits.min(31));
            }
            if not_zero {
                self.coded.bypass();
            }
        }
    }

    /// A tree of transforms (clause 7.3.8.8).
    fn transforms(
        &mut self,
        square: Square,
        (parent, place): (Square, usize),
        depth: u32,
        block: &Block,
        above: Coded,
    ) -> Option<()> {
        let size = square.size;
        let four_parts = block.is_intra && block.parts == Parts::Four;
        let may = size <= self.sequence.largest_transform
            && size > self.sequence.least_transform
            && depth < block.most_depth
            && !(four_parts && depth == 0);
        let is_split = if may {
            self.decide(of::SPLIT_TRANSFORM + 5 - size as usize)
        } else {
            let between = self.sequence.depth_inter == 0
                && !block.is_intra
                && block.parts != Parts::One
                && depth == 0;
            size > self.sequence.largest_transform || four_parts && depth == 0 || between
        };
        let mut coded = Coded { chroma: [false; 2] };
        if self.sequence.is_colour {
            for plane in 0..2 {
                coded.chroma[plane] = if size > 2 {
                    (depth == 0 || above.chroma[plane])
                        && self.decide(of::CODED_CHROMA + depth as usize)
                } else {
                    above.chroma[plane]
                };
            }
        }
        if is_split {
            if size <= 2 {
                return None;
            }
            for (place, quarter) in square.quarters().into_iter().enumerate() {
                self.transforms(quarter, (square, place), depth + 1, block, coded)?;
            }
            return Some(());
        }
        let has_chroma = coded.chroma != [false; 2];
        let has_luma = !(block.is_intra || depth > 0 || has_chroma)
            || self.decide(of::CODED_LUMA + usize::from(depth == 0));
        self.transform((square, parent), place, block, (has_luma, coded.chroma))
    }

    fn transform(
        &mut self,
        (square, parent): (Square, Square),
        place: usize,
        block: &Block,
        (has_luma, chroma): (bool, [bool; 2]),
    ) -> Option<()> {
        if !has_luma && chroma == [false; 2] {
            return Some(());
        }
        if self.picture.quantiser_depth.is_some() && !self.quantiser_is_said {
            self.quantiser()?;
        }
        if has_luma {
            let mode = self.scratch.mode[self.four(square.x, square.y)];
            self.coefficients(square.size, 0, block, mode)?;
        }
        let size = match (square.size, place) {
            (2, 3) => parent.size - 1,
            (2, _) => return Some(()),
            (size, _) => size - 1,
        };
        for (plane, has_any) in chroma.into_iter().enumerate() {
            if has_any {
                self.coefficients(size, plane + 1, block, block.chroma_mode)?;
            }
        }
        Some(())
    }

    fn quantiser(&mut self) -> Option<()> {
        self.quantiser_is_said = true;
        let mut size = 0;
        while size < 5 && self.decide(of::QUANTISER + usize::from(size > 0)) {
            size += 1;
        }
        if size == 5 {
            let mut bits = 0;
            while self.coded.bypass() {
                bits += 1;
                if bits > 7 {
                    return None;
                }
            }
            self.coded.bypass_number(bits);
        }
        if size > 0 {
            self.coded.bypass();
        }
        Some(())
    }
}
