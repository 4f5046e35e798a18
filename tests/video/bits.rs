//! Bits and units of an H.264 stream, written by hand from ITU-T H.264.

/// Bits in the order of clause 7.2.
#[derive(Default)]
pub(crate) struct Bits {
    bytes: Vec<u8>,
    /// Bits of the last byte that are not used yet.
    free: u32,
}

impl Bits {
    pub(crate) fn put(&mut self, value: u32, count: u32) -> &mut Self {
        for bit in (0..count).rev() {
            if self.free == 0 {
                self.bytes.push(0);
                self.free = 8;
            }
            self.free -= 1;
            *self.bytes.last_mut().expect("a byte") |= ((value >> bit & 1) as u8) << self.free;
        }
        self
    }

    /// Unsigned Exp-Golomb code, clause 9.1.
    pub(crate) fn golomb(&mut self, value: u32) -> &mut Self {
        let length = 32 - (value + 1).leading_zeros();
        self.put(0, length - 1).put(value + 1, length)
    }

    /// Whole bytes after zeros up to the next byte.
    pub(crate) fn whole(&mut self, bytes: impl IntoIterator<Item = u8>) -> &mut Self {
        self.free = 0;
        self.bytes.extend(bytes);
        self
    }

    /// Closes with a stop bit and wraps as a unit with start code, clauses 7.3.1 and B.1.1.
    pub(crate) fn unit(&mut self, header: u8) -> Vec<u8> {
        self.put(1, 1);
        let mut unit = vec![0, 0, 0, 1, header];
        let mut zeros = 0;
        for &byte in &self.bytes {
            if zeros == 2 && byte <= 3 {
                unit.push(3);
                zeros = 0;
            }
            unit.push(byte);
            zeros = if byte == 0 { zeros + 1 } else { 0 };
        }
        unit
    }
}
