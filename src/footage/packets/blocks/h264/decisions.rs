//! Parts of macroblocks in arithmetically coded decisions (clause 9.3).

use super::{
    super::arithmetic::Arithmetic,
    code::{Block, Code, What},
    contexts::{self as of, Contexts, LARGE_LAST, LARGE_SIGNIFICANT, OF_BLOCK},
    header::{Header, Kind},
    near::Near,
    sets::SequenceSet,
};

/// Bits of the longest number; with more of them nothing here could reckon.
const MOST_BITS: u32 = 24;

/// Reads what stands behind a slice's header.
pub(super) struct Decisions<'a> {
    coded: Arithmetic<'a>,
    contexts: Contexts,
    is_field: bool,
    /// The size that a coefficient has at most.
    largest: [u32; 2],
}

impl<'a> Decisions<'a> {
    pub(super) fn new(data: &'a [u8], header: &Header, sequence: &SequenceSet) -> Self {
        Self {
            coded: Arithmetic::new(data, 0),
            contexts: of::begun(header.contexts, header.quantiser),
            is_field: header.is_field,
            largest: sequence.bit_depth.map(|it| 1 << (7 + it)),
        }
    }

    #[allow(clippy::inline_always, reason = "most of the time is spent here")]
    #[inline(always)]
    fn decide(&mut self, context: usize) -> bool {
        self.coded.decide(&mut self.contexts[context])
    }

    fn bit(&mut self, context: usize) -> u32 {
        u32::from(self.decide(context))
    }

    /// Table 9-36; the contexts lie differently in slices whose macroblocks are all predicted from the
    /// picture itself.
    fn kind_intra(&mut self, from: usize, spread: usize, first: usize) -> u32 {
        if !self.decide(first) {
            return 0;
        }
        if self.coded.ends() {
            return 25;
        }
        let mut kind = 1 + 12 * self.bit(from + 1);
        if self.decide(from + 2) {
            kind += 4 + 4 * self.bit(from + 2 + spread);
        }
        kind += 2 * self.bit(from + 3 + spread);
        kind + self.bit(from + 3 + 2 * spread)
    }

    fn kind_both(&mut self, near: &Near<'_>) -> u32 {
        let from = of::KIND_BOTH;
        if !self.decide(from + usize::min(near_sum(near.ask(|it| !it.is_direct)), 2)) {
            return 0;
        }
        if !self.decide(from + 3) {
            return 1 + self.bit(from + 5);
        }
        let mut bits = self.bit(from + 4);
        for _ in 0..3 {
            bits = bits << 1 | self.bit(from + 5);
        }
        match bits {
            0..8 => bits + 3,
            13 => 23 + self.kind_intra(of::KIND_BOTH_INTRA, 0, of::KIND_BOTH_INTRA),
            14 => 11,
            15 => 22,
            _ => (bits << 1 | self.bit(from + 5)) - 4,
        }
    }

    /// Reads a number in Exp-Golomb code of some order.
    fn golomb(&mut self, order: u32) -> Option<u32> {
        let (mut number, mut bits) = (0, order);
        while self.coded.bypass() {
            number += 1 << bits;
            bits += 1;
            if bits > MOST_BITS {
                return None;
            }
        }
        Some(number + self.coded.bypass_number(bits))
    }

    /// Clause 7.3.5.3.3, from the places of coefficients on.
    fn coefficients(&mut self, block: Block) -> Option<u8> {
        let contexts = &OF_BLOCK[block.what as usize];
        let field = usize::from(self.is_field);
        let (significant, last) = (contexts.significant[field], contexts.last[field]);
        let count = match block.what {
            What::Large => {
                self.count(LARGE_SIGNIFICANT[field].iter().zip(&LARGE_LAST), (significant, last))
            }
            What::ChromaSum => {
                let shared = if block.most == 4 { &SAME[..3] } else { &SHARED_BY_TWO };
                self.count(shared.iter().zip(shared), (significant, last))
            }
            _ => {
                let places = &SAME[..block.most - 1];
                self.count(places.iter().zip(places), (significant, last))
            }
        };
        let most_above = if block.what == What::ChromaSum { 3 } else { 4 };
        let largest = self.largest[usize::from(block.plane > 0)];
        self.levels(count, (contexts.level, most_above), largest)?;
        Some(count)
    }

    /// Counts coefficients, whose places have these contexts: whether one is there, whether it is the
    /// last.
    #[allow(clippy::inline_always, reason = "most of the time is spent here")]
    #[inline(always)]
    fn count<'b>(
        &mut self,
        places: impl Iterator<Item = (&'b u8, &'b u8)>,
        (significant, last): (usize, usize),
    ) -> u8 {
        let mut count = 0;
        for (&own, &own_last) in places {
            if self.decide(significant + usize::from(own)) {
                count += 1;
                if self.decide(last + usize::from(own_last)) {
                    return count;
                }
            }
        }
        // Where none was the last, that one is there.
        count + 1
    }

    /// Reads the sizes of coefficients; nothing where one is too large.
    fn levels(
        &mut self,
        count: u8,
        (from, most_above): (usize, usize),
        largest: u32,
    ) -> Option<()> {
        let (mut ones, mut above) = (0, 0);
        for _ in 0..count {
            let first = if above > 0 { 0 } else { (1 + ones).min(4) };
            if self.decide(from + first) {
                let context = from + 5 + above.min(most_above);
                let mut size = 2;
                while size < 15 && self.decide(context) {
                    size += 1;
                }
                if size == 15 {
                    size += self.golomb(0)?;
                }
                if size > largest {
                    return None;
                }
                above += 1;
            } else {
                ones += 1;
            }
            self.coded.bypass();
        }
        Some(())
    }
}

/// Contexts by place where each has its own, and where two share one.
const SAME: [u8; 15] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14];
const SHARED_BY_TWO: [u8; 7] = [0, 0, 1, 1, 2, 2, 2];

/// Adds up two bits.
fn near_sum(bits: usize) -> usize {
    (bits & 1) + (bits >> 1)
}

impl Code for Decisions<'_> {
    const WHOLE: bool = true;

    fn is_skipped(&mut self, near: &Near<'_>, slice: Kind) -> Option<bool> {
        let from = if slice == Kind::Both { of::SKIP_BOTH } else { of::SKIP_ONE };
        Some(self.decide(from + near_sum(near.ask(|it| !it.is_skipped))))
    }

    fn ends(&mut self) -> bool {
        self.coded.ends() || self.coded.is_beyond()
    }

    fn ends_well(&self) -> bool {
        // Zeros may follow as words that a three was taken out of (clause 7.3.2.10).
        !self.coded.is_beyond()
            && self.coded.ends_well_but_for_one_bit()
            && self.coded.is_zero_behind()
    }

    fn kind(&mut self, near: &Near<'_>, slice: Kind) -> Option<u32> {
        Some(match slice {
            Kind::Intra => {
                let first = of::KIND_INTRA + near_sum(near.ask(|it| !it.is_small));
                self.kind_intra(of::KIND_INTRA + 2, 1, first)
            }
            Kind::One if self.decide(of::KIND_ONE) => {
                5 + self.kind_intra(of::KIND_ONE_INTRA, 0, of::KIND_ONE_INTRA)
            }
            Kind::One if self.decide(of::KIND_ONE + 1) => 2 - self.bit(of::KIND_ONE + 3),
            Kind::One => 3 * self.bit(of::KIND_ONE + 2),
            Kind::Both => self.kind_both(near),
        })
    }

    fn quarter(&mut self, slice: Kind) -> Option<u32> {
        if slice == Kind::One {
            let from = of::QUARTER_ONE;
            return Some(match () {
                () if self.decide(from) => 0,
                () if !self.decide(from + 1) => 1,
                () => 3 - self.bit(from + 2),
            });
        }
        let from = of::QUARTER_BOTH;
        if !self.decide(from) {
            return Some(0);
        }
        if !self.decide(from + 1) {
            return Some(1 + self.bit(from + 3));
        }
        let mut kind = 3;
        if self.decide(from + 2) {
            if self.decide(from + 3) {
                return Some(11 + self.bit(from + 3));
            }
            kind += 4;
        }
        kind += 2 * self.bit(from + 3);
        Some(kind + self.bit(from + 3))
    }

    fn has_large_transform(&mut self, near: &Near<'_>) -> Option<bool> {
        let context = near_sum(near.ask(|it| it.has_large_transform));
        Some(self.decide(of::LARGE_TRANSFORM + context))
    }

    fn mode(&mut self) -> Option<()> {
        if !self.decide(of::LIKELY_MODE) {
            for _ in 0..3 {
                self.decide(of::MODE);
            }
        }
        Some(())
    }

    fn chroma_mode(&mut self, near: &Near<'_>) -> Option<u8> {
        let from = of::CHROMA_MODE;
        if !self.decide(from + near_sum(near.ask(|it| it.chroma_mode > 0))) {
            return Some(0);
        }
        let mut mode = 1;
        while mode < 3 && self.decide(from + 3) {
            mode += 1;
        }
        Some(mode)
    }

    fn coded(&mut self, near: &Near<'_>, _: bool, is_colour: bool) -> Option<u8> {
        let mut coded = 0_u8;
        for quarter in 0..4 {
            let lacks = |coded: u8, quarter: usize| coded >> quarter & 1 == 0;
            let own = |quarter| lacks(coded, quarter);
            let asked = near.ask_quarters(quarter, own, |it, quarter| lacks(it.coded, quarter));
            coded |= u8::from(self.decide(of::CODED_LUMA + asked)) << quarter;
        }
        if is_colour && self.decide(of::CODED_CHROMA + near.ask(|it| it.coded >> 4 > 0)) {
            let context = of::CODED_CHROMA + 4 + near.ask(|it| it.coded >> 4 == 2);
            coded |= if self.decide(context) { 0x20 } else { 0x10 };
        }
        Some(coded)
    }

    fn quantiser(&mut self, changed_before: bool) -> Option<i32> {
        let mut number = 0;
        let mut context = usize::from(changed_before);
        while self.decide(of::QUANTISER + context) {
            context = 2 + usize::from(context > 1);
            number += 1;
            if number > 255 {
                return None;
            }
        }
        Some(if number % 2 == 1 { (number + 1) / 2 } else { -(number / 2) })
    }

    fn reference(
        &mut self,
        near: &Near<'_>,
        (list, quarter): (usize, usize),
        count: u32,
    ) -> Option<u32> {
        let own = |quarter: usize| near.own.refers[list][quarter];
        let mut context = near.ask_quarters(quarter, own, |it, quarter| it.refers[list][quarter]);
        let mut which = 0;
        while self.decide(of::REFERENCE + context) {
            which += 1;
            context = 4 + usize::from(context > 3);
            if which >= count {
                return None;
            }
        }
        Some(which)
    }

    fn motion(
        &mut self,
        near: &Near<'_>,
        (list, block): (usize, usize),
        axis: usize,
    ) -> Option<u32> {
        let from = of::MOTION[axis];
        let first = match near.motion(list, block, axis) {
            0..3 => 0,
            3..=32 => 1,
            _ => 2,
        };
        if !self.decide(from + first) {
            return Some(0);
        }
        let mut size = 1;
        while size < 9 && self.decide(from + 2 + usize::min(size, 4)) {
            size += 1;
        }
        let mut size = size as u32;
        if size == 9 {
            size += self.golomb(3)?;
        }
        self.coded.bypass();
        Some(size)
    }

    fn plain(&mut self, bits: u32) -> Option<()> {
        self.coded.go_on_behind(bits.div_ceil(8) as usize);
        Some(())
    }

    fn block(&mut self, near: &Near<'_>, block: Block, is_intra: bool) -> Option<u8> {
        let asked = match block.what {
            What::Large => return self.coefficients(block),
            What::Sum | What::ChromaSum => near.sums(block.plane),
            _ => near.counts(block.plane, block.place).map(|count| count.map(|count| count > 0)),
        };
        // What is not there counts as coded where the picture predicts itself.
        let [left, above] = asked.map(|has| usize::from(has.unwrap_or(is_intra)));
        let has_any = OF_BLOCK[block.what as usize].has_any;
        if !self.decide(has_any + left + 2 * above) {
            return Some(0);
        }
        self.coefficients(block)
    }
}
