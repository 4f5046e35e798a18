use crate::footage::apart::wish::SECONDS;

/// What a process may have.
#[derive(Clone, Copy, Debug)]
pub(in crate::footage::apart) struct Bounds {
    /// Address space in bytes; the program itself takes a tenth of a gigabyte.
    pub memory: u64,
    /// Seconds of processor time, until whoever asks allows more.
    pub seconds: u64,
    /// Seconds of processor time in its whole life.
    pub in_all: u64,
}

impl Bounds {
    /// For one small picture.
    pub(in crate::footage::apart) const ONCE: Self =
        Self { memory: 2 << 30, seconds: SECONDS, in_all: SECONDS };
    /// For a process that stays: several threads decode at once, from the largest pictures on.
    pub(in crate::footage::apart) const STAYING: Self =
        Self { memory: 3 << 30, seconds: THREADS * SECONDS, in_all: 24 * 3600 };
}

/// Most threads that decode at once.
const THREADS: u64 = 4;
