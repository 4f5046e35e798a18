use super::decoder::DEFAULT_BUDGET;

/// What a reader may use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Means {
    /// Bytes of pictures that are kept, about.
    pub budget: usize,
    /// Whether a second decoder works ahead.
    pub ahead: Ahead,
}

/// Whether a second decoder fetches what will be wished for next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ahead {
    /// It does, where pictures are not too large for two decoders.
    Fetch,
    /// It does not.
    Wait,
}

impl Default for Means {
    fn default() -> Self {
        Self { budget: DEFAULT_BUDGET, ahead: Ahead::Fetch }
    }
}
