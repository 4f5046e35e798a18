//! Changes to the parameter sets of H.264 in MP4 that no program makes (ITU-T H.264, 7.3.2.1.1, E.1.1).

/// Reads bits in their order.
struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Reader<'_> {
    fn bits(&mut self, count: u32) -> u32 {
        (0..count).fold(0, |value, _| {
            let bit = self.bytes[self.at / 8] >> (7 - self.at % 8) & 1;
            self.at += 1;
            value << 1 | u32::from(bit)
        })
    }

    fn flag(&mut self) -> bool {
        self.bits(1) == 1
    }

    /// An Exp-Golomb code of either kind (9.1).
    fn golomb(&mut self) -> u32 {
        let mut zeros = 0;
        while !self.flag() {
            zeros += 1;
        }
        (1 << zeros) - 1 + self.bits(zeros)
    }

    fn golombs(&mut self, count: usize) {
        for _ in 0..count {
            self.golomb();
        }
    }
}

/// Takes away what the first sequence parameter set of a file says of how far its order of decoding
/// differs from that of showing (`bitstream_restriction_flag`, the last that stands there).
pub(crate) fn forget_order(file: &mut [u8]) {
    // Behind the name of the box version, profile, levels, sizes and count in six bytes, then the
    // length (ISO/IEC 14496-15, 5.3.3.1).
    let name = file.windows(4).position(|name| name == b"avcC").expect("a configuration");
    let length = usize::from(u16::from_be_bytes([file[name + 10], file[name + 11]]));
    let unit = &mut file[name + 12..name + 12 + length];
    let plain = without_guards(unit);
    let place = place_of_restriction(&plain);
    // The flag becomes none, the bit that closes the unit follows.
    let mut bits = plain[..=(place + 1) / 8].to_vec();
    let mut put = |at: usize, bit: u8| {
        let mask = 1 << (7 - at % 8);
        bits[at / 8] = bits[at / 8] & !mask | if bit == 1 { mask } else { 0 };
    };
    put(place, 0);
    put(place + 1, 1);
    (place + 2..(place + 1) / 8 * 8 + 8).for_each(|at| put(at, 0));
    let guarded = with_guards(&bits);
    // Zeros behind the end of a unit belong to nothing.
    unit.fill(0);
    unit[..guarded.len()].copy_from_slice(&guarded);
}

fn place_of_restriction(set: &[u8]) -> usize {
    let mut from = Reader { bytes: set, at: 8 };
    let profile = from.bits(8);
    from.bits(16);
    from.golomb();
    if profile >= 100 {
        from.golombs(3);
        from.bits(1);
        assert!(!from.flag(), "scaling lists are not read here");
    }
    from.golomb();
    if from.golomb() == 0 {
        from.golomb();
    }
    from.golomb();
    from.bits(1);
    from.golombs(2);
    if !from.flag() {
        from.bits(1);
    }
    from.bits(1);
    if from.flag() {
        from.golombs(4);
    }
    assert!(from.flag(), "it says how it is to be used");
    if from.flag() && from.bits(8) == 255 {
        from.bits(32);
    }
    if from.flag() {
        from.bits(1);
    }
    if from.flag() {
        from.bits(4);
        if from.flag() {
            from.bits(24);
        }
    }
    if from.flag() {
        from.golombs(2);
    }
    if from.flag() {
        from.bits(32);
        from.bits(32);
        from.bits(1);
    }
    assert!(!from.flag() && !from.flag(), "no model of a buffer is read here");
    from.bits(1);
    let place = from.at;
    assert!(from.flag(), "it declares its order");
    place
}

/// Every third byte of a unit that guards two zeros before it goes (7.4.1).
fn without_guards(unit: &[u8]) -> Vec<u8> {
    let mut plain: Vec<u8> = Vec::new();
    let mut zeros = 0;
    for &byte in unit {
        if zeros == 2 && byte == 3 {
            zeros = 0;
            continue;
        }
        zeros = if byte == 0 { zeros + 1 } else { 0 };
        plain.push(byte);
    }
    plain
}

fn with_guards(plain: &[u8]) -> Vec<u8> {
    let mut unit = Vec::new();
    let mut zeros = 0;
    for &byte in plain {
        if zeros == 2 && byte <= 3 {
            unit.push(3);
            zeros = 0;
        }
        unit.push(byte);
        zeros = if byte == 0 { zeros + 1 } else { 0 };
    }
    unit
}
