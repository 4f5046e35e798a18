//! Random numbers that are the same on every computer.

/// A generator of 64 bits a step (SplitMix64).
pub(super) struct Chance(pub u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below `end`.
    pub(super) fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }

    /// Whether something that happens so many times in a hundred does.
    pub(super) fn is(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }

    pub(super) fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.below(from.len())]
    }

    /// One to `most` different ones, in their order.
    pub(super) fn some<T: Copy + PartialEq>(&mut self, from: &[T], most: usize) -> Vec<T> {
        let count = 1 + self.below(most);
        let chosen: Vec<T> = (0..count).map(|_| self.pick(from)).collect();
        from.iter().copied().filter(|one| chosen.contains(one)).collect()
    }
}
