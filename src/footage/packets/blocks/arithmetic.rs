//! Decisions out of arithmetically coded bytes, in the same way in both (ITU-T H.264, 9.3.3.2; H.265,
//! 9.3.4.3).

/// A decision's likely value and how likely that is, as `state << 1 | value`.
pub(super) type Context = u8;

/// The decoder as the standard has it, with bits taken in by the four bytes: what lies above the lowest
/// `ahead` bits of `value` is the standard's offset.
#[derive(Clone, Debug)]
pub(super) struct Arithmetic<'a> {
    bytes: &'a [u8],
    /// Bytes taken in.
    taken: usize,
    range: u32,
    value: u64,
    ahead: u32,
}

/// Bits that are shifted by at once, at most.
const MOST_SHIFT: u32 = 8;

impl<'a> Arithmetic<'a> {
    pub(super) fn new(bytes: &'a [u8], from: usize) -> Self {
        let mut begun = Self { bytes, taken: from, range: 510, value: 0, ahead: 0 };
        begun.take();
        // Nine bits are the offset.
        begun.ahead -= 9;
        begun
    }

    fn take(&mut self) {
        let rest = self.bytes.get(self.taken..).unwrap_or_default();
        let four = match rest.first_chunk::<4>() {
            Some(four) => *four,
            None => std::array::from_fn(|k| rest.get(k).copied().unwrap_or_default()),
        };
        self.value = self.value << 32 | u64::from(u32::from_be_bytes(four));
        self.ahead += 32;
        self.taken += 4;
    }

    #[allow(clippy::inline_always, reason = "most of the time is spent here")]
    #[inline(always)]
    fn shift(&mut self, by: u32) {
        self.ahead -= by;
        if self.ahead < MOST_SHIFT {
            self.take();
        }
    }

    /// Returns a decision by its context, which learns from it.
    ///
    /// Without branches, because nobody can foresee which way they would go.
    #[allow(clippy::inline_always, reason = "most of the time is spent here")]
    #[inline(always)]
    pub(super) fn decide(&mut self, context: &mut Context) -> bool {
        let known = usize::from(*context & 127);
        let least = u32::from(LEAST[known >> 1][(self.range >> 6 & 3) as usize]);
        let likely = self.range - least;
        let scaled = u64::from(likely) << self.ahead;
        let is_unlikely = self.value >= scaled;
        let mask = 0_u64.wrapping_sub(is_unlikely.into());
        self.value -= scaled & mask;
        let range = likely ^ ((likely ^ least) & mask as u32);
        let by = range.leading_zeros() - 23;
        self.range = range << by;
        *context = NEXT[known | (mask as usize & 128)];
        self.shift(by);
        (known & 1 == 1) != is_unlikely
    }

    /// Returns a decision whose values are equally likely.
    pub(super) fn bypass(&mut self) -> bool {
        self.shift(1);
        let scaled = u64::from(self.range) << self.ahead;
        let is_one = self.value >= scaled;
        self.value -= scaled & 0_u64.wrapping_sub(is_one.into());
        is_one
    }

    pub(super) fn bypass_number(&mut self, bits: u32) -> u32 {
        (0..bits).fold(0, |number, _| number << 1 | u32::from(self.bypass()))
    }

    /// Returns whether something ends here.
    pub(super) fn ends(&mut self) -> bool {
        self.range -= 2;
        if self.value >= u64::from(self.range) << self.ahead {
            return true;
        }
        let by = self.range.leading_zeros() - 23;
        self.range <<= by;
        self.shift(by);
        false
    }

    /// Returns how many bits were read: nine, and one for each that was shifted by. Where something
    /// ended, the last of them is the one that says so (H.265, 9.3.2.5).
    fn read(&self) -> usize {
        8 * self.taken - self.ahead as usize
    }

    /// Returns, once something has ended, where the next byte begins.
    pub(super) fn end(&self) -> usize {
        self.read().div_ceil(8)
    }

    /// Returns whether what ended did so with a one and zeros.
    pub(super) fn ends_well(&self) -> bool {
        let (tail, one) = self.tail();
        tail == one
    }

    /// Likewise, whatever the last bit of the byte is: libx264 sets it in every second picture or so.
    pub(super) fn ends_well_but_for_one_bit(&self) -> bool {
        let (tail, one) = self.tail();
        tail & one == one && tail | 1 == one | 1
    }

    /// Returns what a byte has from the last bit that was read on, and that bit.
    fn tail(&self) -> (u8, u8) {
        let last = self.read() - 1;
        let byte = self.bytes.get(last / 8).copied().unwrap_or_default();
        (byte & 0xff >> (last % 8), 0x80 >> (last % 8))
    }

    /// Returns whether nothing but zeros stands behind what ended.
    pub(super) fn is_zero_behind(&self) -> bool {
        self.bytes.get(self.end()..).is_some_and(|rest| rest.iter().all(|&byte| byte == 0))
    }

    /// Begins anew behind so many bytes after what has ended.
    pub(super) fn go_on_behind(&mut self, bytes: usize) {
        *self = Self::new(self.bytes, self.end().saturating_add(bytes));
    }

    /// Returns whether more was read than there is.
    pub(super) fn is_beyond(&self) -> bool {
        self.read() > 8 * self.bytes.len()
    }
}

/// The least range by state and by bits 6 and 7 of the range (H.265, table 9-52).
const LEAST: [[u8; 4]; 64] = [
    [128, 176, 208, 240],
    [128, 167, 197, 227],
    [128, 158, 187, 216],
    [123, 150, 178, 205],
    [116, 142, 169, 195],
    [111, 135, 160, 185],
    [105, 128, 152, 175],
    [100, 122, 144, 166],
    [95, 116, 137, 158],
    [90, 110, 130, 150],
    [85, 104, 123, 142],
    [81, 99, 117, 135],
    [77, 94, 111, 128],
    [73, 89, 105, 122],
    [69, 85, 100, 116],
    [66, 80, 95, 110],
    [62, 76, 90, 104],
    [59, 72, 86, 99],
    [56, 69, 81, 94],
    [53, 65, 77, 89],
    [51, 62, 73, 85],
    [48, 59, 69, 80],
    [46, 56, 66, 76],
    [43, 53, 63, 72],
    [41, 50, 59, 69],
    [39, 48, 56, 65],
    [37, 45, 54, 62],
    [35, 43, 51, 59],
    [33, 41, 48, 56],
    [32, 39, 46, 53],
    [30, 37, 43, 50],
    [29, 35, 41, 48],
    [27, 33, 39, 45],
    [26, 31, 37, 43],
    [24, 30, 35, 41],
    [23, 28, 33, 39],
    [22, 27, 32, 37],
    [21, 26, 30, 35],
    [20, 24, 29, 33],
    [19, 23, 27, 31],
    [18, 22, 26, 30],
    [17, 21, 25, 28],
    [16, 20, 23, 27],
    [15, 19, 22, 25],
    [14, 18, 21, 24],
    [14, 17, 20, 23],
    [13, 16, 19, 22],
    [12, 15, 18, 21],
    [12, 14, 17, 20],
    [11, 14, 16, 19],
    [11, 13, 15, 18],
    [10, 12, 15, 17],
    [10, 12, 14, 16],
    [9, 11, 13, 15],
    [9, 11, 12, 14],
    [8, 10, 12, 14],
    [8, 9, 11, 13],
    [7, 9, 11, 12],
    [7, 9, 10, 12],
    [7, 8, 10, 11],
    [6, 8, 9, 11],
    [6, 7, 9, 10],
    [6, 7, 8, 9],
    [2, 2, 2, 2],
];

/// The context behind a likely value, and 128 places later behind the other one (H.265, table 9-53).
const NEXT: [Context; 256] = {
    let mut next = [0; 256];
    let mut context = 0;
    while context < 128 {
        let state = context >> 1;
        let likely = (context & 1) as u8;
        let more = if state >= 62 { state as u8 } else { state as u8 + 1 };
        next[context] = more << 1 | likely;
        let flipped = if state == 0 { 1 - likely } else { likely };
        next[context + 128] = NEXT_UNLIKELY[state] << 1 | flipped;
        context += 1;
    }
    next
};
const NEXT_UNLIKELY: [u8; 64] = [
    0, 0, 1, 2, 2, 4, 4, 5, 6, 7, 8, 9, 9, 11, 11, 12, 13, 13, 15, 15, 16, 16, 18, 18, 19, 19, 21,
    21, 22, 22, 23, 24, 24, 25, 26, 26, 27, 27, 28, 29, 29, 30, 30, 30, 31, 32, 32, 33, 33, 33, 34,
    34, 35, 35, 35, 36, 36, 36, 37, 37, 37, 38, 38, 63,
];
