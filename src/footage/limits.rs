use super::libav::Limits;

/// What a file may cost. More than any camera writes: pictures of 8192 × 8192 pixels, 128 MiB for
/// one of them, a day at 60 frames a second.
pub(crate) const LIMITS: Limits =
    Limits { pixels: 1 << 26, streams: 64, packet: 1 << 27, packets: 5_500_000, probe: 1 << 26 };

/// Most pixels of a picture each way, as many as every graphics card takes.
pub(crate) const LARGEST_SIDE: u32 = 8192;
