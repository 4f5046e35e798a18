//! Bits that are not coded arithmetically, from the highest of the first byte on.

/// A place in bytes, counted in bits.
pub(super) struct Bits<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Bits<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 0 }
    }

    /// Returns how many bits were passed.
    pub(super) fn passed(&self) -> usize {
        self.at
    }

    /// Returns the next 32 bits, zeros behind the last.
    pub(super) fn ahead(&self) -> u32 {
        let from = self.at / 8;
        let eight = match self.bytes.get(from..).and_then(|rest| rest.first_chunk::<8>()) {
            Some(eight) => *eight,
            None => std::array::from_fn(|k| self.bytes.get(from + k).copied().unwrap_or_default()),
        };
        (u64::from_be_bytes(eight) << (self.at % 8) >> 32) as u32
    }

    pub(super) fn flag(&mut self) -> Option<bool> {
        let byte = *self.bytes.get(self.at / 8)?;
        let bit = byte >> (7 - self.at % 8) & 1 == 1;
        self.at += 1;
        Some(bit)
    }

    /// Returns a number of at most 32 bits.
    pub(super) fn number(&mut self, bits: u32) -> Option<u32> {
        let number = self.ahead().checked_shr(u32::BITS - bits).unwrap_or_default();
        self.skip(bits as usize)?;
        Some(number)
    }

    pub(super) fn skip(&mut self, bits: usize) -> Option<()> {
        self.at = self.at.checked_add(bits)?;
        (self.at <= 8 * self.bytes.len()).then_some(())
    }

    /// Returns a number in Exp-Golomb code (ITU-T H.264, 9.1; H.265, 9.2); nothing of one beyond 2^25,
    /// with which nothing that is read here could reckon.
    pub(super) fn golomb(&mut self) -> Option<u32> {
        let zeros = self.ahead().leading_zeros();
        if zeros > 24 {
            return None;
        }
        self.skip(zeros as usize + 1)?;
        Some((1 << zeros) - 1 + self.number(zeros)?)
    }

    /// Returns a number in Exp-Golomb code that may be below nothing.
    pub(super) fn signed_golomb(&mut self) -> Option<i32> {
        let code = i64::from(self.golomb()?);
        let size = ((code + 1) / 2) as i32;
        Some(if code % 2 == 1 { size } else { -size })
    }

    /// Returns the bytes behind a one and zeros up to the next byte (H.265, 7.3.2.12).
    pub(super) fn rest(&mut self) -> Option<&'a [u8]> {
        if !self.flag()? {
            return None;
        }
        self.rest_behind(false)
    }

    /// Returns the bytes from the next one on, up to which all bits are alike.
    pub(super) fn rest_behind(&mut self, all: bool) -> Option<&'a [u8]> {
        while !self.at.is_multiple_of(8) {
            if self.flag()? != all {
                return None;
            }
        }
        self.bytes.get(self.at / 8..)
    }

    /// Returns where the last one lies, which ends what a unit holds (H.264 and H.265, 7.3.2.11).
    pub(super) fn last_one(&self) -> Option<usize> {
        let last = self.bytes.iter().rposition(|&byte| byte != 0)?;
        Some(8 * last + 7 - self.bytes[last].trailing_zeros() as usize)
    }
}

/// Returns a unit without the threes that keep start codes out of it (H.264 and H.265, 7.3.1.1), and
/// without the zeros that may stand behind it.
pub(super) fn unescaped(unit: &[u8]) -> Vec<u8> {
    let end = unit.iter().rposition(|&byte| byte != 0).map_or(0, |last| last + 1);
    // The header of a unit stays, whatever it is.
    let unit = &unit[..end.max(2).min(unit.len())];
    let mut bytes = Vec::with_capacity(unit.len());
    let mut zeros = 0;
    for &byte in unit {
        if zeros >= 2 && byte == 3 {
            zeros = 0;
            continue;
        }
        zeros = if byte == 0 { zeros + 1 } else { 0 };
        bytes.push(byte);
    }
    bytes
}
