//! What is drawn at random for made-up clips, and where their coded units lie.

use proptest::{
    prelude::Rng as _,
    test_runner::{RngAlgorithm, TestRng},
};

/// Numbers that come out the same for the same seed.
pub(crate) struct Drawn(TestRng);

impl Drawn {
    pub(crate) fn new(seed: u64) -> Self {
        let mut bytes = [0; 32];
        bytes[..8].copy_from_slice(&seed.to_le_bytes());
        Self(TestRng::from_seed(RngAlgorithm::ChaCha, &bytes))
    }

    pub(crate) fn of(&mut self, least: u64, most: u64) -> u64 {
        least + self.0.next_u64() % (most - least + 1)
    }
}

/// Units of a sample in MP4 lie behind their lengths in four bytes.
pub(crate) fn units(bytes: &[u8]) -> Vec<std::ops::Range<usize>> {
    let mut at = bytes.windows(4).position(|name| name == b"mdat").expect("samples") + 4;
    let mut found = Vec::new();
    while let Some(length) = bytes.get(at..at + 4) {
        let length = u32::from_be_bytes(length.try_into().expect("four bytes")) as usize;
        // The next box begins where the samples end.
        if length < 2 || at + 4 + length > bytes.len() || &bytes[at + 4..at + 8] == b"moov" {
            break;
        }
        found.push(at + 4..at + 4 + length);
        at += 4 + length;
    }
    found
}
