//! What a macroblock says (clause 7.3.5), whichever way it is written.

use super::{
    code::{Block, Code, What},
    header::{Header, Kind},
    kinds::{self, Cut, Part, Quarter},
    near::{Macroblock, Near},
    sets::{PictureSet, SequenceSet},
};

/// Motion beyond these many quarters of a sample cannot be said (clause 7.4.5.1).
const MOST_MOTION: u32 = 1 << 15;

/// Reads the macroblocks of one slice.
pub(super) struct Macroblocks<'a, C> {
    pub code: C,
    pub near: Near<'a>,
    pub sequence: &'a SequenceSet,
    pub picture: &'a PictureSet,
    pub header: &'a Header,
    /// Whether the last macroblock changed the quantiser.
    pub changed: bool,
}

impl<C: Code> Macroblocks<'_, C> {
    /// Reads one that is not skipped; nothing where it cannot be one.
    pub(super) fn read(&mut self) -> Option<()> {
        let slice = self.header.kind;
        let kind = self.code.kind(&self.near, slice)?;
        let changed_before = std::mem::take(&mut self.changed);
        let Some(cut) = kinds::cut(slice, kind) else {
            let kind = kind.checked_sub(kinds::before_intra(slice))?;
            return self.intra(kind, changed_before);
        };
        self.near.own.is_direct = matches!(cut, Cut::Direct);
        let may_large = match cut {
            Cut::Direct => self.sequence.direct_8,
            Cut::One(part) => self.parts(&[part]).map(|()| true)?,
            Cut::Two(parts) => self.parts(&parts).map(|()| true)?,
            Cut::Four(names) => self.quarters(names)?,
        };
        let coded = self.coded(false)?;
        if coded & 15 > 0 && may_large && self.picture.transform_8 {
            self.near.own.has_large_transform = self.code.has_large_transform(&self.near)?;
        }
        if coded > 0 {
            self.coefficients((false, false), changed_before)?;
        }
        Some(())
    }

    fn is_colour(&self) -> bool {
        self.sequence.chroma_blocks > 0
    }

    fn coded(&mut self, is_intra: bool) -> Option<u8> {
        let coded = self.code.coded(&self.near, is_intra, self.is_colour())?;
        self.near.own.coded = coded;
        Some(coded)
    }

    /// One that is predicted from the picture itself, by table 7-11.
    fn intra(&mut self, kind: u32, changed_before: bool) -> Option<()> {
        if kind == 25 {
            return self.plain();
        }
        let is_whole = kind > 0;
        if is_whole {
            let chroma = (kind - 1) / 4 % 3;
            if kind > 24 || chroma > 0 && !self.is_colour() {
                return None;
            }
            self.near.own.coded = (chroma << 4) as u8 | if kind > 12 { 15 } else { 0 };
        } else {
            self.near.own.is_small = true;
            if self.picture.transform_8 {
                self.near.own.has_large_transform = self.code.has_large_transform(&self.near)?;
            }
            for _ in 0..if self.near.own.has_large_transform { 4 } else { 16 } {
                self.code.mode()?;
            }
        }
        if self.is_colour() {
            self.near.own.chroma_mode = self.code.chroma_mode(&self.near)?;
        }
        if is_whole || self.coded(true)? > 0 {
            self.coefficients((true, is_whole), changed_before)?;
        }
        Some(())
    }

    fn plain(&mut self) -> Option<()> {
        let [luma, chroma] = self.sequence.bit_depth;
        // Both planes of chroma have blocks of 16 samples.
        self.code.plain(256 * luma + 32 * self.sequence.chroma_blocks * chroma)?;
        self.near.own = Macroblock::PLAIN;
        Some(())
    }

    fn parts(&mut self, parts: &[Part]) -> Option<()> {
        for list in 0..2 {
            let count = self.header.references[list];
            for part in parts.iter().filter(|part| part.lists[list] && count > 1) {
                let quarter = part.first / 8 * 2 + part.first % 4 / 2;
                let which = self.code.reference(&self.near, (list, quarter), count)?;
                let refers = &mut self.near.own.refers[list];
                for quarter in [quarter, quarter + part.across / 4, quarter + part.down / 4 * 2] {
                    refers[quarter] = which > 0;
                }
                if part.across + part.down == 8 {
                    refers[3] = which > 0;
                }
            }
        }
        for list in 0..2 {
            for part in parts.iter().filter(|part| part.lists[list]) {
                self.motion(list, (part.first, part.across, part.down))?;
            }
        }
        Some(())
    }

    /// Returns whether a large transform would fit.
    fn quarters(&mut self, names: bool) -> Option<bool> {
        let mut quarters = [Quarter::default(); 4];
        for quarter in &mut quarters {
            *quarter = kinds::quarter(self.header.kind, self.code.quarter(self.header.kind)?)?;
        }
        for list in 0..2 {
            let count = self.header.references[list];
            for (k, quarter) in quarters.iter().enumerate() {
                if names && quarter.lists[list] && count > 1 {
                    let which = self.code.reference(&self.near, (list, k), count)?;
                    self.near.own.refers[list][k] = which > 0;
                }
            }
        }
        for list in 0..2 {
            for (k, quarter) in quarters.iter().enumerate().filter(|(_, it)| it.lists[list]) {
                let first = k / 2 * 8 + k % 2 * 2;
                for y in (0..2).step_by(quarter.down) {
                    for x in (0..2).step_by(quarter.across) {
                        self.motion(list, (first + 4 * y + x, quarter.across, quarter.down))?;
                    }
                }
            }
        }
        let fits = |it: &Quarter| {
            if it.is_direct { self.sequence.direct_8 } else { it.across + it.down == 4 }
        };
        Some(quarters.iter().all(fits))
    }

    fn motion(&mut self, list: usize, (first, across, down): (usize, usize, usize)) -> Option<()> {
        let mut sizes = [0; 2];
        for (axis, size) in sizes.iter_mut().enumerate() {
            let motion = self.code.motion(&self.near, (list, first), axis)?;
            if motion > MOST_MOTION {
                return None;
            }
            *size = motion.min(255) as u8;
        }
        if sizes != [0; 2] {
            for y in 0..down {
                self.near.own.motion[list][first + 4 * y..][..across].fill(sizes);
            }
        }
        Some(())
    }

    fn coefficients(
        &mut self,
        (is_intra, is_whole): (bool, bool),
        changed_before: bool,
    ) -> Option<()> {
        let change = self.code.quantiser(changed_before)?;
        let more = 3 * (self.sequence.bit_depth[0] as i32 - 8);
        if !(-26 - more..=25 + more).contains(&change) {
            return None;
        }
        self.changed = change != 0;
        self.luma(is_intra, is_whole)?;
        let chroma = self.near.own.coded >> 4;
        let blocks = self.sequence.chroma_blocks as usize;
        if chroma > 0 {
            for plane in 1..3 {
                let block = Block { what: What::ChromaSum, plane, place: 0, most: blocks };
                self.near.own.sums[plane] = self.code.block(&self.near, block, is_intra)? > 0;
            }
        }
        if chroma > 1 {
            for plane in 1..3 {
                for place in 0..blocks {
                    let block = Block { what: What::ChromaRest, plane, place, most: 15 };
                    let count = self.code.block(&self.near, block, is_intra)?;
                    self.near.own.counts[plane][place] = count;
                }
            }
        }
        Some(())
    }

    fn luma(&mut self, is_intra: bool, is_whole: bool) -> Option<()> {
        if is_whole {
            let block = Block { what: What::Sum, plane: 0, place: 0, most: 16 };
            self.near.own.sums[0] = self.code.block(&self.near, block, is_intra)? > 0;
        }
        let (what, most) = if is_whole { (What::Rest, 15) } else { (What::Small, 16) };
        for quarter in (0..4).filter(|quarter| self.near.own.coded >> quarter & 1 == 1) {
            let first = quarter / 2 * 8 + quarter % 2 * 2;
            let places = [0, 1, 4, 5].map(|more| first + more);
            if C::WHOLE && self.near.own.has_large_transform {
                let block = Block { what: What::Large, plane: 0, place: first, most: 64 };
                let count = self.code.block(&self.near, block, is_intra)?;
                for place in places {
                    self.near.own.counts[0][place] = count;
                }
                continue;
            }
            for place in places {
                let block = Block { what, plane: 0, place, most };
                let count = self.code.block(&self.near, block, is_intra)?;
                self.near.own.counts[0][place] = count;
            }
        }
        Some(())
    }
}

/// Motion is said of blocks; where a macroblock is skipped it says nothing.
pub(super) fn skipped(slice: Kind) -> Macroblock {
    Macroblock { is_skipped: true, is_direct: slice == Kind::Both, ..Macroblock::default() }
}
