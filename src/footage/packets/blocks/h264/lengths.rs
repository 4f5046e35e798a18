//! Parts of macroblocks in codes of varying length (clauses 9.1 and 9.2).

use super::{
    super::bits::Bits,
    code::{Block, Code, What},
    code_values::{self, COUNTS, COUNTS_OF_4, COUNTS_OF_8, RUNS, ZEROS, ZEROS_OF_4, ZEROS_OF_8},
    header::Kind,
    near::Near,
    sets::SequenceSet,
};

/// Which quarters have coefficients, and what chroma has, by number: predicted from the picture itself,
/// and from others (table 9-4).
const CODED: [[u8; 48]; 2] = [
    [
        47, 31, 15, 0, 23, 27, 29, 30, 7, 11, 13, 14, 39, 43, 45, 46, 16, 3, 5, 10, 12, 19, 21, 26,
        28, 35, 37, 42, 44, 1, 2, 4, 8, 17, 18, 20, 24, 6, 9, 22, 25, 32, 33, 34, 36, 40, 38, 41,
    ],
    [
        0, 16, 1, 2, 4, 8, 32, 3, 5, 10, 12, 15, 47, 7, 11, 13, 14, 6, 9, 31, 35, 37, 42, 44, 33,
        34, 36, 40, 39, 43, 45, 46, 17, 18, 20, 24, 19, 21, 26, 28, 23, 27, 29, 30, 22, 25, 38, 41,
    ],
];
/// Likewise without chroma.
const CODED_GREY: [[u8; 16]; 2] = [
    [15, 0, 7, 11, 13, 14, 3, 5, 10, 12, 1, 2, 4, 8, 6, 9],
    [0, 1, 2, 4, 8, 3, 5, 10, 12, 15, 7, 11, 13, 14, 6, 9],
];

/// Codes by what they begin with: how many zeros, and the three bits behind the one that follows those.
/// No code here is longer. Each is a length and what it stands for.
type Codes = [(u8, u8); 128];

const fn codes<const N: usize>(from: &[code_values::Code; N]) -> Codes {
    let mut codes = [(0, 0); 128];
    let mut symbol = 0;
    while symbol < N {
        let (length, bits) = from[symbol];
        if length > 0 {
            let own = u8::BITS - bits.leading_zeros();
            // Nothing but zeros is followed by anything.
            let (mut at, end) = if bits == 0 {
                (8 * length as usize, 128)
            } else {
                let behind = own - 1;
                let row = 8 * (length as u32 - own);
                let first = row + ((bits as u32 & ((1 << behind) - 1)) << (3 - behind));
                (first as usize, (first + (1 << (3 - behind))) as usize)
            };
            while at < end {
                codes[at] = (length, symbol as u8);
                at += 1;
            }
        }
        symbol += 1;
    }
    codes
}

const fn each<const N: usize, const M: usize>(from: &[[code_values::Code; N]; M]) -> [Codes; M] {
    let mut all = [[(0, 0); 128]; M];
    let mut k = 0;
    while k < M {
        all[k] = codes(&from[k]);
        k += 1;
    }
    all
}

static OF_COUNTS: [Codes; 3] = each(&COUNTS);
static OF_COUNTS_OF_4: Codes = codes(&COUNTS_OF_4);
static OF_COUNTS_OF_8: Codes = codes(&COUNTS_OF_8);
static OF_ZEROS: [Codes; 15] = each(&ZEROS);
static OF_ZEROS_OF_4: [Codes; 3] = each(&ZEROS_OF_4);
static OF_ZEROS_OF_8: [Codes; 7] = each(&ZEROS_OF_8);
static OF_RUNS: [Codes; 7] = each(&RUNS);

/// Reads what stands behind a slice's header.
pub(super) struct Lengths<'a> {
    bits: Bits<'a>,
    /// Where the last one lies.
    end: usize,
    /// Macroblocks that are still to be skipped, where that was said.
    skips: Option<u32>,
    /// The size that a coefficient has at most.
    largest: [u32; 2],
}

impl<'a> Lengths<'a> {
    pub(super) fn new(bits: Bits<'a>, sequence: &SequenceSet) -> Option<Self> {
        let end = bits.last_one()?;
        Some(Self { bits, end, skips: None, largest: sequence.bit_depth.map(|it| 1 << (7 + it)) })
    }

    fn code(&mut self, codes: &Codes) -> Option<u8> {
        let ahead = self.bits.ahead();
        let zeros = ahead.leading_zeros().min(15);
        let at = 8 * zeros + (ahead << zeros << 1 >> 29);
        let (length, symbol) = codes[at as usize];
        self.bits.skip(length.into())?;
        (length > 0).then_some(symbol)
    }

    /// Reads how many coefficients there are, and how many of the last are ones.
    fn counts(&mut self, near: &Near<'_>, block: Block) -> Option<(u8, u8)> {
        let expected = match block.what {
            What::ChromaSum => {
                let codes = if block.most == 4 { &OF_COUNTS_OF_4 } else { &OF_COUNTS_OF_8 };
                let symbol = self.code(codes)?;
                return Some((symbol / 4, symbol % 4));
            }
            _ => near.counts(block.plane, block.place),
        };
        let expected = match expected {
            [Some(left), Some(above)] => (left + above).div_ceil(2),
            [one, other] => one.or(other).unwrap_or_default(),
        };
        let codes = match expected {
            0 | 1 => &OF_COUNTS[0],
            2 | 3 => &OF_COUNTS[1],
            4..=7 => &OF_COUNTS[2],
            _ => {
                let number = self.bits.number(6)? as u8;
                // Six bits: one less than the count, and the ones. What would be none of no
                // coefficient stands for nothing.
                let (count, ones) = if number == 3 { (0, 0) } else { (number / 4 + 1, number % 4) };
                return (ones <= count).then_some((count, ones));
            }
        };
        let symbol = self.code(codes)?;
        Some((symbol / 4, symbol % 4))
    }

    /// Clause 9.2.2.1.
    fn levels(&mut self, (count, ones): (u8, u8), largest: u32) -> Option<()> {
        self.bits.skip(ones.into())?;
        let mut length = u32::from(count > 10 && ones < 3);
        for k in ones..count {
            let prefix = self.bits.ahead().leading_zeros();
            if prefix > 25 {
                return None;
            }
            self.bits.skip(prefix as usize + 1)?;
            let rest = match prefix {
                14 if length == 0 => 4,
                0..=14 => length,
                _ => prefix - 3,
            };
            let mut code = (prefix.min(15) << length) + self.bits.number(rest)?;
            if prefix >= 15 && length == 0 {
                code += 15;
            }
            if prefix >= 16 {
                code += (1 << (prefix - 3)) - 4096;
            }
            if k == ones && ones < 3 {
                code += 2;
            }
            let size = code / 2 + 1;
            if size > largest {
                return None;
            }
            length = length.max(1);
            if size > 3 << (length - 1) && length < 6 {
                length += 1;
            }
        }
        Some(())
    }
}

impl Code for Lengths<'_> {
    const WHOLE: bool = false;

    fn is_skipped(&mut self, _: &Near<'_>, _: Kind) -> Option<bool> {
        let left = match self.skips {
            Some(left) => left,
            None => self.bits.golomb()?,
        };
        self.skips = left.checked_sub(1);
        Some(left > 0)
    }

    fn ends(&mut self) -> bool {
        self.skips.unwrap_or_default() == 0 && self.bits.passed() >= self.end
    }

    fn ends_well(&self) -> bool {
        self.bits.passed() == self.end
    }

    fn kind(&mut self, _: &Near<'_>, _: Kind) -> Option<u32> {
        self.bits.golomb()
    }

    fn quarter(&mut self, _: Kind) -> Option<u32> {
        self.bits.golomb()
    }

    fn has_large_transform(&mut self, _: &Near<'_>) -> Option<bool> {
        self.bits.flag()
    }

    fn mode(&mut self) -> Option<()> {
        if self.bits.flag()? { Some(()) } else { self.bits.skip(3) }
    }

    fn chroma_mode(&mut self, _: &Near<'_>) -> Option<u8> {
        self.bits.golomb().filter(|mode| *mode < 4).map(|mode| mode as u8)
    }

    fn coded(&mut self, _: &Near<'_>, is_intra: bool, is_colour: bool) -> Option<u8> {
        let number = self.bits.golomb()? as usize;
        let which = usize::from(!is_intra);
        let coded =
            if is_colour { CODED[which].get(number) } else { CODED_GREY[which].get(number) };
        coded.copied()
    }

    fn quantiser(&mut self, _: bool) -> Option<i32> {
        self.bits.signed_golomb()
    }

    fn reference(&mut self, _: &Near<'_>, _: (usize, usize), count: u32) -> Option<u32> {
        if count == 2 {
            return Some(u32::from(!self.bits.flag()?));
        }
        self.bits.golomb().filter(|which| *which < count)
    }

    fn motion(&mut self, _: &Near<'_>, _: (usize, usize), _: usize) -> Option<u32> {
        Some(self.bits.signed_golomb()?.unsigned_abs())
    }

    fn plain(&mut self, bits: u32) -> Option<()> {
        self.bits.rest_behind(false)?;
        self.bits.skip(bits as usize)
    }

    fn block(&mut self, near: &Near<'_>, block: Block, _: bool) -> Option<u8> {
        let (count, ones) = self.counts(near, block)?;
        if usize::from(count) > block.most {
            return None;
        }
        if count == 0 {
            return Some(0);
        }
        self.levels((count, ones), self.largest[usize::from(block.plane > 0)])?;
        if usize::from(count) == block.most {
            return Some(count);
        }
        let row = usize::from(count) - 1;
        let codes = match (block.what, block.most) {
            (What::ChromaSum, 4) => &OF_ZEROS_OF_4[row],
            (What::ChromaSum, _) => &OF_ZEROS_OF_8[row],
            _ => &OF_ZEROS[row],
        };
        let mut zeros = self.code(codes)?;
        if usize::from(zeros + count) > block.most {
            return None;
        }
        for _ in 1..count {
            if zeros == 0 {
                break;
            }
            let run = self.code(&OF_RUNS[usize::from(zeros.min(7)) - 1])?;
            zeros = zeros.checked_sub(run)?;
        }
        Some(count)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// That no code begins another is what they are made for (clause 9.2); a wrong number in the tables
    /// would break it.
    #[test]
    fn every_code_is_told_from_all_others() {
        fn check<const N: usize>(from: &[code_values::Code; N]) {
            let codes = codes(from);
            for (symbol, &(length, bits)) in from.iter().enumerate().filter(|(_, code)| code.0 > 0)
            {
                for rest in [0, u32::MAX] {
                    let length = u32::from(length);
                    let word = u32::from(bits) << (32 - length) | rest >> length;
                    let bytes = word.to_be_bytes();
                    let bits = Bits::new(&bytes);
                    let mut read = Lengths { end: 32, skips: None, largest: [0; 2], bits };
                    assert_eq!(read.code(&codes), Some(symbol as u8), "{length}: {word:b}");
                    assert_eq!(read.bits.passed(), length as usize);
                }
            }
        }
        COUNTS.iter().for_each(check);
        check(&COUNTS_OF_4);
        check(&COUNTS_OF_8);
        ZEROS.iter().for_each(check);
        ZEROS_OF_4.iter().for_each(check);
        ZEROS_OF_8.iter().for_each(check);
        RUNS.iter().for_each(check);
    }
}
