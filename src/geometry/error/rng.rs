//! Random numbers that come out the same everywhere.

/// Random numbers that are the same on every machine and in every run: SplitMix64 (Steele, Lea
/// and Flood 2014), normal by the polar method of Marsaglia.
#[derive(Clone, Debug)]
pub struct Rng {
    state: u64,
    spare: Option<f64>,
}

impl Rng {
    /// Begins a row of numbers.
    pub const fn new(seed: u64) -> Self {
        Self { state: seed, spare: None }
    }

    /// Returns a number from 0 to below 1, each as likely.
    pub fn uniform(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Returns a number from `low` to below `high`, each as likely.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// Returns a number of the standard normal distribution.
    pub fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let [x, y] = [self.between(-1.0, 1.0), self.between(-1.0, 1.0)];
            let square = x * x + y * y;
            if square > 0.0 && square < 1.0 {
                let size = (-2.0 * square.ln() / square).sqrt();
                self.spare = Some(y * size);
                return x * size;
            }
        }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.state ^ (self.state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
}
